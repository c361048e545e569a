#include "daemon/book/known_fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "daemon/book/fields.hpp"
#include "rules/slip.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

using Names = std::set<std::string, std::less<>>;

// The envelope of every act.
constexpr std::string_view kEnvelope = "id kind tapped_at said_at keeper";

struct Kind {
  std::string_view name, fields;
};
constexpr Kind kKinds[] = {
    {"care", "wheels done skipped reason left grams clears"},
    {"undo", "of wheels"},
    {"answer", "wheels start day move_to option"},
    {"enter", "plan made count grams lot where starts last rule"},
    {"probe", "name topic format time_pointer channels where"},
    {"unhang", "probe"},
    {"service", "probe out why"},
    {"move", "wheels to"},
    {"gone", "wheels how to"},
    {"take", "alarm"},
    {"called", "alarm what remark"},
    {"aside", "alarm until"},
    {"here", "cave"},
    {"out", "cave"},
    {"cave", "cave name"},
    {"limits", "cave temperature humidity"},
    {"watching", "cave settings off ready_cheese"},
    {"note", "text cave wheels"},
    {"hold", "wheels held why"},
    {"cut", "wheels left how"},
    {"split", "wheels lot"},
    {"band", "wheels temperature humidity"},
    {"order", "caves by_room cave shelves"},
    {"calendar", "cave care_days"},
    {"away", "from back caves"},
    {"past", "how from to"},
    {"share", "day by caves lines"},
    {"keeper", "name leaves"},
    {"feed", "open"},
    {"hearing", "name leaves rank mail webhooks least list morning evening quiet holidays"},
    {"plan", "wheels plan version"},
    {"plan text", "plan version edits text copy_as wheels"},
    {"fault", "what wheels of note agreed hold"},
    {"rule", "wheels rule"},
    {"vouch", "wheels from to name reason"},
    {"later", "wheels question start"},
    {"release", "wheels override"},
};

void AddNames(std::string_view names, Names& known) {
  while (!names.empty()) {
    const std::size_t end = std::min(names.find(' '), names.size());
    known.emplace(names.substr(0, end));
    names.remove_prefix(std::min(end + 1, names.size()));
  }
}

void Check(const json::object& object, const Names& known, const std::string& what) {
  for (const auto& [key, value] : object) {
    const std::string name = key;
    if (known.contains(name)) continue;
    throw ActFault{fmt::format("There is no \"{}\" in {}.", name.substr(0, 40), what), name, "a field of it", name,
                   rules::SlipAdvice(name, known)};
  }
}

}  // namespace

void CheckFieldsOfAct(const json::object& body, std::string_view kind) {
  const auto found = std::ranges::find(kKinds, kind, &Kind::name);
  if (found == std::ranges::end(kKinds)) return;
  Names known;
  AddNames(kEnvelope, known);
  AddNames(found->fields, known);
  Check(body, known, fmt::format("an act of the kind \"{}\"", kind));
}

void CheckFields(const json::object& object, std::string_view names, const std::string& what) {
  Names known;
  AddNames(names, known);
  Check(object, known, what);
}

}  // namespace rindwatch
