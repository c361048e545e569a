#include "daemon/notices/curl_errand.hpp"

#include <curl/curl.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <memory>

#include "daemon/words/words.hpp"

namespace rindwatch {

namespace {

// RFC 5321, section 4.5.3.2.6: a server may need ten minutes for its last word, and who does not wait sends twice.
constexpr long kLastWordSeconds = 600;
constexpr long kConnectSeconds = 20;

struct FreeHandle {
  void operator()(CURL* handle) const { curl_easy_cleanup(handle); }
};
struct FreeList {
  void operator()(curl_slist* list) const { curl_slist_free_all(list); }
};
using List = std::unique_ptr<curl_slist, FreeList>;

void Add(List& list, const std::string& text) {
  curl_slist* longer = curl_slist_append(list.get(), text.c_str());
  if (!longer) throw std::bad_alloc();
  static_cast<void>(list.release());
  list.reset(longer);
}

// What is known while it goes on; libcurl's callbacks write here.
struct Going {
  CURL* handle = nullptr;
  std::string_view message;
  const ErrandHooks* hooks = nullptr;
  std::size_t read = 0;
  bool asked = false, may = false, whole = false;
  std::string last_line;  // of what the server said
};

std::size_t Read(char* buffer, std::size_t size, std::size_t count, void* user) noexcept {
  Going& going = *static_cast<Going*>(user);
  if (!going.asked) {
    going.asked = true;
    going.may = going.hooks->may_go();
    // From now on an answer may be late, and may not be done without.
    curl_easy_setopt(going.handle, CURLOPT_SERVER_RESPONSE_TIMEOUT, kLastWordSeconds);
  }
  if (!going.may) return CURL_READFUNC_ABORT;
  const std::size_t length = std::min(size * count, going.message.size() - going.read);
  std::memcpy(buffer, going.message.data() + going.read, length);
  going.read += length;
  if (length == 0) going.whole = true;
  return length;
}

// A request's body is small: it has left as a whole when its last byte was asked for.
std::size_t ReadBody(char* buffer, std::size_t size, std::size_t count, void* user) noexcept {
  Going& going = *static_cast<Going*>(user);
  const std::size_t length = Read(buffer, size, count, user);
  if (going.may && going.read == going.message.size()) going.whole = true;
  return length;
}

std::size_t OnLine(char* text, std::size_t size, std::size_t count, void* user) noexcept {
  try {
    std::string line(text, std::min<std::size_t>(size * count, 200));
    while (!line.empty() && static_cast<unsigned char>(line.back()) <= 0x20) line.pop_back();
    std::ranges::replace_if(
        line, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }, ' ');
    // Of a web server its status line says what it thinks of it, not the headers that follow.
    if (static_cast<Going*>(user)->last_line.starts_with("HTTP/") && !line.starts_with("HTTP/")) return size * count;
    // "221", the farewell (RFC 5321, section 4.2.3), says nothing of why.
    if (!line.empty() && !line.starts_with("221")) static_cast<Going*>(user)->last_line = std::move(line);
  } catch (const std::exception&) {
    // It is only for telling.
  }
  return size * count;
}

// What is answered to a request is nobody's to read.
std::size_t Drop(char*, std::size_t size, std::size_t count, void*) noexcept { return size * count; }

int OnProgress(void* user, curl_off_t, curl_off_t, curl_off_t, curl_off_t) noexcept {
  return static_cast<Going*>(user)->hooks->given_up() ? 1 : 0;
}

std::string HostOf(const std::string& url) {
  std::unique_ptr<CURLU, decltype(&curl_url_cleanup)> parts(curl_url(), curl_url_cleanup);
  char* host = nullptr;
  if (!parts || curl_url_set(parts.get(), CURLUPART_URL, url.c_str(), 0) != CURLUE_OK ||
      curl_url_get(parts.get(), CURLUPART_HOST, &host, 0) != CURLUE_OK)
    return url;
  std::string text = host;
  curl_free(host);
  return text;
}

class Errand {
 public:
  Errand(const Parcel& parcel, const MailServer& mail, const Words& words, const ErrandHooks& hooks)
      : parcel_(parcel), mail_(mail), words_(words), handle_(curl_easy_init()), is_mail_(!parcel.to.empty()) {
    if (!handle_) throw std::bad_alloc();
    going_.handle = handle_.get();
    going_.hooks = &hooks;
    going_.message = is_mail_ ? parcel.message : parcel.body;
  }

  Outcome Run() {
    error_[0] = '\0';
    Set(CURLOPT_ERRORBUFFER, static_cast<char*>(error_));
    Set(CURLOPT_NOSIGNAL, 1L);
    Set(CURLOPT_CONNECTTIMEOUT, kConnectSeconds);
    Set(CURLOPT_NOPROGRESS, 0L);
    Set(CURLOPT_XFERINFOFUNCTION, OnProgress);
    Set(CURLOPT_XFERINFODATA, static_cast<void*>(&going_));
    Set(CURLOPT_HEADERFUNCTION, OnLine);
    Set(CURLOPT_HEADERDATA, static_cast<void*>(&going_));
    Set(CURLOPT_WRITEFUNCTION, Drop);
    Set(CURLOPT_READDATA, static_cast<void*>(&going_));
    if (!parcel_.ca.empty()) Set(CURLOPT_CAINFO, parcel_.ca.c_str());
    if (is_mail_)
      SetMail();
    else
      SetRequest();
    const CURLcode code = curl_easy_perform(handle_.get());
    long response = 0;
    curl_easy_getinfo(handle_.get(), CURLINFO_RESPONSE_CODE, &response);
    return is_mail_ ? OfMail(code, response) : OfRequest(code, response);
  }

 private:
  template <typename Value>
  void Set(CURLoption option, Value value) {
    if (curl_easy_setopt(handle_.get(), option, value) != CURLE_OK)
      throw std::runtime_error("this libcurl lacks what notices need");
  }

  void SetMail() {
    const bool tls = mail_.security == MailServer::Security::kTls;
    const std::string url = fmt::format("{}://{}:{}", tls ? "smtps" : "smtp", mail_.server, mail_.port);
    Set(CURLOPT_URL, url.c_str());
    Set(CURLOPT_PROTOCOLS_STR, "smtp,smtps");
    // Never in clear where TLS is asked for.
    const bool clear = mail_.security == MailServer::Security::kNone;
    Set(CURLOPT_USE_SSL, static_cast<long>(clear ? CURLUSESSL_NONE : CURLUSESSL_ALL));
    if (!mail_.user.empty()) {
      Set(CURLOPT_USERNAME, mail_.user.c_str());
      Set(CURLOPT_PASSWORD, mail_.password.c_str());
    }
    Set(CURLOPT_MAIL_FROM, mail_.from.c_str());
    Add(list_, parcel_.to);
    Set(CURLOPT_MAIL_RCPT, list_.get());
    Set(CURLOPT_UPLOAD, 1L);
    Set(CURLOPT_READFUNCTION, Read);
    Set(CURLOPT_SERVER_RESPONSE_TIMEOUT, static_cast<long>(parcel_.patience.count()));
  }

  void SetRequest() {
    Set(CURLOPT_URL, parcel_.url.c_str());
    Set(CURLOPT_PROTOCOLS_STR, "http,https");
    Set(CURLOPT_TIMEOUT, static_cast<long>(parcel_.patience.count()));
    Set(CURLOPT_USERAGENT, "rindwatch");
    if (parcel_.body.empty()) return;
    for (const std::string& header : parcel_.headers) Add(list_, header);
    Add(list_, "Expect:");  // the body is small: nobody need be asked first
    Set(CURLOPT_HTTPHEADER, list_.get());
    Set(CURLOPT_POST, 1L);
    Set(CURLOPT_POSTFIELDSIZE_LARGE, static_cast<curl_off_t>(parcel_.body.size()));
    Set(CURLOPT_READFUNCTION, ReadBody);
  }

  std::string Say(const std::string& key) const {
    const std::string host = is_mail_ ? fmt::format("{}:{}", mail_.server, mail_.port) : HostOf(parcel_.url);
    return words_.Say(key, {{"host", host}, {"to", parcel_.to}, {"said", going_.last_line}});
  }

  // What both ways have in common, from before anything was handed over.
  Outcome NotNow(CURLcode code) const {
    switch (code) {
      case CURLE_COULDNT_RESOLVE_HOST:
      case CURLE_COULDNT_RESOLVE_PROXY:
        return {Outcome::Kind::kNotNow, Say("outcome.no name")};
      case CURLE_COULDNT_CONNECT:
        return {Outcome::Kind::kNotNow, Say("outcome.no connection")};
      case CURLE_OPERATION_TIMEDOUT:
        return {Outcome::Kind::kNotNow, Say("outcome.no answer")};
      case CURLE_PEER_FAILED_VERIFICATION:
        // What the library found: expired, another name, an issuer that nobody knows.
        return {Outcome::Kind::kNotNow,
                Say("outcome.certificate") + (error_[0] != '\0' ? fmt::format(" ({})", error_) : "")};
      case CURLE_SSL_CACERT_BADFILE:
        return {Outcome::Kind::kNotNow, words_.Say("outcome.ca file", {{"file", parcel_.ca}})};
      case CURLE_USE_SSL_FAILED:
        return {Outcome::Kind::kNotNow, Say("outcome.no tls")};
      case CURLE_SSL_CONNECT_ERROR:
        return {Outcome::Kind::kNotNow, Say(is_mail_ ? "outcome.tls" : "outcome.tls webhook")};
      case CURLE_LOGIN_DENIED:
        return {Outcome::Kind::kNotNow, Say("outcome.login")};
      case CURLE_ABORTED_BY_CALLBACK:
        return {Outcome::Kind::kNotNow, words_.Say("outcome.stopped")};
      default:
        return {Outcome::Kind::kNotNow, Say("outcome.broke") + " (" +
                                            (error_[0] != '\0' ? std::string(error_) : curl_easy_strerror(code)) + ")"};
    }
  }

  Outcome OfMail(CURLcode code, long response) const {
    if (code == CURLE_OK) return {Outcome::Kind::kSent, Say("outcome.mail sent")};
    if (going_.whole) {
      // After the last dot: its answer, or none. 354 is the one before it.
      if (response >= 500) return {Outcome::Kind::kNever, Say("outcome.mail refused")};
      if (response >= 400) return {Outcome::Kind::kNotNow, Say("outcome.mail later")};
      return {Outcome::Kind::kDoubtful, Say("outcome.doubtful")};
    }
    const std::string_view error(error_);
    const bool address = error.find("RCPT failed") != std::string_view::npos;
    if (address && response >= 500) return {Outcome::Kind::kNever, Say("outcome.no address")};
    if (code == CURLE_SEND_ERROR && response >= 400) return {Outcome::Kind::kNotNow, Say("outcome.mail later")};
    if (code == CURLE_WEIRD_SERVER_REPLY && response >= 400) return {Outcome::Kind::kNotNow, Say("outcome.mail later")};
    return NotNow(code);
  }

  Outcome OfRequest(CURLcode code, long response) const {
    // Whoever got it knows its id, so asking again does no harm.
    if (code != CURLE_OK) return NotNow(code);
    if (response >= 200 && response < 300) return {Outcome::Kind::kSent, Say("outcome.request sent")};
    const bool later = response >= 500 || response == 408 || response == 425 || response == 429;
    return {later ? Outcome::Kind::kNotNow : Outcome::Kind::kNever, Say("outcome.request refused")};
  }

  const Parcel& parcel_;
  const MailServer& mail_;
  const Words& words_;
  std::unique_ptr<CURL, FreeHandle> handle_;
  const bool is_mail_;
  Going going_;
  List list_;
  char error_[CURL_ERROR_SIZE] = {};
};

}  // namespace

Outcome RunErrand(const Parcel& parcel, const MailServer& mail, const Words& words, const ErrandHooks& hooks) noexcept {
  try {
    return Errand(parcel, mail, words, hooks).Run();
  } catch (const std::exception& error) {
    return {Outcome::Kind::kNotNow, error.what()};
  }
}

}  // namespace rindwatch
