#include "daemon/book/fields.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

namespace json = boost::json;
using rules::MakeDate;
using testing::Says;

json::object Parsed(const std::string& text) { return json::parse(text).as_object(); }

// What is said of a field; empty if it is taken.
template <typename Read>
ActFault FaultOf(Read read) {
  try {
    read();
  } catch (const ActFault& fault) {
    return fault;
  }
  return {};
}

TEST_CASE("days are read as they are written, and only days of the calendar") {
  CHECK(DayFrom("2026-03-12") == MakeDate(2026, 3, 12));
  CHECK(DayFrom("2024-02-29") == MakeDate(2024, 2, 29));
  CHECK(DayFrom("0001-01-01") == MakeDate(1, 1, 1));
  CHECK(DayFrom("9999-12-31") == MakeDate(9999, 12, 31));
  for (const char* wrong :
       {"", "2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "2026-04-00", "2026-4-01", "26-04-01", "2026/04/01",
        "2026-04-01 ", " 2026-04-01", "2026-04-1x", "+026-04-01", "2026-04-01T00:00", "today"}) {
    CAPTURE(wrong);
    CHECK_FALSE(DayFrom(wrong));
  }
}

TEST_CASE("the id of an act is 32 hexadecimal digits in lower case") {
  CHECK(IsActId("0123456789abcdef0123456789abcdef"));
  for (const char* wrong :
       {"", "0123456789abcdef0123456789abcde", "0123456789abcdef0123456789abcdef0", "0123456789ABCDEF0123456789abcdef",
        "0123456789abcdef0123456789abcdeg", "0123456789abcdef 123456789abcdef"}) {
    CAPTURE(wrong);
    CHECK_FALSE(IsActId(wrong));
  }
}

TEST_CASE("a missing field and a null are the same") {
  const auto object = Parsed(R"({"null": null})");
  for (const char* name : {"null", "missing"}) {
    CAPTURE(name);
    CHECK(fields::TextOr(object, name, "otherwise") == "otherwise");
    CHECK_FALSE(fields::MaybeWhole(object, name));
    CHECK_FALSE(fields::MaybeNumber(object, name));
    CHECK_FALSE(fields::MaybeAt(object, name));
    CHECK_FALSE(fields::MaybeDay(object, name));
    CHECK(fields::MaybeObject(object, name) == nullptr);
    CHECK(fields::Kinds(object, name).empty());
    CHECK_FALSE(FaultOf([&] { fields::Text(object, name); }).what.empty());
    CHECK_FALSE(FaultOf([&] { fields::Whole(object, name); }).what.empty());
    CHECK_FALSE(FaultOf([&] { fields::At(object, name); }).what.empty());
    CHECK_FALSE(FaultOf([&] { fields::Day(object, name); }).what.empty());
    CHECK_FALSE(FaultOf([&] { fields::Object(object, name); }).what.empty());
    CHECK_FALSE(FaultOf([&] { fields::Array(object, name); }).what.empty());
    CHECK_FALSE(FaultOf([&] { fields::Wheels(object, name); }).what.empty());
  }
}

TEST_CASE("whole numbers are whole: 3 and 3.0 are, 3.5, texts and infinities are not") {
  const auto object = Parsed(R"({"a": 3, "b": 3.0, "c": 3.5, "d": "3", "e": 1e309, "f": 1e30, "g": true})");
  CHECK(fields::Whole(object, "a") == 3);
  CHECK(fields::Whole(object, "b") == 3);
  for (const char* name : {"c", "d", "e", "f", "g"}) {
    CAPTURE(name);
    const ActFault fault = FaultOf([&] { fields::Whole(object, name); });
    CHECK(fault.field == name);
    CHECK(fault.expected == "a whole number");
  }
}

TEST_CASE("numbers are finite: 1e309 is none") {
  const auto object = Parsed(R"({"a": 1e309, "b": -1e309, "c": 1.5, "d": 2})");
  CHECK(*fields::MaybeNumber(object, "c") == Approx(1.5));
  CHECK(*fields::MaybeNumber(object, "d") == Approx(2));
  CHECK(FaultOf([&] { fields::MaybeNumber(object, "a"); }).expected == "a finite number");
  CHECK(FaultOf([&] { fields::MaybeNumber(object, "b"); }).expected == "a finite number");
}

TEST_CASE("instants lie between 1970 and what a clock may show") {
  const auto object = Parsed(R"({"a": 0, "b": 10000000000000, "c": -1, "d": 10000000000001})");
  CHECK(fields::At(object, "a") == rules::FromMillis(0));
  CHECK(fields::At(object, "b") == rules::FromMillis(10'000'000'000'000));
  CHECK_FALSE(FaultOf([&] { fields::At(object, "c"); }).what.empty());
  CHECK_FALSE(FaultOf([&] { fields::At(object, "d"); }).what.empty());
}

TEST_CASE("texts have an end") {
  json::object object{{"long", std::string(2000, 'a')}, {"longer", std::string(2001, 'a')}, {"empty", ""}};
  CHECK(fields::Text(object, "long").size() == 2000);
  CHECK(FaultOf([&] { fields::Text(object, "longer"); }).expected == "a text of at most 2000 bytes");
  CHECK(FaultOf([&] { fields::TextOr(object, "longer", ""); }).expected == "a text of at most 2000 bytes");
  CHECK_FALSE(FaultOf([&] { fields::Text(object, "empty"); }).what.empty());
  CHECK(fields::TextOr(object, "empty", "otherwise").empty());
}

TEST_CASE("wheels are numbers from 1 on, each once, in order") {
  CHECK(fields::Wheels(Parsed(R"({"w": [3, 1, 3, 2]})"), "w") == std::vector<rules::WheelId>{1, 2, 3});
  CHECK(fields::Wheels(Parsed(R"({"w": []})"), "w").empty());
  for (const char* wrong : {R"({"w": [0]})", R"({"w": [-1]})", R"({"w": ["1"]})", R"({"w": [1.5]})", R"({"w": 1})",
                            R"({"w": [null]})", R"({"w": {"1": 1}})"}) {
    CAPTURE(wrong);
    CHECK(FaultOf([&] { fields::Wheels(Parsed(wrong), "w"); }).field == "w");
  }
}

TEST_CASE("cares are named by their words, each once, in the order in which they were named") {
  using rules::CareKind;
  CHECK(fields::Kinds(Parsed(R"({"k": ["wash", "turn", "wash"]})"), "k") ==
        std::vector<CareKind>{CareKind::kWash, CareKind::kTurn});
  CHECK(FaultOf([&] { fields::Kinds(Parsed(R"({"k": ["polish"]})"), "k"); }).what ==
        "k should be a list of cares such as [\"turn\", \"wash\"], found [\"polish\"].");
  CHECK_FALSE(FaultOf([&] { fields::Kinds(Parsed(R"({"k": "turn"})"), "k"); }).what.empty());
}

TEST_CASE("a list has an end") {
  json::array many(20'001, json::value(1));
  CHECK_FALSE(FaultOf([&] { fields::Array({{"a", many}}, "a"); }).what.empty());
  many.pop_back();
  CHECK(fields::Array({{"a", many}}, "a").size() == 20'000);
}

TEST_CASE("what is said of a field names it, what was expected and what was found, cut where it is long") {
  const ActFault fault = FaultOf([] { fields::Day({{"made", std::string(500, 'x')}}, "made"); });
  CHECK(fault.field == "made");
  CHECK(fault.expected == "a day such as 2026-11-25");
  CHECK(fault.found.size() == 60);
  CHECK_THAT(fault.what, Says("made should be a day such as 2026-11-25, found \"xxx"));
  CHECK(FaultOf([] { fields::Day({}, "made"); }).found == "nothing");
}

}  // namespace
}  // namespace rindwatch
