#include "sensors/topic_filter.hpp"

#include <algorithm>
#include <random>

#include "tests/catch.hpp"
#include "tests/sensors/csv.hpp"

using rindwatch::sensors::FilterFault;
using rindwatch::sensors::Matches;
using rindwatch::sensors::Overlap;
using rindwatch::sensors::TopicFault;
using rindwatch::sensors::WithoutOverlaps;
using rindwatch::tests::ReadCsv;

namespace {

const std::string kTable = RINDWATCH_SOURCE_DIR "/tests/reference/mqtt_topic_filters.csv";

// Short filters and topics of few names, so that chance makes them meet.
std::string RandomText(std::mt19937& random, std::vector<std::string> levels, bool is_filter) {
  std::string text;
  const auto count = 1 + random() % 3;
  for (std::size_t i = 0; i < count; ++i) text += (i == 0 ? "" : "/") + levels[random() % levels.size()];
  if (is_filter && random() % 4 == 0) text += "/#";
  if (is_filter && random() % 16 == 0) text = "#";
  return text;
}
std::string RandomTopic(std::mt19937& random) { return RandomText(random, {"a", "b", "", "$s"}, false); }
std::string RandomFilter(std::mt19937& random) {
  const auto filter = RandomText(random, {"a", "b", "", "$s", "+", "+"}, true);
  return filter.empty() ? "#" : filter;
}

}  // namespace

// OASIS MQTT 3.1.1, sections 4.7.1 to 4.7.3: the text's own examples.
TEST_CASE("filters match topics as the examples of the MQTT standard do") {
  int compared = 0;
  for (auto& row : ReadCsv(kTable)) {
    if (row["kind"] != "mqtt-match") continue;
    INFO(row["filter"] << " against " << row["topic"]);
    CHECK(Matches(row["filter"], row["topic"]) == (row["expected"] == "yes"));
    ++compared;
  }
  CHECK(compared == 20);
}

TEST_CASE("filters are sound or not as the examples of the MQTT standard are") {
  int compared = 0;
  for (auto& row : ReadCsv(kTable)) {
    if (row["kind"] != "mqtt-filter-syntax") continue;
    INFO(row["filter"]);
    CHECK(FilterFault(row["filter"]).has_value() == (row["expected"] == "invalid"));
    ++compared;
  }
  CHECK(compared == 9);
}

TEST_CASE("a filter with a wildcard in a wrong place is refused in one sentence that says where it belongs") {
  const auto [filter, words] = GENERATE(table<std::string, std::string>({
      {"sport/tennis#", "a # stands in a wrong place; it must be the whole last level, as in cellar/#."},
      {"#/a", "a # stands in a wrong place"},
      {"a/#b", "a # stands in a wrong place"},
      {"##", "a # stands in a wrong place"},
      {"+#", "a # stands in a wrong place"},
      {"sport+", "a + stands in a wrong place; it must fill a whole level, as in cellar/+/temperature."},
      {"a/++/b", "a + stands in a wrong place"},
      {"a/+b", "a + stands in a wrong place"},
  }));
  INFO(filter);
  const auto fault = FilterFault(filter);
  REQUIRE(fault);
  CHECK(fault->find(words) != std::string::npos);
  CHECK(fault->find("\"" + filter + "\"") != std::string::npos);
  CHECK(std::count(fault->begin(), fault->end(), '\n') == 0);
}

TEST_CASE("what a broker would close the connection for is refused") {
  CHECK(FilterFault(""));
  CHECK(FilterFault(std::string("a\0b", 3)));
  CHECK(FilterFault("a/\n"));
  CHECK(FilterFault("a/\x7f"));
  CHECK(FilterFault("a/\xc2\x85"));      // U+0085, a control character
  CHECK(FilterFault("a/\xff"));          // no UTF-8
  CHECK(FilterFault("a/\xc3"));          // cut off
  CHECK(FilterFault("a/\xc0\xaf"));      // a slash in two bytes
  CHECK(FilterFault("a/\xed\xa0\x80"));  // half a surrogate pair
  CHECK(FilterFault("a/\xf4\x90\x80\x80"));
  CHECK_FALSE(FilterFault("Käsekeller/Fach 2/Wärme"));
  CHECK_FALSE(FilterFault("a/\xe2\x82\xac/\xf0\x9f\xa7\x80"));
  CHECK_FALSE(FilterFault(std::string(65'535, 'a')));
  CHECK(FilterFault(std::string(65'536, 'a')));
  CHECK(FilterFault("$share/group/a"));
  CHECK_FALSE(FilterFault("$share"));
}

TEST_CASE("a topic to publish to has no wildcard") {
  CHECK_FALSE(TopicFault("rindwatch/cave/2"));
  CHECK(TopicFault("rindwatch/+"));
  CHECK(TopicFault("rindwatch/#"));
  CHECK(TopicFault(""));
}

TEST_CASE("filters overlap if some topic matches both") {
  CHECK(Overlap("a/+/c", "a/b/+"));
  CHECK(Overlap("a/#", "a"));
  CHECK(Overlap("#", "+/b"));
  CHECK_FALSE(Overlap("a/+", "a"));
  CHECK_FALSE(Overlap("a/b", "a/c"));
  CHECK_FALSE(Overlap("#", "$SYS/#"));
  CHECK_FALSE(Overlap("+/uptime", "$SYS/uptime"));
}

TEST_CASE("a topic that matches two filters shows that they overlap") {
  std::mt19937 random(31);
  int met = 0;
  for (int i = 0; i < 20'000; ++i) {
    const auto one = RandomFilter(random);
    const auto other = RandomFilter(random);
    const auto topic = RandomTopic(random);
    if (!Matches(one, topic) || !Matches(other, topic)) continue;
    ++met;
    INFO(one << " and " << other << " on " << topic);
    REQUIRE(Overlap(one, other));
    REQUIRE(Overlap(other, one));
  }
  CHECK(met > 200);
}

TEST_CASE("filters without overlaps still match every topic, and no topic matches two") {
  std::mt19937 random(32);
  for (int i = 0; i < 3'000; ++i) {
    std::vector<std::string> filters;
    for (std::size_t n = random() % 6; n > 0; --n) filters.push_back(RandomFilter(random));
    const auto apart = WithoutOverlaps(filters);
    for (const auto& filter : apart) REQUIRE_FALSE(FilterFault(filter));
    for (int k = 0; k < 20; ++k) {
      const auto topic = RandomTopic(random);
      const auto matches = [&](const std::string& filter) { return Matches(filter, topic); };
      const auto count = std::count_if(apart.begin(), apart.end(), matches);
      INFO(topic);
      REQUIRE(count <= 1);
      REQUIRE((count == 1 || std::none_of(filters.begin(), filters.end(), matches)));
    }
  }
}

TEST_CASE("filters that do not meet stay as they are, and the same one twice is one") {
  CHECK(WithoutOverlaps({"a/b", "a/c", "a/b"}) == std::vector<std::string>{"a/c", "a/b"});
  CHECK(WithoutOverlaps({"a/b", "a/#"}) == std::vector<std::string>{"a/#"});
  CHECK(WithoutOverlaps({"a/+/c", "a/b/+"}) == std::vector<std::string>{"a/+/+"});
  CHECK(WithoutOverlaps({"a/+/c/d", "a/b/#"}) == std::vector<std::string>{"a/+/#"});
  CHECK(WithoutOverlaps({}).empty());
}
