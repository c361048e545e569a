#include "daemon/config/notices.hpp"

#include <algorithm>
#include <array>
#include <boost/url/parse.hpp>

#include "daemon/config/reader.hpp"

namespace rindwatch {

namespace {

using Security = MailServer::Security;
constexpr std::array kSecurities{Security::kStartTls, Security::kTls, Security::kNone};

constexpr const char* kUrl = "an address that begins with https:// or http://, in quotes";

bool IsWebAddress(const std::string& text) {
  const auto url = boost::urls::parse_uri(text);
  return url && (url->scheme() == "https" || url->scheme() == "http") && !url->host().empty();
}

// A header line of our own would let whoever writes it end the header and begin another.
bool IsHeader(const std::string& text) {
  const std::size_t colon = text.find(':');
  return colon != std::string::npos && colon > 0 &&
         std::ranges::none_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

void ReadMail(Reader& reader, MailServer& mail) {
  std::string security = ToText(mail.security);
  reader.Take("mail", "server", mail.server, "a name or address in quotes such as \"mail.example.org\"");
  reader.Take("mail", "security", security, "\"starttls\", \"tls\" or \"none\"");
  const auto known = std::ranges::find(kSecurities, security, [](Security one) { return std::string(ToText(one)); });
  if (known == kSecurities.end())
    reader.Fail(reader.At("mail", "security"), "mail", "security", "\"starttls\", \"tls\" or \"none\"");
  mail.security = *known;
  mail.port = mail.security == Security::kTls ? 465 : mail.security == Security::kStartTls ? 587 : 25;
  reader.TakeNumber("mail", "port", mail.port, 1, 65535);
  reader.Take("mail", "user", mail.user, "a text in quotes");
  reader.Take("mail", "password", mail.password, "a text in quotes");
  reader.Take("mail", "from", mail.from, "a mail address in quotes such as \"cave@example.org\"");
  reader.Take("mail", "name", mail.name, "a text in quotes");
  reader.Take("mail", "ca", mail.ca, "a file's path in quotes");
  if (mail.server.empty()) return;
  const bool is_name = std::ranges::all_of(mail.server, [](unsigned char c) {
    return std::isalnum(c) != 0 || c == '.' || c == '-' || c == '_' || c == ':' || c == '[' || c == ']';
  });
  if (!is_name) {
    reader.Fail(reader.At("mail", "server"), "mail", "server",
                "a name or address in quotes such as \"mail.example.org\"");
  }
  if (!IsMailAddress(mail.from)) {
    reader.Fail(reader.At("mail", "from"), "mail", "from", "a mail address in quotes such as \"cave@example.org\"");
  }
}

void ReadWebhooks(Reader& reader, std::vector<Webhook>& webhooks) {
  for (const toml::table* table : reader.Tables("webhook", {"name", "url", "body", "type", "headers", "ca"})) {
    Webhook webhook;
    reader.TakeText(*table, "webhook", "name", webhook.name, "a name of its own in quotes", true);
    reader.TakeText(*table, "webhook", "url", webhook.url, kUrl, true);
    reader.TakeText(*table, "webhook", "body", webhook.body, "a text in quotes");
    reader.TakeText(*table, "webhook", "type", webhook.type, "a content type in quotes such as \"text/plain\"");
    reader.TakeText(*table, "webhook", "ca", webhook.ca, "a file's path in quotes");
    if (!IsWebAddress(webhook.url)) reader.Fail(*table->get("url"), "webhook", "url", kUrl);
    const bool twice = std::ranges::find(webhooks, webhook.name, &Webhook::name) != webhooks.end();
    if (twice) reader.Fail(*table->get("name"), "webhook", "name", "a name that no other webhook has");
    if (const toml::node* headers = table->get("headers")) {
      constexpr const char* kExpected = "a list of texts such as [\"Authorization: Bearer abc\"]";
      if (!headers->is_array()) reader.Fail(*headers, "webhook", "headers", kExpected);
      for (const toml::node& item : *headers->as_array()) {
        const auto text = item.value_exact<std::string>();
        if (!text || !IsHeader(*text)) reader.Fail(item, "webhook", "headers", kExpected);
        webhook.headers.push_back(*text);
      }
    }
    webhooks.push_back(std::move(webhook));
  }
}

}  // namespace

const char* ToText(Security security) {
  switch (security) {
    case Security::kStartTls:
      return "starttls";
    case Security::kTls:
      return "tls";
    case Security::kNone:
      return "none";
  }
  return "";
}

bool IsMailAddress(const std::string& text) {
  const std::size_t at = text.find('@');
  if (at == std::string::npos || at == 0 || at + 1 == text.size() || text.size() > 254) return false;
  if (text.find('@', at + 1) != std::string::npos) return false;
  return std::ranges::none_of(text, [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte <= 0x20 || byte == 0x7f || c == '<' || c == '>' || c == ',' || c == ';' || c == '"' || c == '\\' ||
           c == '(' || c == ')' || c == ':';
  });
}

void ReadNoticesConfig(Reader& reader, NoticesConfig& config) {
  ReadMail(reader, config.mail);
  ReadWebhooks(reader, config.webhooks);
  reader.Take("notices", "page", config.page, kUrl);
  if (!config.page.empty() && !IsWebAddress(config.page)) {
    reader.Fail(reader.At("notices", "page"), "notices", "page", kUrl);
  }
  while (config.page.ends_with('/')) config.page.pop_back();
  reader.Take("ping", "url", config.ping.url, kUrl);
  reader.TakeNumber("ping", "minutes", config.ping.minutes, 1, 1440);
  reader.Take("ping", "ca", config.ping.ca, "a file's path in quotes");
  if (!config.ping.url.empty() && !IsWebAddress(config.ping.url)) {
    reader.Fail(reader.At("ping", "url"), "ping", "url", kUrl);
  }
}

}  // namespace rindwatch
