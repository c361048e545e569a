#include "web/connections.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

namespace {

struct Fake final : Connection {
  Connections& list;
  std::optional<Time> idle;
  int cut = 0;
  int finished = 0;

  Fake(Connections& in, const std::string& address, std::optional<int> idle_since) : list(in) {
    if (idle_since) idle = Time(std::chrono::seconds(*idle_since));
    list.Enter(*this, address);
  }
  void Cut() noexcept override {
    ++cut;
    list.Leave(*this);
  }
  void Finish() noexcept override { ++finished; }
  std::optional<Time> IdleSince() const noexcept override { return idle; }
};

}  // namespace

TEST_CASE("there is room until the places are taken, then the longest idle goes") {
  Connections list(3, 3);
  CHECK(list.MakeRoom("a"));
  Fake first(list, "a", 30), second(list, "b", 10), third(list, "c", std::nullopt);
  CHECK(list.MakeRoom("d"));
  CHECK(second.cut == 1);
  CHECK(first.cut == 0);
  Fake fourth(list, "d", std::nullopt);
  CHECK(list.MakeRoom("e"));
  CHECK(first.cut == 1);
  Fake fifth(list, "e", std::nullopt);
  CHECK_FALSE(list.MakeRoom("f"));
  CHECK(list.Size() == 3);
}

TEST_CASE("an address that used up its share makes room from its own") {
  Connections list(10, 2);
  Fake stranger(list, "b", 1), first(list, "a", 20), second(list, "a", 30);
  CHECK(list.MakeRoom("a"));
  CHECK(first.cut == 1);
  CHECK(stranger.cut == 0);
  Fake third(list, "a", std::nullopt);
  second.idle.reset();
  CHECK_FALSE(list.MakeRoom("a"));
  CHECK(list.MakeRoom("b"));
}

TEST_CASE("the last to leave is noticed, and leaving twice is harmless") {
  Connections list(3, 3);
  int empty = 0;
  list.OnEmpty([&] { ++empty; });
  Fake a(list, "a", 1), b(list, "a", 1);
  list.Leave(a);
  list.Leave(a);
  CHECK(empty == 0);
  list.FinishAll();
  CHECK(a.finished == 0);
  CHECK(b.finished == 1);
  CHECK(list.CutAll() == 1);
  CHECK(empty == 1);
  CHECK(list.CutAll() == 0);
  CHECK(empty == 1);
}
