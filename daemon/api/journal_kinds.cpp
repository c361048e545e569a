#include "daemon/api/journal_kinds.hpp"

#include <algorithm>

#include "daemon/api/json.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

// A line as it is told: where it comes from and where it goes.
struct Telling {
  const Book& book;
  const object& body;
  const object& given;
  object& into;

  // Takes over a field of the body, under another name if one is given.
  void Copy(const char* name, const char* as = nullptr) const {
    const json::value* value = body.if_contains(name);
    if (!value || value->is_null()) return;
    if (value->is_string() && value->as_string().empty()) return;
    into[as ? as : name] = *value;
  }
};

void Care(const Telling& tell) {
  for (const char* name : {"done", "skipped", "reason", "grams"}) tell.Copy(name);
  const object* left = fields::MaybeObject(tell.body, "left");
  if (!left) return;
  tell.into["left_out"] = {{"count", fields::Wheels(*left, "wheels").size()},
                           {"why", fields::TextOr(*left, "why", "")}};
}

void Later(const Telling& tell) { tell.Copy("question", "text"); }

void Gone(const Telling& tell) {
  tell.Copy("how", "what");
  tell.Copy("to", "text");
}

void Fault(const Telling& tell) {
  tell.Copy("what");
  tell.Copy("of", "of_count");
  tell.Copy("note", "text");
}

void Hold(const Telling& tell) {
  tell.into["what"] = fields::TruthOr(tell.body, "held", true) ? "held" : "let go";
  tell.Copy("why", "reason");
}

void Cut(const Telling& tell) {
  tell.Copy("how", "what");
  tell.Copy("left", "share_left");
}

void Split(const Telling& tell) { tell.Copy("lot", "text"); }

void Band(const Telling& tell) {
  tell.Copy("temperature");
  tell.Copy("humidity");
}

void Plan(const Telling& tell) {
  const object& of = tell.given.contains("plan") ? tell.given : tell.body;
  const auto version = static_cast<int>(fields::Whole(of, "version"));
  const auto plan = tell.book.Plan(fields::Text(of, "plan"), version);
  tell.into["text"] = plan ? plan->family : fields::Text(of, "plan");
  tell.into["version"] = version;
}

void Away(const Telling& tell) {
  tell.Copy("from", "day");
  tell.Copy("back", "to");
}

void Past(const Telling& tell) {
  tell.Copy("how", "what");
  tell.Copy("from", "day");
  tell.Copy("to");
}

void Vouch(const Telling& tell) {
  tell.Copy("from", "day");
  tell.Copy("to");
  tell.Copy("name", "text");
  tell.Copy("reason");
}

void Release(const Telling& tell) {
  const object* by = fields::MaybeObject(tell.body, "override");
  if (!by) return;
  tell.into["text"] = fields::TextOr(*by, "name", "");
  tell.into["reason"] = fields::TextOr(*by, "reason", "");
}

void Rule(const Telling& tell) {
  const object* rule = fields::MaybeObject(tell.body, "rule");
  if (rule) tell.into["text"] = fields::TextOr(*rule, "name", "");
}

void Order(const Telling& tell) { tell.into["what"] = tell.body.contains("cave") ? "shelves" : "caves"; }

void Calendar(const Telling& tell) { tell.Copy("care_days", "days"); }

void Share(const Telling& tell) {
  tell.Copy("by", "text");
  tell.Copy("day");
}

void Keeper(const Telling& tell) {
  tell.Copy("name", "text");
  tell.into["what"] = fields::TruthOr(tell.body, "leaves", false) ? "leaves" : "comes";
}

// Addresses are nobody's business who reads the journal.
void Hearing(const Telling& tell) {
  tell.Copy("name", "text");
  tell.into["what"] = fields::TruthOr(tell.body, "leaves", false) ? "leaves" : "comes";
}

// Never its secret.
void Feed(const Telling& tell) { tell.into["what"] = fields::TruthOr(tell.body, "open", false) ? "open" : "shut"; }

struct Kind {
  std::string_view name;
  void (*tell)(const Telling&);
};
constexpr Kind kKinds[] = {{"care", Care},      {"gone", Gone},       {"fault", Fault}, {"hold", Hold},
                           {"cut", Cut},        {"split", Split},     {"band", Band},   {"plan", Plan},
                           {"away", Away},      {"plan text", Plan},  {"past", Past},   {"vouch", Vouch},
                           {"rule", Rule},      {"release", Release}, {"order", Order}, {"calendar", Calendar},
                           {"share", Share},    {"keeper", Keeper},   {"feed", Feed},   {"later", Later},
                           {"hearing", Hearing}};

}  // namespace

void AddKind(const Book& book, const JournalLine& line, const object& body, const object& given, object& into) {
  const auto kind = std::ranges::find(kKinds, line.kind, &Kind::name);
  if (kind != std::ranges::end(kKinds)) kind->tell({book, body, given, into});
}

}  // namespace rindwatch
