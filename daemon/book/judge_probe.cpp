#include "daemon/book/judge_probe.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/places.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::ChannelKind;

namespace {

// A probe that is described anew keeps the numbers of the channels that it had: the same place in its messages is
// the same series of readings.
std::int64_t ChannelNumber(const ProbeRow* known, ChannelKind kind, const std::string& pointer, std::int64_t& next) {
  if (known) {
    for (const sensors::RouteChannel& channel : known->route.channels) {
      if (channel.kind == kind && channel.pointer == pointer) return channel.channel;
    }
  }
  return next++;
}

ChannelKind KindNamed(const std::string& word) {
  for (int number = 1; number <= static_cast<int>(rules::kLastChannelKind); ++number) {
    const auto kind = static_cast<ChannelKind>(number);
    if (sensors::NameOf(kind) == word) return kind;
  }
  throw ActFault{fmt::format("Nobody knows a channel called \"{}\".", word), "channels",
                 "temperature, humidity, wheel temperature, battery ...", word, ""};
}

sensors::RouteChannel ChannelFrom(const object& wanted, const ProbeRow* known, std::int64_t& next) {
  sensors::RouteChannel channel;
  channel.kind = KindNamed(fields::Text(wanted, "kind"));
  channel.pointer = fields::TextOr(wanted, "pointer", "");
  channel.unit = sensors::UnitsOf(channel.kind).front();
  if (const std::string word = fields::TextOr(wanted, "unit", ""); !word.empty()) {
    const auto unit = sensors::UnitFromText(word);
    if (!unit)
      throw ActFault{fmt::format("Nobody knows a unit called \"{}\".", word), "channels", "celsius, percent ...", word,
                     ""};
    channel.unit = *unit;
  }
  channel.channel = ChannelNumber(known, channel.kind, channel.pointer, next);
  return channel;
}

const ProbeRow& NamedProbe(const Book& book, const object& body) {
  const std::int64_t id = fields::Whole(body, "probe");
  if (const ProbeRow* probe = book.Probe(id)) return *probe;
  throw ActFault{fmt::format("There is no probe {} in the book.", id), "probe", "a probe of the book",
                 std::to_string(id), ""};
}

}  // namespace

object JudgeProbe(const Book& book, const object& body, JournalLine& line) {
  fields::Text(body, "name");
  const std::string topic = fields::Text(body, "topic");
  const ProbeRow* known = book.ProbeOfTopic(topic);
  sensors::Route route;
  route.filter = topic;
  route.probe = known ? known->id : book.NextProbe();
  const std::string format = fields::Text(body, "format");
  const auto read = sensors::FormatFromText(format);
  if (!read)
    throw ActFault{fmt::format("A payload is plain or json, found \"{}\".", format), "format", "plain or json", format,
                   ""};
  route.format = *read;
  if (const std::string pointer = fields::TextOr(body, "time_pointer", ""); !pointer.empty())
    route.time_pointer = pointer;
  std::int64_t next = book.NextChannel();
  json::array channels;
  for (const json::value& item : fields::Array(body, "channels")) {
    if (!item.is_object())
      throw ActFault{"A channel is an object.", "channels", "objects with kind and pointer", "another value", ""};
    const sensors::RouteChannel channel = ChannelFrom(item.as_object(), known, next);
    route.channels.push_back(channel);
    channels.push_back({{"id", channel.channel},
                        {"kind", static_cast<int>(channel.kind)},
                        {"pointer", channel.pointer},
                        {"unit", sensors::ToText(channel.unit)}});
  }
  const auto faults = sensors::RouteFaults(route);
  if (!faults.empty()) throw ActFault{faults.front(), "topic", "", topic, ""};
  object given{{"probe", route.probe}, {"channels", std::move(channels)}};
  GivePlace(book, fields::Object(body, "where"), "where", given);
  line.cave = given.at("cave").to_number<std::int64_t>();
  return given;
}

object JudgeUnhang(const Book& book, const object& body, JournalLine& line) {
  line.cave = book.HangsIn(NamedProbe(book, body));
  return {};
}

object JudgeService(const Book& book, const object& body, JournalLine& line) {
  line.cave = book.HangsIn(NamedProbe(book, body));
  fields::Truth(body, "out");
  fields::TextOr(body, "why", "");
  return {};
}

}  // namespace rindwatch
