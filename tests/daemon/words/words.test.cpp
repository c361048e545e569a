#include "daemon/words/words.hpp"
#include "daemon/words/alarm_word.hpp"

#include <boost/json.hpp>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "daemon/words/embedded.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

namespace rindwatch {
namespace {

TEST_CASE("a text is said with its placeholders filled in") {
  const Words words(R"({"a": "{who} turned {what}, {who} washed", "b": "plain"})");
  CHECK(words.Say("b") == "plain");
  CHECK(words.Say("a", {{"who", "IH"}, {"what", "six"}}) == "IH turned six, IH washed");
  CHECK(words.Say("a", {{"who", "IH"}}) == "IH turned {what}, IH washed");
}

TEST_CASE("what is filled in is not filled in again") {
  const Words words(R"({"a": "{cave} {what}"})");
  CHECK(words.Say("a", {{"cave", "{cave} {cave}"}, {"what", "x"}}) == "{cave} {cave} x");
}

TEST_CASE("a key that has no text is said as it is, so that it is seen") {
  const Words words("{}");
  CHECK(words.Say("round.nowhere") == "round.nowhere");
  CHECK_FALSE(words.Has("round.nowhere"));
}

TEST_CASE("one is one, all else is many, nought too") {
  const Words words(R"({"w.one": "{count} wheel", "w.other": "{count} wheels"})");
  CHECK(words.Count("w", 0) == "0 wheels");
  CHECK(words.Count("w", 1) == "1 wheel");
  CHECK(words.Count("w", 2) == "2 wheels");
  CHECK(words.Count("w", 2000) == "2000 wheels");
}

TEST_CASE("numbers up to twelve are words, above they are figures") {
  const Words& english = Words::English();
  CHECK(english.Count("round.left", 1) == "One left.");
  CHECK(english.Count("round.left", 12) == "Twelve left.");
  CHECK(english.Count("round.left", 13) == "13 left.");
}

TEST_CASE("what is no object of texts is refused") {
  for (const char* text : {"", "[]", "{", R"({"a": 3})", R"({"a": {"b": "c"}})"}) {
    CAPTURE(text);
    CHECK_THROWS(Words(text));
  }
}

// ---- the English words and those who use them ----

std::set<std::string> KeysOf(std::string_view text) {
  std::set<std::string> keys;
  const boost::json::value words = boost::json::parse(boost::json::string_view(text.data(), text.size()));
  for (const auto& member : words.as_object()) keys.emplace(member.key());
  return keys;
}

TEST_CASE("the embedded words are those of the file that the page reads") {
  std::ifstream file(RINDWATCH_SOURCE_DIR "/web/words/en.json");
  std::stringstream text;
  text << file.rdbuf();
  CHECK(std::string(EnglishWords()) == text.str());
}

TEST_CASE("no word is defined twice") {
  std::ifstream file(RINDWATCH_SOURCE_DIR "/web/words/en.json");
  const std::regex key(R"re(^\s*"([^"]+)"\s*:)re");
  std::set<std::string> seen;
  for (std::string line; std::getline(file, line);) {
    std::smatch match;
    if (std::regex_search(line, match, key) && !seen.insert(match[1]).second) FAIL_CHECK(match[1] << " is there twice");
  }
  CHECK(seen == KeysOf(EnglishWords()));
}

std::string Source(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

// Every literal of the daemon's sources for which `look` finds a key.
std::set<std::string> Literals(const std::regex& look) {
  std::set<std::string> found;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(RINDWATCH_SOURCE_DIR "/daemon")) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string text = Source(entry.path());
    for (std::sregex_iterator match(text.begin(), text.end(), look), end; match != end; ++match) {
      found.insert((*match)[1]);
    }
  }
  return found;
}

TEST_CASE("every key that the daemon counts by has a text for one and for many") {
  const auto counted = Literals(std::regex(R"re(\bCount\(\s*"([^"]+)")re"));
  CHECK(counted.contains("round.left minutes"));
  for (const std::string& key : counted) {
    for (const char* end : {".one", ".other"}) {
      if (!Words::English().Has(key + end)) FAIL_CHECK("web/words/en.json has no text for \"" << key << end << "\"");
    }
  }
}

TEST_CASE("every key that the daemon says has a text") {
  const auto said = Literals(std::regex(R"re(\bSay\(\s*"([^"]+)"\s*[,)])re"));
  CHECK(said.contains("sentence.empty"));
  for (const std::string& key : said) {
    if (!Words::English().Has(key)) FAIL_CHECK("web/words/en.json has no text for \"" << key << "\"");
  }
}

// A choice between two keys, or a key that goes through a variable, is no argument of Say; it still looks like a key.
TEST_CASE("every literal of the daemon that looks like a key of a sentence is one") {
  const auto keys = KeysOf(EnglishWords());
  const auto literals = Literals(std::regex(R"re("((?:sentence|round|trouble|day|side|text)\.[a-z][a-z. ]*[a-z])")re"));
  CHECK(literals.size() > 8);
  for (const std::string& key : literals) {
    if (!keys.contains(key) && !keys.contains(key + ".one")) FAIL_CHECK("web/words/en.json lacks \"" << key << "\"");
  }
}

TEST_CASE("keys that are put together have texts for all that can be put in") {
  const Words& words = Words::English();
  std::vector<std::string> keys;
  using rules::AlarmKind;
  for (const AlarmKind kind :
       {AlarmKind::kTooWarm, AlarmKind::kTooCold, AlarmKind::kTooDry, AlarmKind::kTooDamp, AlarmKind::kProbeSilent}) {
    const std::string word(rules::ToText(kind));
    keys.push_back("alarm." + word);
    for (const char* number : {".1", ".2", ".3"}) keys.push_back("first." + word + number);
  }
  using rules::Knowing;
  for (const Knowing known : {Knowing::kDoor, Knowing::kAjar, Knowing::kDelivery, Knowing::kDefrost, Knowing::kPlant,
                              Knowing::kProbe, Knowing::kPower, Knowing::kTurning, Knowing::kLong}) {
    CHECK(FirstSteps(words, AlarmKind::kTooWarm, known, "fridge").size() == 3);
    CHECK(FirstSteps(words, AlarmKind::kTooWarm, known, "fridge") !=
          FirstSteps(words, AlarmKind::kTooWarm, Knowing::kNothing, "fridge"));
    // What holds for every kind comes before what a kind alone asks.
    CHECK(FirstSteps(words, AlarmKind::kTooWarm, Knowing::kGas, "room").front() == words.Say("first.gas.1"));
    CHECK(FirstSteps(words, AlarmKind::kPowerGone, Knowing::kGas, "room").front() ==
          words.Say("first.power gone.gas.1"));
    // Kinds without steps for it go by their own.
    CHECK(FirstSteps(words, AlarmKind::kProbeSilent, known, "fridge").size() == 3);
  }
  for (const AlarmKind kind : {AlarmKind::kTooWarm, AlarmKind::kTooCold, AlarmKind::kTooDry, AlarmKind::kTooDamp}) {
    CHECK(FirstSteps(words, kind, Knowing::kStep, "fridge").size() == 3);
    CHECK(FirstSteps(words, kind, Knowing::kApart, "fridge").size() == 3);
    CHECK(FirstSteps(words, kind, Knowing::kApart, "fridge") != FirstSteps(words, kind, Knowing::kStep, "fridge"));
    CHECK(FirstSteps(words, kind, Knowing::kStep, "fridge") != FirstSteps(words, kind, Knowing::kNothing, "fridge"));
  }
  // Of gas by how much of it there is; ammonia is no danger to life before the nose drives everybody out.
  for (const AlarmKind gas : {AlarmKind::kCarbonDioxide, AlarmKind::kAmmonia}) {
    const auto high = FirstSteps(words, gas, Knowing::kNothing, "room");
    CHECK(high.size() == 3);
    CHECK(FirstSteps(words, gas, Knowing::kStale, "room").size() == 3);
    CHECK(FirstSteps(words, gas, Knowing::kStale, "room") != high);
  }
  for (const auto& [kind, known] :
       {std::pair{AlarmKind::kPowerGone, Knowing::kUnheard}, std::pair{AlarmKind::kPlantWeak, Knowing::kCreeps},
        std::pair{AlarmKind::kPowerGone, Knowing::kPress}, std::pair{AlarmKind::kTooCold, Knowing::kPress}}) {
    CHECK(FirstSteps(words, kind, known, "fridge").size() == 3);
    CHECK(FirstSteps(words, kind, known, "fridge") != FirstSteps(words, kind, Knowing::kNothing, "fridge"));
  }
  CHECK(FirstSteps(words, AlarmKind::kCarbonDioxide, Knowing::kDanger, "room").front() == "Everybody out, nobody in.");
  for (int why = 0; why <= static_cast<int>(rules::kLastWhy); ++why)
    keys.push_back("why." + std::string(rules::ToText(static_cast<rules::Why>(why))));
  for (const char* care : {"turn", "wash", "brush", "pat", "rub", "salt", "wipe", "oil", "coat", "pierce", "wrap",
                           "move", "look", "weigh"}) {
    REQUIRE(rules::CareKindFrom(care));
    keys.push_back(std::string("care.") + care);
  }
  for (const char* side : {"warm", "cold", "damp", "dry"}) keys.push_back(std::string("side.") + side);
  for (int number = 1; number <= 12; ++number) keys.push_back("month." + std::to_string(number));
  for (int number = 1; number <= 7; ++number) keys.push_back("weekday." + std::to_string(number));
  for (const std::string& key : keys) {
    if (!words.Has(key)) FAIL_CHECK("web/words/en.json has no text for \"" << key << "\"");
  }
  CHECK(keys.size() == 78);
}

TEST_CASE("the first steps fit the kind of place: what has no door, plant or lid is not sent to one") {
  using rules::AlarmKind;
  using rules::Knowing;
  const std::regex machine("\\b(plug|fuse|thermostat|plant|coil|seal|fitter)\\b", std::regex::icase);
  const std::regex door("\\bdoor\\b", std::regex::icase), lid("\\blid\\b", std::regex::icase);
  const std::regex around("\\b(around|there|stands in|fitter)\\b", std::regex::icase);
  const auto says = [](const std::string& step, const std::regex& what) { return std::regex_search(step, what); };
  for (const AlarmKind kind :
       {AlarmKind::kTooWarm, AlarmKind::kTooCold, AlarmKind::kTooDry, AlarmKind::kTooDamp, AlarmKind::kCondensation}) {
    for (const Knowing known :
         {Knowing::kNothing, Knowing::kDoor, Knowing::kAjar, Knowing::kDelivery, Knowing::kDefrost, Knowing::kPlant,
          Knowing::kProbe, Knowing::kPower, Knowing::kBack, Knowing::kTurning, Knowing::kLong, Knowing::kPress}) {
      CAPTURE(rules::ToText(kind), rules::ToText(known));
      for (const char* place : {"box", "counter", "fridge", "room"}) {
        const auto steps = FirstSteps(Words::English(), kind, known, place);
        CHECK(steps.size() == 3);
        for (const std::string& step : steps) {
          CAPTURE(place, step);
          const std::string_view which{place};
          if (which == "box") CHECK((!(says(step, machine) || says(step, door)) || says(step, around)));
          if (which == "counter") CHECK_FALSE((says(step, machine) || says(step, lid)));
          if (which == "fridge" || which == "room") CHECK_FALSE(says(step, lid));
        }
      }
    }
  }
  CHECK(FirstSteps(Words::English(), AlarmKind::kTooDamp, Knowing::kNothing, "box").front() ==
        "Open the lid a finger, wipe its drops off.");
}

TEST_CASE("no text speaks of safety but to refuse it") {
  const boost::json::value words = boost::json::parse(std::string(EnglishWords()));
  const std::regex safe("\\bsafe\\b", std::regex::icase);
  const std::regex refused("not show that (a|the) cheese is safe to eat");
  for (const auto& [key, text] : words.as_object()) {
    const std::string said = std::regex_replace(std::string(text.as_string()), refused, "");
    if (std::regex_search(said, safe)) FAIL_CHECK(key << " says \"" << said << "\"");
  }
  CHECK(words.as_object().size() > 100);
}

TEST_CASE("how far a plant fell behind is a few words for a row and a sentence for a list") {
  const Words& words = Words::English();
  rules::Alarm alarm;
  alarm.kind = rules::AlarmKind::kPlantWeak;
  alarm.why = rules::Why::kSlowFall;
  alarm.extreme = 0.72;
  CHECK(MostSentence(words, alarm).empty());
  alarm.over = rules::Instant{};
  CHECK(MostWords(words, alarm) == "cooled at 72 % of its usual pace");
  CHECK(MostSentence(words, alarm) == "At worst it cooled at 72 % of its usual pace.");
  alarm.why = rules::Why::kDayMeanUp;
  alarm.extreme = 0.6;
  CHECK(MostWords(words, alarm) == "the mean of the day up by 0.6 degrees");
  CHECK(MostSentence(words, alarm) == "The mean of the day was up by 0.6 degrees at most.");
  alarm.why = rules::Why::kBand;
  CHECK(MostSentence(words, alarm).empty());
}

}  // namespace
}  // namespace rindwatch
