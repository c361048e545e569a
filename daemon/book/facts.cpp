#include "daemon/book/facts.hpp"

#include <boost/json.hpp>
#include <stdexcept>

#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Instant;

namespace {

// Collects the facts of one line.
class Collector {
 public:
  explicit Collector(const JournalLine& line) : line_(line) {
    body_ = json::parse(line.body).as_object();
    if (!line.given.empty()) given_ = json::parse(line.given).as_object();
  }

  std::vector<Fact> Collect() {
    if (line_.kind == "care") Care();
    if (line_.kind == "undo") Undo();
    if (line_.kind == "answer") AnswerGiven();
    if (line_.kind == "enter") Enter();
    if (line_.kind == "probe") Probe();
    if (line_.kind == "unhang") Add("probe", fields::Whole(body_, "probe"), "hangs", {{"cave", nullptr}});
    if (line_.kind == "move") Move(fields::Object(body_, "to"));
    if (line_.kind == "gone") ForWheels("gone", {{"how", body_.at("how")}});
    if (line_.kind == "limits") Limits();
    if (line_.kind == "cave") Caves();
    if (line_.kind == "take" || line_.kind == "called" || line_.kind == "aside") AlarmAct();
    if (line_.kind == "alarm") Add("alarm", 0, "change", body_);
    return std::move(facts_);
  }

 private:
  void Add(const char* subject_kind, std::int64_t subject, const char* what, json::value value) {
    facts_.push_back({subject_kind, subject, what, line_.at, std::move(value)});
  }
  void ForWheels(const char* what, const json::object& value) {
    for (const rules::WheelId wheel : line_.wheels) Add("wheel", wheel, what, value);
  }
  static json::value OrNull(const json::object& object, const char* name) {
    const json::value* value = object.if_contains(name);
    return value ? *value : json::value(nullptr);
  }

  void Care() {
    ForWheels("care", {{"done", OrNull(body_, "done")},
                       {"skipped", OrNull(body_, "skipped")},
                       {"reason", fields::TextOr(body_, "reason", "")},
                       {"known", given_.at("known")}});
  }

  void Undo() { Add("act", 0, "undone", {{"of", body_.at("of")}, {"wheels", OrNull(body_, "wheels")}}); }

  void AnswerGiven() {
    if (body_.contains("option")) return ForWheels("branch", {{"option", body_.at("option")}});
    ForWheels("start", {{"start", body_.at("start")}, {"day", given_.at("day")}, {"reckoned", false}});
    Caves();
    if (const json::object* to = fields::MaybeObject(body_, "move_to")) Move(*to);
  }

  // The caves that the line made, outermost first.
  void Caves() {
    if (!given_.contains("caves")) return;
    for (const json::value& cave : given_.at("caves").as_array()) {
      const json::object& row = cave.as_object();
      Add("cave", row.at("id").to_number<std::int64_t>(), "cave",
          {{"kind", row.at("kind")}, {"name", row.at("name")}, {"inside", OrNull(row, "inside")}});
    }
  }

  void Move(const json::object& to) {
    if (line_.kind == "move") Caves();
    ForWheels("place", {{"cave", given_.at("cave")}, {"shelf", fields::TextOr(to, "shelf", "")}});
  }

  void Enter() {
    Caves();
    PlanText();
    const std::int64_t lot = fields::Whole(given_, "lot");
    Add("lot", lot, "lot", {{"name", given_.at("lot_name")}, {"plan", body_.at("plan")}});
    std::int64_t number = fields::Whole(given_, "first_number");
    const json::value grams = OrNull(body_, "grams");
    const std::string shelf = fields::TextOr(fields::Object(body_, "where"), "shelf", "");
    for (const rules::WheelId wheel : line_.wheels) {
      Add("wheel", wheel, "wheel", {{"lot", lot}, {"number", number++}, {"grams", grams}});
      Add("wheel", wheel, "plan", {{"plan", body_.at("plan")}, {"version", given_.at("version")}});
      Add("wheel", wheel, "start",
          {{"start", given_.at("first_start")}, {"day", body_.at("made")}, {"reckoned", false}});
      for (const json::value& start : given_.at("starts").as_array()) Add("wheel", wheel, "start", start);
      Add("wheel", wheel, "place", {{"cave", given_.at("cave")}, {"shelf", shelf}});
      for (const json::value& last : given_.at("last").as_array()) LastCare(wheel, last.as_object());
    }
  }

  // "Last turned yesterday": a doing at an earlier instant.
  void LastCare(rules::WheelId wheel, const json::object& last) {
    Fact fact{
        "wheel",
        wheel,
        "care",
        rules::FromMillis(fields::Whole(last, "at")),
        {{"done", json::array{last.at("kind")}}, {"skipped", nullptr}, {"reason", ""}, {"known", given_.at("known")}}};
    facts_.push_back(std::move(fact));
  }

  void PlanText() {
    if (!given_.contains("plan_text")) return;
    Add("plan", 0, "text",
        {{"plan", body_.at("plan")}, {"version", given_.at("version")}, {"text", given_.at("plan_text")}});
  }

  void Probe() {
    Caves();
    const std::int64_t probe = fields::Whole(given_, "probe");
    Add("probe", probe, "probe",
        {{"name", body_.at("name")},
         {"topic", body_.at("topic")},
         {"format", body_.at("format")},
         {"time_pointer", OrNull(body_, "time_pointer")},
         {"channels", given_.at("channels")}});
    Add("probe", probe, "hangs", {{"cave", given_.at("cave")}});
  }

  void Limits() {
    Add("cave", fields::Whole(body_, "cave"), "limits",
        {{"temperature", OrNull(body_, "temperature")}, {"humidity", OrNull(body_, "humidity")}});
  }

  void AlarmAct() {
    const char* what = line_.kind == "take" ? "taken" : line_.kind == "called" ? "called" : "aside";
    json::object value{{"alarm", body_.at("alarm")}};
    if (line_.kind == "called") value["what"] = body_.at("what");
    if (line_.kind == "aside") value["until"] = body_.at("until");
    Add("alarm", 0, what, std::move(value));
  }

  const JournalLine& line_;
  json::object body_, given_;
  std::vector<Fact> facts_;
};

}  // namespace

std::vector<Fact> FactsOf(const JournalLine& line) {
  try {
    return Collector(line).Collect();
  } catch (const ActFault& fault) {
    throw std::runtime_error("The journal's line " + line.id + " cannot be read: " + fault.what);
  } catch (const std::exception& error) {
    throw std::runtime_error("The journal's line " + line.id + " cannot be read: " + error.what());
  }
}

}  // namespace rindwatch
