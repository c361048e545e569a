#include "daemon/notices/parcels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>

#include "daemon/notices/mime.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr std::chrono::seconds kMailPatience{60};
constexpr std::chrono::seconds kWebhookPatience{15};

// The same for every try, and for nothing else: whoever gets it twice can tell.
std::string IdOf(const NoticeRow& row) {
  std::uint64_t mixed = 14695981039346656037U;  // FNV-1a
  for (const char c : row.key) mixed = (mixed ^ static_cast<unsigned char>(c)) * 1099511628211U;
  return fmt::format("{}.{:016x}", ToMillis(row.made_at), mixed);
}

std::string AfterAt(const std::string& address) { return address.substr(address.find('@') + 1); }

Parcel MailOf(const ApiContext& context, const NoticeRow& row, const Letter& letter) {
  const MailServer& mail = context.config.notices.mail;
  const rules::Zone& zone = context.book().Home().zone;
  Envelope envelope;
  envelope.from = mail.from;
  envelope.from_name = mail.name;
  envelope.to = row.address;
  envelope.id = IdOf(row) + "@" + AfterAt(mail.from);
  // When it was made: a mail that was late shows it. Of what speaks for several the newest.
  const rules::Instant at = letter.as_of.value_or(row.made_at);
  envelope.date = zone.ToLocal(at);
  envelope.offset = std::chrono::floor<std::chrono::seconds>(envelope.date.time_since_epoch() - at.time_since_epoch());
  envelope.urgent = letter.severity == "act" || letter.severity == "urgent";
  envelope.list = row.kind == "morning" || row.kind == "evening" ? "round" : row.kind == "test" ? "test" : "alarm";
  Parcel parcel;
  parcel.to = row.address;
  parcel.message = MailText(envelope, letter);
  parcel.ca = mail.ca;
  parcel.patience = kMailPatience;
  return parcel;
}

void Fill(std::string& text, const std::vector<std::pair<std::string, std::string>>& parts) {
  std::string filled;
  for (std::size_t at = 0; at < text.size();) {
    const auto part = std::ranges::find_if(
        parts, [&](const auto& one) { return text.compare(at, one.first.size(), one.first) == 0; });
    if (part == parts.end()) {
      filled += text[at++];
    } else {
      filled += part->second;
      at += part->first.size();
    }
  }
  text = std::move(filled);
}

// A text inside a JSON text: as it is written between the quotes.
std::string Quoted(const std::string& text) {
  const std::string whole = json::serialize(json::string(text));
  return whole.substr(1, whole.size() - 2);
}

bool IsJson(const Webhook& webhook) { return webhook.body.empty() || webhook.type.find("json") != std::string::npos; }

}  // namespace

const std::string& AlarmOf(const NoticeRow& row, const Letter& letter) {
  return letter.alarm.empty() ? row.alarm : letter.alarm;
}

const std::string& KindOf(const NoticeRow& row, const Letter& letter) {
  return letter.kind.empty() ? row.kind : letter.kind;
}

std::string WebhookBody(const Webhook& webhook, const NoticeRow& row, const Letter& letter, const std::string& link,
                        bool trial) {
  if (webhook.body.empty()) {
    json::object object{{"id", IdOf(row)},
                        {"kind", KindOf(row, letter)},
                        {"severity", letter.severity},
                        {"subject", letter.subject},
                        {"text", PlainText(letter)},
                        {"link", link},
                        {"alarm", AlarmOf(row, letter)},
                        {"cave", letter.cave_name},
                        {"hearer", row.hearer},
                        {"at", ToText(letter.as_of.value_or(row.made_at))},
                        {"trial", trial}};
    return json::serialize(object);
  }
  std::string body = webhook.body;
  std::vector<std::pair<std::string, std::string>> parts{{"{id}", IdOf(row)},
                                                         {"{kind}", KindOf(row, letter)},
                                                         {"{severity}", letter.severity},
                                                         {"{subject}", letter.subject},
                                                         {"{text}", PlainText(letter)},
                                                         {"{link}", link},
                                                         {"{alarm}", AlarmOf(row, letter)},
                                                         {"{cave}", letter.cave_name},
                                                         {"{hearer}", row.hearer}};
  if (IsJson(webhook))
    for (auto& [name, text] : parts) text = Quoted(text);
  Fill(body, parts);
  return body;
}

std::optional<Parcel> ParcelOf(const ApiContext& context, const NoticeRow& row, const Letter& letter,
                               const std::string& link, std::string& why) {
  const NoticesConfig& config = context.config.notices;
  if (row.way == "mail") {
    if (!config.mail.server.empty()) return MailOf(context, row, letter);
    why = context.words.Say("outcome.no server");
    return std::nullopt;
  }
  const auto webhook = std::ranges::find(config.webhooks, row.address, &Webhook::name);
  if (webhook == config.webhooks.end()) {
    why = context.words.Say("outcome.no webhook", {{"name", row.address}});
    return std::nullopt;
  }
  Parcel parcel;
  parcel.url = webhook->url;
  parcel.body = WebhookBody(*webhook, row, letter, link, context.trial);
  const char* type = IsJson(*webhook) ? "application/json" : "text/plain; charset=utf-8";
  parcel.headers = webhook->headers;
  parcel.headers.push_back("Content-Type: " + (webhook->type.empty() ? std::string(type) : webhook->type));
  parcel.headers.push_back("Rindwatch-Notice: " + IdOf(row));
  parcel.ca = webhook->ca;
  parcel.patience = kWebhookPatience;
  return parcel;
}

}  // namespace rindwatch
