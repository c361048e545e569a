#include "daemon/book/facts.hpp"

#include <algorithm>
#include <boost/json.hpp>
#include <stdexcept>

#include "daemon/book/fact_sheet.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

void UndoFacts(FactSheet& sheet) {
  sheet.Add("act", 0, "undone", {{"of", sheet.body.at("of")}, {"wheels", OrNull(sheet.body, "wheels")}});
}

void AnswerFacts(FactSheet& sheet) {
  const json::object& body = sheet.body;
  if (body.contains("option")) return sheet.ForWheels("branch", {{"option", body.at("option")}});
  sheet.ForWheels("start", {{"start", body.at("start")}, {"day", sheet.given.at("day")}, {"reckoned", false}});
  sheet.Caves();
  if (const json::object* to = fields::MaybeObject(body, "move_to")) sheet.Places(*to);
}

// A start is known by its event, since not every plan has words for it.
void LaterFacts(FactSheet& sheet) {
  const json::value& question = sheet.body.contains("start") ? sheet.body.at("start") : sheet.body.at("question");
  sheet.ForWheels("later", {{"question", question}});
}

void MoveFacts(FactSheet& sheet) {
  sheet.Caves();
  sheet.Places(fields::Object(sheet.body, "to"));
  sheet.Starts();
}

void GoneFacts(FactSheet& sheet) {
  json::object leaving{{"how", sheet.body.at("how")}};
  if (const std::string to = fields::TextOr(sheet.body, "to", ""); !to.empty()) leaving["to"] = to;
  sheet.ForWheels("gone", leaving);
}

void CaveFacts(FactSheet& sheet) { sheet.Caves(); }

void LimitsFacts(FactSheet& sheet) {
  sheet.Add("cave", fields::Whole(sheet.body, "cave"), "limits",
            {{"temperature", OrNull(sheet.body, "temperature")}, {"humidity", OrNull(sheet.body, "humidity")}});
}

void WatchingFacts(FactSheet& sheet) {
  const json::object& body = sheet.body;
  sheet.Add("cave", fields::Whole(body, "cave"), "watching",
            {{"settings", body.at("settings")}, {"off", body.at("off")}, {"ready_cheese", body.at("ready_cheese")}});
}

void ProbeFacts(FactSheet& sheet) {
  sheet.Caves();
  const std::int64_t probe = fields::Whole(sheet.given, "probe");
  sheet.Add("probe", probe, "probe",
            {{"name", sheet.body.at("name")},
             {"topic", sheet.body.at("topic")},
             {"format", sheet.body.at("format")},
             {"time_pointer", OrNull(sheet.body, "time_pointer")},
             {"channels", sheet.given.at("channels")}});
  sheet.Add("probe", probe, "hangs", {{"cave", sheet.given.at("cave")}});
}

void UnhangFacts(FactSheet& sheet) {
  sheet.Add("probe", fields::Whole(sheet.body, "probe"), "hangs", {{"cave", nullptr}});
}

void ServiceFacts(FactSheet& sheet) {
  sheet.Add("probe", fields::Whole(sheet.body, "probe"), "service",
            {{"out", sheet.body.at("out")}, {"why", OrNull(sheet.body, "why")}});
}

void TakeFacts(FactSheet& sheet) { sheet.Add("alarm", 0, "taken", {{"alarm", sheet.body.at("alarm")}}); }

void CalledFacts(FactSheet& sheet) {
  sheet.Add(
      "alarm", 0, "called",
      {{"alarm", sheet.body.at("alarm")}, {"what", sheet.body.at("what")}, {"remark", OrNull(sheet.body, "remark")}});
}

void AsideFacts(FactSheet& sheet) {
  sheet.Add("alarm", 0, "aside", {{"alarm", sheet.body.at("alarm")}, {"until", sheet.body.at("until")}});
}

void AlarmFacts(FactSheet& sheet) { sheet.Add("alarm", 0, "change", sheet.body); }

struct Kind {
  std::string_view name;
  void (*collect)(FactSheet&);
};
// Kinds that are not listed (a note, a start of the daemon) have no facts.
constexpr Kind kKinds[] = {
    {"care", CareFacts},       {"undo", UndoFacts},     {"answer", AnswerFacts},      {"enter", EnterFacts},
    {"probe", ProbeFacts},     {"unhang", UnhangFacts}, {"move", MoveFacts},          {"gone", GoneFacts},
    {"limits", LimitsFacts},   {"cave", CaveFacts},     {"take", TakeFacts},          {"called", CalledFacts},
    {"aside", AsideFacts},     {"alarm", AlarmFacts},   {"hold", HoldFacts},          {"cut", CutFacts},
    {"split", SplitFacts},     {"band", BandFacts},     {"order", OrderFacts},        {"calendar", CalendarFacts},
    {"away", AwayFacts},       {"past", PastFacts},     {"share", ShareFacts},        {"keeper", KeeperFacts},
    {"feed", FeedFacts},       {"plan", PlanFacts},     {"plan text", PlanTextFacts}, {"fault", FaultFacts},
    {"rule", RuleFacts},       {"vouch", VouchFacts},   {"release", ReleaseFacts},    {"watching", WatchingFacts},
    {"service", ServiceFacts}, {"later", LaterFacts},   {"hearing", HearingFacts},
};

}  // namespace

std::vector<Fact> FactsOf(const JournalLine& line) {
  try {
    FactSheet sheet(line);
    const auto kind = std::ranges::find(kKinds, line.kind, &Kind::name);
    if (kind != std::ranges::end(kKinds)) kind->collect(sheet);
    return std::move(sheet.facts);
  } catch (const ActFault& fault) {
    throw std::runtime_error("The journal's line " + line.id + " cannot be read: " + fault.what);
  } catch (const std::exception& error) {
    throw std::runtime_error("The journal's line " + line.id + " cannot be read: " + error.what());
  }
}

}  // namespace rindwatch
