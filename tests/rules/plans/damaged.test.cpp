// A plan text damaged by chance never stops the program: it reads, or it says why not.
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

std::vector<std::string> LibraryTexts() {
  std::vector<std::string> texts;
  for (const Plan& plan : PlanLibrary()) {
    std::ifstream file(RINDWATCH_SOURCE_DIR "/rules/plans/library/" + plan.id + ".toml");
    std::ostringstream text;
    text << file.rdbuf();
    texts.push_back(text.str());
  }
  return texts;
}

class Vandal {
 public:
  explicit Vandal(unsigned seed) : random_(seed) {}

  std::string Damage(std::string text) {
    for (int i = Below(6) + 1; i > 0 && !text.empty(); --i) DamageOnce(text);
    return text;
  }

 private:
  int Below(std::size_t n) { return static_cast<int>(std::uniform_int_distribution<std::size_t>(0, n - 1)(random_)); }
  std::size_t Place(const std::string& text) { return static_cast<std::size_t>(Below(text.size())); }

  void DamageOnce(std::string& text) {
    static const char* const kPieces[] = {"-1",
                                          "1e309",
                                          "nan",
                                          "99999999999999999999",
                                          "[[parts]]",
                                          "[parts]",
                                          "\"",
                                          "{",
                                          "}",
                                          "= ",
                                          "\n",
                                          "\0x",
                                          "true",
                                          "'''",
                                          "[[parts.stages.cares]]\n",
                                          "first_day = 3\n",
                                          "\xff\xfe",
                                          "0x7fffffff",
                                          "1979-05-27",
                                          "inf",
                                          "kinds = [[]]\n",
                                          "low = \"\"",
                                          "#",
                                          "2147483648"};
    const std::size_t at = Place(text);
    switch (Below(6)) {
      case 0:
        text[at] = static_cast<char>(Below(256));
        break;
      case 1:
        text.erase(at, static_cast<std::size_t>(Below(40)));
        break;
      case 2:
        text.insert(at, kPieces[Below(std::size(kPieces))]);
        break;
      case 3:
        text.resize(at);
        break;
      case 4:
        ChangeFigure(text, at);
        break;
      default:
        MoveLine(text, at);
    }
  }

  void ChangeFigure(std::string& text, std::size_t at) {
    const std::size_t digit = text.find_first_of("0123456789", at);
    if (digit != std::string::npos) text[digit] = static_cast<char>('0' + Below(10));
  }

  void MoveLine(std::string& text, std::size_t at) {
    const std::size_t begin = text.rfind('\n', at) == std::string::npos ? 0 : text.rfind('\n', at) + 1;
    const std::size_t end = std::min(text.find('\n', at), text.size() - 1) + 1;
    if (end <= begin) return;
    const std::string line = text.substr(begin, end - begin);
    text.erase(begin, line.size());
    text.insert(text.empty() ? 0 : Place(text), line);
  }

  std::mt19937 random_;
};

}  // namespace

TEST_CASE("a damaged plan text reads or says why not, and never throws") {
  const std::vector<std::string> texts = LibraryTexts();
  int read = 0;
  for (unsigned seed = 0; seed < 1500; ++seed) {
    const std::string damaged = Vandal(seed).Damage(texts[seed % texts.size()]);
    INFO("seed " << seed);
    PlanReading reading;
    REQUIRE_NOTHROW(reading = ReadPlan(damaged, "damaged"));
    REQUIRE(reading.plan.has_value() == reading.faults.empty());
    for (const PlanFault& fault : reading.faults) {
      REQUIRE(!fault.what.empty());
      REQUIRE(fault.line >= 0);
    }
    // What reads is sound by the checks that need no text.
    if (reading.plan) {
      ++read;
      REQUIRE(CheckPlan(*reading.plan).empty());
    }
  }
  CHECK(read > 0);
}

TEST_CASE("texts that are nothing at all say so") {
  for (const std::string& text : {std::string{}, std::string(3, '\0'), std::string("[[[[[[[["), std::string(400, '['),
                                  "x = " + std::string(5000, '['), std::string(2 << 20, '#')}) {
    const PlanReading reading = ReadPlan(text, "nothing");
    CHECK(!reading.plan);
    CHECK(!reading.faults.empty());
  }
}
