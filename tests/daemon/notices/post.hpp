// A carrier of the tests' own: takes what it is given, answers as it is told, sends nothing.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "daemon/notices/carrier.hpp"

namespace rindwatch::testing {

class Post : public Carrier {
 public:
  Outcome answer{Outcome::Kind::kSent, "took it"};
  bool ready = true;         // false: the other side never becomes ready
  bool answers = true;       // false: what was handed over hangs
  std::vector<Parcel> sent;  // handed over
  int asked = 0;

  void Send(Parcel parcel, std::function<void(Go)> handing, std::function<void(Outcome)> done) override {
    ++asked;
    if (!ready) return done(answer);
    handing([this, parcel = std::move(parcel), done = std::move(done)] {
      sent.push_back(parcel);
      if (answers) done(answer);
    });
  }
  void Stop() override {}

  // The subjects, whatever they are wrapped in.
  std::vector<std::string> Subjects() const {
    std::vector<std::string> subjects;
    for (const Parcel& parcel : sent) {
      const std::size_t from = parcel.message.find("Subject: ") + 9;
      subjects.push_back(parcel.message.substr(from, parcel.message.find("\r\nMessage-ID", from) - from));
    }
    return subjects;
  }
};

}  // namespace rindwatch::testing
