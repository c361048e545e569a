// A carrier of the tests' own: takes what it is given, answers as it is told, sends nothing.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "daemon/notices/carrier.hpp"

namespace rindwatch::testing {

// "=?UTF-8?B?...?=" as text (RFC 2047, section 2); what is no such word stays, the folding between words goes.
inline std::string Unwrapped(std::string_view header) {
  static constexpr std::string_view kOpen = "=?UTF-8?B?", kClose = "?=";
  static constexpr std::string_view kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  if (!header.starts_with(kOpen)) return std::string(header);
  std::string text;
  for (std::size_t at = header.find(kOpen); at != header.npos; at = header.find(kOpen, at)) {
    const std::size_t from = at + kOpen.size();
    at = header.find(kClose, from);
    unsigned bits = 0, held = 0;
    for (const char digit : header.substr(from, at - from)) {
      if (digit == '=') break;
      bits = bits << 6 | static_cast<unsigned>(kDigits.find(digit));
      if ((held += 6) < 8) continue;
      held -= 8;
      text += static_cast<char>(bits >> held & 0xFF);
    }
  }
  return text;
}

class Post : public Carrier {
 public:
  Outcome answer{Outcome::Kind::kSent, "took it"};
  bool ready = true;                                  // false: the other side never becomes ready
  bool answers = true;                                // false: what was handed over hangs
  std::map<std::string, Outcome> unlike;              // what else an address answers, at once
  std::vector<Parcel> sent;                           // handed over
  std::vector<std::function<void(Outcome)>> hanging;  // of what was handed over while nobody answered
  int asked = 0;

  void Send(Parcel parcel, std::function<void(Go)> handing, std::function<void(Outcome)> done) override {
    ++asked;
    if (const auto other = unlike.find(parcel.to); other != unlike.end()) return done(other->second);
    if (!ready) return done(answer);
    handing([this, parcel = std::move(parcel), done = std::move(done)] {
      sent.push_back(parcel);
      if (!answers) return hanging.push_back(done);
      done(answer);
    });
  }
  void Stop() override {}

  // The subjects, whatever they are wrapped in.
  std::vector<std::string> Subjects() const {
    std::vector<std::string> subjects;
    for (const Parcel& parcel : sent) {
      const std::size_t from = parcel.message.find("Subject: ") + 9;
      const std::size_t end = parcel.message.find("\r\nMessage-ID", from);
      subjects.push_back(Unwrapped(std::string_view(parcel.message).substr(from, end - from)));
    }
    return subjects;
  }
};

}  // namespace rindwatch::testing
