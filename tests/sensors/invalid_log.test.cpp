#include "sensors/invalid_log.hpp"

#include "sensors/first_bytes.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::sensors;
using rindwatch::rules::Millis;
using std::chrono::hours;
using std::chrono::minutes;

TEST_CASE("the first bytes of a payload can be shown whatever they are") {
  CHECK(FirstBytes("12.5 C") == "12.5 C");
  CHECK(FirstBytes("a\\b\n\x01\xc2\xb0") == "a\\\\b\\x0a\\x01\\xc2\\xb0");
  CHECK(FirstBytes(std::string("\0", 1)) == "\\x00");
  CHECK(FirstBytes("") == "");
  CHECK(FirstBytes("abcdef", 6) == "abcdef");
  CHECK(FirstBytes("abcdefg", 6) == "abcdef...");
  CHECK(FirstBytes(std::string(1 << 20, '\x1b')).size() == 80 * 4 + 3);
}

TEST_CASE("a topic is logged once an hour and counted each time") {
  InvalidLog log;
  const Millis start = hours{5};
  CHECK(log.Count("a", "abc", "expected a number", start) == "topic \"a\": expected a number (payload \"abc\")");
  CHECK_FALSE(log.Count("a", "abd", "expected a number", start + minutes{1}));
  CHECK_FALSE(log.Count("a", "abe", "expected another", start + hours{1} - Millis{1}));
  CHECK(log.Count("b", "x", "why", start + minutes{2}));
  CHECK(log.Count("a", "abf", "expected a number", start + hours{1}) ==
        "topic \"a\": expected a number (payload \"abf\"); 2 more since the last line about it");
  CHECK_FALSE(log.Count("a", "abf", "expected a number", start + hours{1} + minutes{59}));
  CHECK(log.Total() == 6);
  CHECK(log.Topics().at("a").count == 5);
  CHECK(log.Topics().at("a").first_bytes == "abf");
  CHECK(log.Topics().at("b").why == "why");
}

TEST_CASE("a topic's name cannot break the log's line") {
  InvalidLog log;
  CHECK(log.Count("a\nb", "x", "why", Millis{0}) == "topic \"a\\x0ab\": why (payload \"x\")");
}

TEST_CASE("topics without end are counted together") {
  InvalidLog log;
  std::size_t lines = 0;
  for (int i = 0; i < 5'000; ++i) lines += log.Count("topic " + std::to_string(i), "x", "why", Millis{0}) ? 1 : 0;
  CHECK(log.Topics().size() == InvalidLog::kMostTopics);
  CHECK(lines == InvalidLog::kMostTopics);
  CHECK(log.Total() == 5'000);
  CHECK(log.Topics().at("(other topics)").count == 5'000 - static_cast<std::int64_t>(InvalidLog::kMostTopics) + 1);
}
