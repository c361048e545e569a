#include "daemon/notices/queue.hpp"

#include <boost/json.hpp>

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/notices/post.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using testing::Post;

// A queue on a real store and a stepped clock.
struct Queued {
  TempFolder folder;
  Post post;
  std::unique_ptr<Household> house;
  std::unique_ptr<NoticeQueue> queue;
  std::vector<std::size_t> sizes;  // of the letters that went
  bool rests = false;              // calls wait for the end of quiet hours

  Queued() { Start(kThursday); }
  void Start(rules::Instant now) {
    queue.reset();
    house.reset();
    house = std::make_unique<Household>(folder / "rind.db", now);
    house->Begin();
    queue = std::make_unique<NoticeQueue>(
        house->TheStore(), house->Schedules(), house->TheClock(), &post,
        NoticeQueue::Hooks{[this](const std::vector<const NoticeRow*>& rows) {
                             sizes.push_back(rows.size());
                             return LetterFrom(rows.front()->letter);
                           },
                           [](const NoticeRow& row, const Letter& letter, std::string& why) -> std::optional<Parcel> {
                             if (row.address == "nowhere") {
                               why = "there is no way";
                               return std::nullopt;
                             }
                             Parcel parcel;
                             parcel.to = row.address;
                             parcel.message = "Subject: " + letter.subject + "\r\nMessage-ID";
                             return parcel;
                           },
                           [](const NoticeRow&) {},
                           [this](const std::vector<const NoticeRow*>& rows) {
                             return rests && !IsList(rows.front()->kind) ? std::optional(house->Now() + 1h)
                                                                         : std::nullopt;
                           }});
  }
  NoticeRow Row(const std::string& subject, const char* kind = "rings", const char* to = "ih@cave.example") {
    Letter letter;
    letter.subject = subject;
    NoticeRow row;
    row.key = subject + " | mail " + to;
    row.kind = kind;
    row.way = "mail";
    row.address = to;
    row.alarm = IsList(kind) ? "" : "a";
    row.made_at = row.asked = house->Now();
    row.letter = boost::json::serialize(ToJson(letter));
    return row;
  }
  static bool IsList(const std::string& kind) { return kind == "morning" || kind == "evening"; }
  void Put(std::vector<NoticeRow> rows) {
    queue->Put(std::move(rows));
    house->Settle();
  }
  void Let(rules::Millis span) {
    house->StepTo(house->Now() + span);
    house->Settle();
  }
  std::vector<NoticeRow> Kept() {
    std::optional<std::vector<NoticeRow>> rows;
    house->TheStore().NoticesSince(rules::Instant{}, [&rows](std::vector<NoticeRow> all) { rows = std::move(all); });
    while (!rows) house->Settle();
    return *rows;
  }
  std::vector<std::string> States() {
    std::vector<std::string> states;
    for (const NoticeRow& row : Kept()) states.push_back(row.state);
    return states;
  }
  // As a start after a crash finds it.
  void Restart(rules::Millis later) {
    Start(house->Now() + later);
    queue->Load(Kept());
    house->Settle();
  }
};

using States = std::vector<std::string>;

}  // namespace

TEST_CASE("a notice is on disk before it is sent, and sent once") {
  Queued q;
  q.Put({q.Row("one")});
  CHECK(q.States() == States{"waiting"});
  CHECK(q.post.sent.empty());
  q.Let(5s);
  CHECK(q.post.Subjects() == States{"one"});
  CHECK(q.States() == States{"sent"});
  q.Let(2h);
  q.Restart(1h);
  q.Let(2h);
  CHECK(q.post.sent.size() == 1);
}

TEST_CASE("a hundred at once are one letter") {
  Queued q;
  for (int i = 0; i < 100; ++i) q.Put({q.Row("alarm " + std::to_string(i))});
  q.Let(1h);
  CHECK(q.sizes == std::vector<std::size_t>{100});
  const States states = q.States();
  CHECK(states.front() == "sent");
  CHECK(std::ranges::count(states, "folded") == 99);
}

TEST_CASE("an address is written to at most twice a minute; another one does not wait for it") {
  Queued q;
  q.Put({q.Row("one"), q.Row("one", "rings", "tr@cave.example")});
  q.Let(5s);
  CHECK(q.post.sent.size() == 2);
  q.Put({q.Row("two")});
  q.Let(10s);
  q.Put({q.Row("three")});
  q.Let(10s);
  CHECK(q.post.sent.size() == 2);
  q.Let(30s);
  CHECK(q.post.sent.size() == 3);
  CHECK(q.sizes.back() == 2);
}

TEST_CASE("what cannot be sent now is tried again, further and further apart, and goes as one letter when it can") {
  Queued q;
  q.post.ready = false;
  q.post.answer = {Outcome::Kind::kNotNow, "nobody answers"};
  q.Put({q.Row("one")});
  q.Let(2h);
  CHECK(q.post.asked >= 7);
  CHECK(q.post.asked <= 10);
  CHECK(q.Kept()[0].why == "nobody answers");
  q.Put({q.Row("two")});
  q.Let(20h);
  const int asked = q.post.asked;
  CHECK(asked < 60);
  q.Restart(1h);
  q.post.ready = true;
  q.post.answer = {Outcome::Kind::kSent, "took it"};
  q.Let(1h);
  CHECK(q.post.sent.size() == 1);
  CHECK(q.sizes.back() == 2);
  CHECK(q.States() == States{"sent", "folded"});
}

TEST_CASE("what waits to be sent is known to the house, and news is tried at once") {
  Queued q;
  q.post.ready = false;
  q.post.answer = {Outcome::Kind::kNotNow, "nobody answers"};
  q.Put({q.Row("one")});
  q.Let(5min);
  CHECK_FALSE(q.queue->StuckSince());
  q.Let(3h);
  REQUIRE(q.queue->StuckSince());
  CHECK(q.house->Now() - *q.queue->StuckSince() >= 3h);
  const int asked = q.post.asked;
  q.post.ready = true;
  q.post.answer = {Outcome::Kind::kSent, "took it"};
  q.Put({q.Row("two")});
  q.Let(10s);
  CHECK(q.post.asked == asked + 1);
  CHECK(q.States() == States{"sent", "folded"});
  CHECK_FALSE(q.queue->StuckSince());
}

TEST_CASE("after three days it is given up, what is refused likewise") {
  Queued q;
  q.post.ready = false;
  q.post.answer = {Outcome::Kind::kNotNow, "nobody answers"};
  q.Put({q.Row("one")});
  q.Let(71h);
  CHECK(q.States() == States{"waiting"});
  q.Let(2h);
  CHECK(q.States() == States{"given up"});
  q.post.answer = {Outcome::Kind::kNever, "no such box"};
  q.Put({q.Row("two")});
  q.Let(1min);
  CHECK(q.States() == States{"given up", "refused"});
  CHECK_FALSE(q.queue->StuckSince());
  const int asked = q.post.asked;
  q.Let(29min);
  CHECK(q.post.asked == asked);
  q.Let(2min);
  CHECK(q.post.asked == asked + 1);
  q.Let(73h);
  CHECK(q.States() == States{"given up", "given up"});
}

TEST_CASE("a call that rests holds up no list, and makes none go again and again") {
  Queued q;
  q.rests = true;
  q.Put({q.Row("one"), q.Row("list", "morning")});
  q.post.answer = {Outcome::Kind::kNever, "no such box"};
  q.Let(20min);
  CHECK(q.post.asked == 1);
  CHECK(q.States() == States{"waiting", "refused"});
  q.post.answer = {Outcome::Kind::kSent, "took it"};
  q.Let(20min);
  CHECK(q.States() == States{"waiting", "sent"});
  q.rests = false;
  q.Let(1h);
  CHECK(q.States() == States{"sent", "sent"});
}

TEST_CASE("what was refused holds up nothing new, and goes as soon as anything goes through") {
  Queued q;
  q.post.answer = {Outcome::Kind::kNever, "no such box"};
  q.Put({q.Row("one"), q.Row("two")});
  q.Let(1min);
  CHECK(q.States() == States{"refused", "refused"});
  SECTION("after a restart it is tried again") {
    q.post.answer = {Outcome::Kind::kSent, "took it"};
    q.Restart(1h);
    q.Let(1min);
    CHECK(q.States() == States{"sent", "folded"});
  }
  SECTION("by what is new, which goes by itself") {
    q.post.answer = {Outcome::Kind::kSent, "took it"};
    NoticeRow three = q.Row("three");
    three.alarm = "b";
    q.Put({three});
    q.Let(10s);
    CHECK(q.States() == States{"refused", "refused", "sent"});
    CHECK(q.sizes.back() == 1);
    q.Let(1min);
    CHECK(q.States() == States{"sent", "folded", "sent"});
  }
  SECTION(
      "a list does not wait at all for what may be refused for good, and takes its turn once it was refused itself") {
    q.Put({q.Row("list", "morning")});
    q.Let(10s);
    const States first = q.post.Subjects();
    CHECK(std::ranges::count(first, "list") > 0);
    q.post.sent.clear();
    q.Let(3h);
    const States tried = q.post.Subjects();
    CHECK(std::ranges::count(tried, "list") == 6);
    CHECK(std::ranges::count(tried, "one") == 6);
  }
  SECTION("not at all, where what came later has told of the same alarm") {
    q.post.answer = {Outcome::Kind::kSent, "took it"};
    q.post.sent.clear();
    q.Put({q.Row("over", "over")});
    q.Let(2h);
    CHECK(q.post.Subjects() == States{"over"});
    CHECK(q.States() == States{"folded", "folded", "sent"});
    CHECK(q.Kept()[0].within == q.Kept()[2].number);
  }
  SECTION("by a test message") {
    q.post.answer = {Outcome::Kind::kSent, "took it"};
    q.queue->GoesThrough("mail", q.Row("one").address);
    q.Let(1min);
    CHECK(q.States() == States{"sent", "folded"});
  }
}

TEST_CASE("killed while it is handed over: whether it arrived cannot be known, and it is not sent again") {
  Queued q;
  q.post.answers = false;
  q.Put({q.Row("one")});
  q.Let(5s);
  CHECK(q.States() == States{"handing"});
  q.post.answers = true;
  q.Restart(1min);
  q.Let(2h);
  CHECK(q.post.sent.size() == 1);
  CHECK(q.States() == States{"doubtful"});
}

TEST_CASE("killed before anything of it left: it is sent afterwards") {
  Queued q;
  q.Put({q.Row("one")});
  q.Restart(1min);
  q.Let(1min);
  CHECK(q.post.Subjects() == States{"one"});
  CHECK(q.States() == States{"sent"});
}

TEST_CASE("the same is never kept twice") {
  Queued q;
  q.Put({q.Row("one")});
  q.Let(1min);
  q.Restart(1min);
  NoticeRow again = q.Row("one");
  std::optional<std::vector<std::int64_t>> numbers;
  q.house->TheStore().WriteNotices({again}, [&numbers](std::vector<std::int64_t> all) { numbers = std::move(all); });
  q.house->Settle();
  REQUIRE(numbers);
  CHECK(*numbers == std::vector<std::int64_t>{1});
  CHECK(q.States() == States{"sent"});
}

TEST_CASE("a disk that is full keeps no alarm from being told; it is written when there is room") {
  Queued q;
  q.house->TheStore().refusing = true;
  q.Put({q.Row("one")});
  q.Let(10s);
  CHECK(q.post.Subjects() == States{"one"});
  CHECK(q.States().empty());
  q.house->TheStore().refusing = false;
  q.Let(5min);
  CHECK(q.States() == States{"sent"});
  CHECK(q.post.sent.size() == 1);
}

TEST_CASE("of lists that waited the newest goes, and overtakes the others") {
  Queued q;
  q.post.ready = false;
  q.post.answer = {Outcome::Kind::kNotNow, "nobody answers"};
  q.Put({q.Row("thursday", "morning")});
  q.Let(23h);
  q.Put({q.Row("friday", "morning")});
  q.post.ready = true;
  q.post.answer = {Outcome::Kind::kSent, "took it"};
  q.Let(1h);
  CHECK(q.post.Subjects() == States{"friday"});
  CHECK(q.States() == States{"folded", "sent"});
}

TEST_CASE("what a clock that was ahead made goes once it is set back, with what is made then") {
  Queued q;
  NoticeRow ahead = q.Row("ahead");
  ahead.made_at += 24h;
  q.Put({ahead, q.Row("now")});
  q.Let(10s);
  CHECK(q.States() == States{"sent", "folded"});
}

TEST_CASE("a list whose day is over before it could go is given up") {
  Queued q;
  q.post.ready = false;
  q.post.answer = {Outcome::Kind::kNotNow, "nobody answers"};
  q.Put({q.Row("thursday", "morning")});
  q.Let(23h);
  CHECK(q.States() == States{"waiting"});
  q.Let(2h);
  CHECK(q.States() == States{"given up"});
  q.post.ready = true;
  q.Let(2h);
  CHECK(q.post.sent.empty());
}

TEST_CASE("an address without a way waits and says why") {
  Queued q;
  q.Put({q.Row("one", "rings", "nowhere")});
  q.Let(1min);
  CHECK(q.States() == States{"waiting"});
  CHECK(q.Kept()[0].why == "there is no way");
  q.Let(75h);
  CHECK(q.States() == States{"given up"});
}

TEST_CASE("where nothing leaves the house what would have gone is shown, folded as it would have gone") {
  Queued q;
  const auto together = [](const std::vector<const NoticeRow*>& rows) {
    Letter letter;
    letter.subject = std::to_string(rows.size()) + " together";
    return letter;
  };
  NoticeQueue shown(q.house->TheStore(), q.house->Schedules(), q.house->TheClock(), nullptr,
                    {together, [](const auto&, const auto&, auto&) { return std::nullopt; }, [](const auto&) {}});
  shown.Put({q.Row("one")});
  shown.Put({q.Row("two")});
  q.house->Settle();
  q.Let(1h);
  CHECK(q.States() == States{"shown", "folded"});
  CHECK(LetterFrom(q.Kept()[0].letter).subject == "2 together");
  CHECK(q.Kept()[1].within == q.Kept()[0].number);
  // A list behind an alarm goes by itself, half a minute later.
  shown.Put({q.Row("alarm"), q.Row("list", "morning")});
  q.house->Settle();
  q.Let(10s);
  CHECK(q.States() == States{"shown", "folded", "shown", "waiting"});
  q.Let(1min);
  CHECK(q.States() == States{"shown", "folded", "shown", "shown"});
  shown.Put({q.Row("three")});
  q.house->Settle();
  q.Let(1h);
  CHECK(LetterFrom(q.Kept()[4].letter).subject == "1 together");
}

namespace {

// A keeper whose letter waits, for nothing answers.
struct Moving : Queued {
  Moving() {
    HearBy({"ih@cave.example"});
    Net(false);
    Put({Row("one")});
    Let(5s);
  }
  void HearBy(const std::vector<std::string>& addresses) {
    NoticeQueue::Addresses hears;
    for (const std::string& address : addresses) hears[""].insert({"mail", address});
    if (addresses.empty()) hears[""] = {};
    queue->Hears(std::move(hears));
    house->Settle();
  }
  void Net(bool up) {
    post.ready = up;
    post.answer = up ? Outcome{Outcome::Kind::kSent, "took it"} : Outcome{Outcome::Kind::kNotNow, "no way there"};
  }
  // To whom what was written by now has gone, once everything goes.
  std::vector<std::string> Went() {
    Net(true);
    Let(2h);
    std::vector<std::string> to;
    for (const Parcel& parcel : post.sent) to.push_back(parcel.to);
    return to;
  }
};

}  // namespace

TEST_CASE("a change of address that is undone within a minute loses nothing, and sends nothing elsewhere") {
  Moving moving;
  const std::vector<std::string> meanwhile =
      GENERATE(std::vector<std::string>{}, std::vector<std::string>{"new@cave.example"});
  moving.HearBy(meanwhile);
  moving.Net(true);
  moving.Let(50s);
  CHECK(moving.post.sent.empty());
  moving.HearBy({"ih@cave.example"});
  CHECK(moving.Went() == States{"ih@cave.example"});
  CHECK(moving.States() == States{"sent"});
}

TEST_CASE("one that is undone later brings back what has not gone, also over a restart, and nothing twice") {
  Moving moving;
  moving.HearBy({"new@cave.example"});
  moving.Let(2min);
  CHECK(moving.States() == States{"given up", "waiting"});
  moving.HearBy({"ih@cave.example"});
  if (GENERATE(true, false)) {
    moving.Restart(1min);
    moving.HearBy({"ih@cave.example"});
  }
  moving.Let(2min);
  CHECK(moving.States() == States{"waiting", "given up"});
  moving.Restart(1min);
  moving.HearBy({"ih@cave.example"});
  CHECK(moving.Went() == States{"ih@cave.example"});
  CHECK(moving.States() == States{"sent", "given up"});
}

TEST_CASE("of two addresses one is changed while the other has told it: the new one hears it, the old one not") {
  Moving moving;
  moving.HearBy({"ih@cave.example", "two@cave.example"});
  moving.Put({moving.Row("two", "rings"), moving.Row("two", "rings", "two@cave.example")});
  moving.HearBy({"ih@cave.example", "three@cave.example"});
  moving.Let(2min);
  moving.HearBy({"ih@cave.example", "three@cave.example"});
  const States went = moving.Went();
  CHECK(std::ranges::count(went, "ih@cave.example") == 1);
  CHECK(std::ranges::count(went, "two@cave.example") == 0);
  CHECK(std::ranges::count(went, "three@cave.example") == 1);
}

}  // namespace rindwatch
