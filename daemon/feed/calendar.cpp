#include "daemon/feed/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace rindwatch::feed {

using rules::Instant;
using rules::LocalTime;
using rules::Zone;

namespace {

constexpr std::size_t kLongest = 75;  // octets of a content line, without its end

template <typename Time>
std::string Stamp(Time at) {
  const auto day = std::chrono::floor<std::chrono::days>(at);
  const std::chrono::year_month_day date{day};
  const std::chrono::hh_mm_ss clock{std::chrono::floor<std::chrono::seconds>(at - day)};
  return fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), clock.hours().count(),
                     clock.minutes().count(), clock.seconds().count());
}

std::string Offset(std::chrono::seconds offset) {
  const auto all = std::abs(offset.count());
  std::string text = fmt::format("{}{:02}{:02}", offset.count() < 0 ? '-' : '+', all / 3600, all / 60 % 60);
  if (all % 60 != 0) text += fmt::format("{:02}", all % 60);
  return text;
}

// A stretch with one offset. Its onset is told by the clock that it ends.
void AddObservance(std::string& text, LocalTime onset, std::chrono::seconds from, std::chrono::seconds to) {
  const char* kind = to > from ? "DAYLIGHT" : "STANDARD";
  text += Fold(std::string("BEGIN:") + kind);
  text += Fold("DTSTART:" + Stamp(onset));
  text += Fold("TZOFFSETFROM:" + Offset(from));
  text += Fold("TZOFFSETTO:" + Offset(to));
  text += Fold(std::string("END:") + kind);
}

// The changes of the zone from before the first event until the last one.
std::string ZoneText(const Zone& zone, Instant first, Instant last) {
  std::string text = Fold("BEGIN:VTIMEZONE") + Fold("TZID:" + zone.Name());
  std::chrono::seconds before = zone.FirstOffset();
  std::string observances;
  std::chrono::seconds at_first = before;
  LocalTime onset{rules::MakeDate(1970, 1, 1)};
  std::chrono::seconds from = before;
  for (const Zone::Transition& change : zone.Transitions()) {
    if (change.from > last) break;
    const LocalTime local{(change.from + before).time_since_epoch()};
    if (change.from <= first) {
      onset = local;
      from = before;
      at_first = change.offset;
    } else if (change.offset != before) {
      AddObservance(observances, local, before, change.offset);
    }
    before = change.offset;
  }
  AddObservance(text, onset, from, at_first);
  return text + observances + Fold("END:VTIMEZONE");
}

std::string EventText(const Event& event, const Calendar& calendar) {
  std::string text = Fold("BEGIN:VEVENT") + Fold("UID:" + event.uid) + Fold("DTSTAMP:" + Stamp(calendar.made) + "Z");
  text += Fold(fmt::format("DTSTART;TZID={}:{}", calendar.zone.Name(), Stamp(calendar.zone.ToLocal(event.start))));
  text += Fold(fmt::format("DURATION:PT{}M", std::max<std::int64_t>(1, event.length.count())));
  text += Fold("SUMMARY:" + Escape(event.summary));
  if (!event.description.empty()) text += Fold("DESCRIPTION:" + Escape(event.description));
  // A round is no appointment: who has one may still be asked to dinner.
  return text + Fold("TRANSP:TRANSPARENT") + Fold("END:VEVENT");
}

}  // namespace

std::string Escape(std::string_view text) {
  std::string escaped;
  for (const char c : text) {
    if (c == '\n') {
      escaped += "\\n";
    } else if (c == '\\' || c == ';' || c == ',') {
      escaped += '\\';
      escaped += c;
    } else if (static_cast<unsigned char>(c) >= 0x20 || c == '\t') {  // other control characters have no place here
      escaped += c;
    }
  }
  return escaped;
}

std::string Fold(std::string_view line) {
  std::string folded;
  std::size_t room = kLongest;
  while (line.size() > room) {
    std::size_t cut = room;
    // Not inside a character of several octets.
    while (cut > 0 && (static_cast<unsigned char>(line[cut]) & 0xC0U) == 0x80U) --cut;
    folded += line.substr(0, cut);
    folded += "\r\n ";
    line = line.substr(cut);
    room = kLongest - 1;  // after the blank that says that the line goes on
  }
  folded += line;
  return folded + "\r\n";
}

std::string Write(const Calendar& calendar) {
  std::string text = Fold("BEGIN:VCALENDAR") + Fold("VERSION:2.0") + Fold("PRODID:-//Rindwatch//Round//EN");
  text += Fold("CALSCALE:GREGORIAN");
  text += Fold("NAME:" + Escape(calendar.name));  // RFC 7986, section 5.1
  text += Fold("X-WR-CALNAME:" + Escape(calendar.name));
  text += Fold("REFRESH-INTERVAL;VALUE=DURATION:PT1H");  // likewise, section 5.7
  if (!calendar.events.empty())
    text += ZoneText(calendar.zone, calendar.events.front().start, calendar.events.back().start);
  for (const Event& event : calendar.events) text += EventText(event, calendar);
  return text + Fold("END:VCALENDAR");
}

}  // namespace rindwatch::feed
