#include "sensors/decoder.hpp"

#include <boost/json.hpp>
#include <cmath>
#include <variant>

#include "sensors/first_bytes.hpp"
#include "sensors/number.hpp"
#include "sensors/own_time.hpp"
#include "sensors/quantity.hpp"

namespace rindwatch::sensors {
namespace {

namespace json = boost::json;

using NumberOrFault = std::variant<double, std::string>;

// The words that contacts send. A word that names the state means it in either unit.
std::optional<double> StateWord(rules::ChannelKind kind, std::string_view word, Unit unit) {
  const bool turned = unit == Unit::kShutIsOne || unit == Unit::kWaterIsZero;
  const double open = turned ? 0.0 : 1.0;  // or wet
  if (kind == rules::ChannelKind::kDoor) {
    if (word == "open" || word == "OPEN") return open;
    if (word == "shut" || word == "SHUT" || word == "closed" || word == "CLOSED") return 1.0 - open;
  } else {
    if (word == "wet" || word == "WET") return open;
    if (word == "dry" || word == "DRY") return 1.0 - open;
  }
  return std::nullopt;
}

std::optional<double> ContactWord(rules::ChannelKind kind, std::string_view word, Unit unit) {
  if (const auto state = StateWord(kind, word, unit)) return state;
  if (word == "on" || word == "ON" || word == "true") return 1.0;
  if (word == "off" || word == "OFF" || word == "false") return 0.0;
  return std::nullopt;
}

NumberOrFault NumberInText(const RouteChannel& channel, std::string_view text) {
  if (IsContact(channel.kind)) {
    if (const auto state = ContactWord(channel.kind, text, channel.unit)) return *state;
  }
  return ReadNumber(text);
}

NumberOrFault NumberInJson(const RouteChannel& channel, const json::value& found) {
  if (const auto* text = found.if_string()) return NumberInText(channel, *text);
  if (const auto* state = found.if_bool(); state != nullptr && IsContact(channel.kind)) {
    return *state ? 1.0 : 0.0;
  }
  if (!found.is_number()) {
    return "expected a number such as 12.5, found " + FirstBytes(json::serialize(found), 40);
  }
  const auto value = found.to_number<double>();
  // The parser reads 1e309 as infinity without a word.
  if (!std::isfinite(value)) return std::string("expected a number such as 12.5, found one too large to hold");
  return value;
}

void Take(const RouteChannel& channel, const NumberOrFault& number, Decoded& decoded) {
  const std::string where = channel.pointer.empty() ? "" : "at " + channel.pointer + ": ";
  if (const auto* fault = std::get_if<std::string>(&number)) {
    decoded.faults.push_back(where + *fault);
    return;
  }
  const auto milli = ToMilli(channel.kind, channel.unit, std::get<double>(number));
  if (const auto* fault = std::get_if<std::string>(&milli)) {
    decoded.faults.push_back(where + *fault);
  } else {
    decoded.values.push_back({channel.channel, std::get<std::int64_t>(milli)});
  }
}

// The value that a pointer names; nothing for a place that is not there and for null.
const json::value* Find(const json::value& root, std::string_view pointer) {
  boost::system::error_code error;
  const auto* found = root.find_pointer(pointer, error);
  return found == nullptr || found->is_null() ? nullptr : found;
}

void TakeTime(const json::value& found, Decoded& decoded) {
  if (const auto* text = found.if_string()) {
    decoded.own_time = OwnTimeFromText(*text);
  } else if (found.is_number()) {
    decoded.own_time = OwnTimeFromNumber(found.to_number<double>());
  }
  if (decoded.own_time) return;
  decoded.unreadable_time = true;
  decoded.faults.push_back("expected a time such as 2026-11-25T07:30:00Z or seconds since 1970, found " +
                           FirstBytes(json::serialize(found), 40) + "; the time of arrival was taken");
}

std::string NothingThere(const Route& route) {
  std::string pointers;
  for (const auto& channel : route.channels) pointers += (pointers.empty() ? "" : ", ") + channel.pointer;
  return "expected a value at " + pointers + ", found none there; look at the route's pointers";
}

Decoded DecodeJson(const Route& route, std::string_view payload) {
  Decoded decoded;
  boost::system::error_code error;
  const auto root = json::parse(payload, error);
  if (error) {
    decoded.faults.push_back("expected a JSON text, found something else (" + error.message() + ")");
    return decoded;
  }
  bool any = false;
  for (const auto& channel : route.channels) {
    const auto* found = Find(root, channel.pointer);
    if (found == nullptr) continue;  // the probe did not say this one now
    any = true;
    Take(channel, NumberInJson(channel, *found), decoded);
  }
  if (!any) decoded.nothing_there = NothingThere(route);
  const auto* time = route.time_pointer ? Find(root, *route.time_pointer) : nullptr;
  if (time != nullptr) TakeTime(*time, decoded);
  return decoded;
}

}  // namespace

Decoded Decode(const Route& route, std::string_view payload) {
  Decoded decoded;
  if (payload.size() > kLongestPayload) {
    decoded.faults.push_back("expected at most " + std::to_string(kLongestPayload) + " bytes, found " +
                             std::to_string(payload.size()) + "; send one reading a message");
    return decoded;
  }
  if (route.format == Format::kJson) return DecodeJson(route, payload);
  for (const auto& channel : route.channels) Take(channel, NumberInText(channel, payload), decoded);
  return decoded;
}

}  // namespace rindwatch::sensors
