#include "daemon/book/naming.hpp"

#include <fmt/format.h>

#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

// What may still be said of a wheel that has left: what is known of it, and what the law asks of its past.
bool IsForTheRecord(std::string_view kind) { return kind == "note" || kind == "rule" || kind == "vouch"; }

void CheckIsHere(const Book& book, const WheelRow& wheel, const JournalLine& line) {
  const auto gone = wheel.History().gone;
  if (!gone || line.at < *gone || IsForTheRecord(line.kind)) return;
  const std::string name = book.WheelName(wheel), day = ToText(book.Home().DayOf(*gone));
  throw ActFault{fmt::format("{} has been gone since {}.", name, day), "wheels",
                 "wheels that are here, or a time before", name, "If it is not gone, undo that in the journal."};
}

}  // namespace

void NameWheels(const Book& book, const object& body, JournalLine& line) {
  line.wheels = fields::Wheels(body, "wheels");
  if (line.wheels.empty())
    throw ActFault{"An act on wheels names at least one.", "wheels", "at least one wheel", "none", ""};
  for (const rules::WheelId id : line.wheels) {
    if (!book.Wheel(id)) {
      throw ActFault{fmt::format("There is no wheel {} in the book.", id), "wheels", "wheels of the book",
                     std::to_string(id), "Load the page anew; another phone may have taken it away."};
    }
  }
  for (const rules::WheelId id : line.wheels) CheckIsHere(book, *book.Wheel(id), line);
  line.cave = book.PlaceOf(*book.Wheel(line.wheels.front())).cave;
}

const CaveRow& NameCave(const Book& book, const object& body, JournalLine& line) {
  line.cave = fields::Whole(body, "cave");
  const CaveRow* cave = book.Cave(*line.cave);
  if (!cave) {
    throw ActFault{fmt::format("There is no cave {} in the book.", *line.cave), "cave", "a cave of the book",
                   std::to_string(*line.cave), ""};
  }
  return *cave;
}

std::vector<rules::CaveId> NameCaves(const Book& book, const object& body, const char* field) {
  const auto caves = fields::Numbers(body, field);
  for (const rules::CaveId id : caves) {
    if (book.Cave(id)) continue;
    throw ActFault{fmt::format("There is no cave {} in the book.", id), field, "caves of the book", std::to_string(id),
                   "Load the page anew; another phone may have taken it away."};
  }
  return caves;
}

void CheckSpan(const object& body, const char* name, double least, double most) {
  const object* span = fields::MaybeObject(body, name);
  if (!span) return;
  const auto from = fields::MaybeNumber(*span, "low"), to = fields::MaybeNumber(*span, "high");
  if (from && to && *from < *to && *from >= least && *to <= most) return;
  const std::string found = from && to ? fmt::format("{} to {}", *from, *to) : json::serialize(*span);
  throw ActFault{
      fmt::format("{} runs from a lower to a higher figure, between {} and {}; found {}.", name, least, most, found),
      name, fmt::format("low below high, between {} and {}", least, most), found, ""};
}

}  // namespace rindwatch
