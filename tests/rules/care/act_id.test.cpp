#include "rules/care/act_id.hpp"

#include <algorithm>
#include <random>
#include <unordered_set>
#include <vector>

#include "tests/catch.hpp"

using rindwatch::rules::ActId;

namespace {

const std::vector<std::string> kTexts{"",
                                      "started 1764000000000",
                                      "0",
                                      "0123456789abcdef0123456789abcdef",
                                      "0123456789abcdef0123456789abcdee",
                                      "ffffffffffffffffffffffffffffffff",
                                      "00000000000000000000000000000000",
                                      "00000000000000000000000000000001",
                                      "00000000000000010000000000000000",
                                      "0123456789ABCDEF0123456789abcdef",
                                      "0123456789abcdef0123456789abcdef/2",
                                      "0123456789abcdef0123456789abcde",
                                      "0123456789abcdef0123456789abcdeg"};

}  // namespace

TEST_CASE("an id is the text that it was made of, also after it was copied, moved and assigned") {
  for (const std::string& text : kTexts) {
    INFO(text);
    const ActId id{text};
    CHECK(id.Text() == text);
    CHECK(id.Empty() == text.empty());
    ActId copy{id};
    CHECK(copy.Text() == text);
    const ActId moved{std::move(copy)};
    CHECK(moved.Text() == text);
    for (const std::string& other : kTexts) {
      ActId assigned{other};
      assigned = id;
      CHECK(assigned.Text() == text);
      assigned = ActId{other};
      CHECK(assigned.Text() == other);
    }
  }
}

TEST_CASE("ids are equal and ordered as their texts") {
  for (const std::string& a : kTexts) {
    for (const std::string& b : kTexts) {
      INFO(a << " | " << b);
      CHECK((ActId{a} == ActId{b}) == (a == b));
      CHECK((ActId{a} < ActId{b}) == (a < b));
      if (a == b) CHECK(ActId{a}.Hash() == ActId{b}.Hash());
    }
  }
  static_assert(sizeof(ActId) == 16);
}
