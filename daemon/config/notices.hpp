// The machine's matters of notices: by which server mail goes out, which webhooks there are, who is pinged. Who hears
// what and when is the keeper's and lives in the database.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace rindwatch {

// [mail]
struct MailServer {
  // How the way to the server is kept from foreign eyes: STARTTLS on a plain connection that begins (587), TLS from the
  // first byte (465), or nothing, which is for a server on this machine.
  enum class Security { kStartTls, kTls, kNone };

  std::string server;  // a name or address; empty: no mail goes out
  std::uint16_t port = 0;
  Security security = Security::kStartTls;
  std::string user, password;  // empty: the server asks for none
  std::string from;            // the sender's address
  std::string name = "Rindwatch";
  std::string ca;  // a file of certificates that are believed; empty: this system's
};

// [[webhook]]
struct Webhook {
  std::string name;  // by which keepers choose it
  std::string url;
  // The text that is posted, with {subject}, {text}, {kind}, {severity}, {alarm}, {cave}, {hearer}, {link} and {id}
  // filled in; empty: JSON with all of them.
  std::string body;
  std::string type;                  // of the content; empty: what goes with the body
  std::vector<std::string> headers;  // "Name: value"
  std::string ca;
};

// [ping]: a GET to an address of the keeper's choice while all is well with the watch.
struct Ping {
  std::string url;  // empty: none
  int minutes = 5;
  std::string ca;
};

struct NoticesConfig {
  MailServer mail;
  std::vector<Webhook> webhooks;
  Ping ping;
  // The page's address as phones reach it, which links in notices lead to; empty: this machine's name in its network.
  std::string page;
};

const char* ToText(MailServer::Security security);
// Exactly one @ with something on both sides, and nothing that could end a line or a path of SMTP.
bool IsMailAddress(const std::string& text);

}  // namespace rindwatch
