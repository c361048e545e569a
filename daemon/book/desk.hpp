// Where an act is judged: is it sound, what does it say, which numbers does the daemon give it? Pure: the book, the
// bytes and the instants come in, a line or a fault comes out.
#pragma once

#include <boost/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "daemon/book/beside.hpp"
#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

struct Judged {
  JournalLine line;  // answer filled in but for the position
  std::vector<Fact> facts;
};

// `sent_at` is the phone's clock at this sending, `now` ours. The keeper comes from the sign-in where there is one.
std::variant<Judged, ActFault> JudgeAct(const Book& book, std::string_view body, std::optional<rules::Instant> sent_at,
                                        rules::Instant now, const Beside& beside = {});

// The id of an act without judging it, so that a repeat can be answered first; throws ActFault.
std::string ActIdOf(std::string_view body);

// The wheels whose qualifying age must stand beside the act when it is judged; none for most kinds. Never throws for
// what is wrong with an act: that is said when it is judged.
std::vector<rules::WheelId> WheelsToAge(std::string_view body);

// A line of the daemon's own; `id` must be the same whenever the same is said.
JournalLine OwnLine(std::string kind, std::string id, boost::json::object body, rules::Instant at);

}  // namespace rindwatch
