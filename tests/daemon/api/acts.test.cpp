// Acts over the router: answered when they are on disk, counted once, refused in one sentence.
#include "daemon/api/act_desk.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

struct Kept {
  TempFolder folder;
  std::unique_ptr<Household> house;

  Kept() {
    Start();
    house->Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 5), 2));
  }
  void Start() {
    const rules::Instant now = house ? house->Now() : kThursday;
    house.reset();
    house = std::make_unique<Household>(folder / "rind.db", now);
    house->Begin();
  }
  int Lines(const char* kind) {
    return static_cast<int>(std::ranges::count(house->Journal(), kind, &JournalLine::kind));
  }
};

json::object ErrorOf(const web::Response& response) {
  return json::parse(response.body).as_object().at("error").as_object();
}

TEST_CASE("an act is answered with its position in the journal, and its line holds the bytes that came") {
  Kept kept;
  const std::string body = kept.house->Act("care", Care({1, 2}, {"wash"}));
  const web::Response response = kept.house->Post(body);
  REQUIRE(response.status == 200);
  const json::object answer = json::parse(response.body).as_object();
  const JournalLine line = kept.house->Journal().back();
  CHECK(answer.at("position").to_number<std::int64_t>() == line.position);
  CHECK(answer.at("id").as_string() == line.id);
  CHECK(answer.at("cave").to_number<int>() == 1);
  CHECK(line.body == body);
}

TEST_CASE("the same bytes get the same answer and count once, whenever they come again") {
  Kept kept;
  const std::string body = kept.house->Act("care", Care({1}, {"wash"}));
  const web::Response first = kept.house->Post(body, kept.house->Now());
  kept.house->StepTo(kept.house->Now() + 3h);
  const web::Response again = kept.house->Post(body, kept.house->Now());
  CHECK(again.status == 200);
  CHECK(again.body == first.body);
  SECTION("after a kill too") {
    kept.Start();
    CHECK(kept.house->Post(body).body == first.body);
  }
  SECTION("and when it could not be taken any more") {
    const json::object entered = json::parse(kept.house->Journal()[1].body).as_object();
    kept.house->Do("undo", {{"of", entered.at("id")}});
    CHECK(kept.house->Post(kept.house->Act("care", Care({1}, {"wash"}))).status == 422);
    CHECK(kept.house->Post(body).body == first.body);
  }
  CHECK(kept.Lines("care") == 1);
}

TEST_CASE("the same id with other bytes is a conflict, and the first stays") {
  Kept kept;
  json::object act = json::parse(kept.house->Act("care", Care({1}, {"wash"}))).as_object();
  const web::Response first = kept.house->Post(json::serialize(act));
  act["done"] = json::array{"turn"};
  const web::Response other = kept.house->Post(json::serialize(act));
  CHECK(other.status == 409);
  CHECK_THAT(std::string(ErrorOf(other).at("what").as_string()), Says("the first stays"));
  // Only the bytes count: the same act written another way is another act.
  CHECK(kept.house->Post(" " + json::serialize(act)).status == 409);
  CHECK(kept.Lines("care") == 1);
  CHECK(json::parse(kept.house->Journal().back().body).as_object().at("done") == json::value(json::array{"wash"}));
}

TEST_CASE("a store that refuses is told of, and the act can come again") {
  Kept kept;
  const std::string body = kept.house->Act("care", Care({1}, {"wash"}));
  kept.house->TheStore().refusing = true;
  const web::Response refused = kept.house->Post(body);
  CHECK(refused.status == 503);
  CHECK_THAT(std::string(ErrorOf(refused).at("what").as_string()), Says("The disk is full."));
  CHECK_THAT(std::string(ErrorOf(refused).at("do").as_string()), Says("send it again"));
  CHECK(kept.Lines("care") == 0);
  CHECK(kept.house->TheBook().Wheel(1)->History().acts.empty());
  kept.house->TheStore().refusing = false;
  CHECK(kept.house->Post(body).status == 200);
  CHECK(kept.Lines("care") == 1);
}

TEST_CASE("what is wrong with an act is said with its field, what was expected, found, and what to do") {
  Kept kept;
  json::object enter = PressedWheels(1, InCave(1));
  enter["made"] = DaysAgo(-2);
  const web::Response response = kept.house->Post(kept.house->Act("enter", enter));
  CHECK(response.status == 422);
  const json::object error = ErrorOf(response);
  CHECK(error.at("what").as_string() == "2026-03-14 lies in the future; today is 2026-03-12.");
  CHECK(error.at("field").as_string() == "made");
  CHECK(error.at("expected").as_string() == "today or an earlier day");
  CHECK(error.at("found").as_string() == "2026-03-14");
  CHECK(error.at("do").as_string() == "Choose the day on which it happened.");
}

TEST_CASE("a header that is no clock is refused, and one that is moves the act") {
  Kept kept;
  web::Request request;
  request.method = "POST";
  request.path = "/api/acts";
  request.body = kept.house->Act("care", Care({1}, {"wash"}));
  for (const char* wrong : {"", "now", "-1", "1.5", "99999999999999", "1773302400000 "}) {
    CAPTURE(wrong);
    request.headers["sent-at"] = wrong;
    const web::Response response = kept.house->Ask(request);
    CHECK(response.status == 422);
    CHECK(ErrorOf(response).at("field").as_string() == "Sent-At");
  }
  // A phone that is an hour ahead at the sending tapped an hour earlier than it says.
  request.headers["sent-at"] = std::to_string(ToMillis(kept.house->Now() + 1h));
  const json::object answer = json::parse(kept.house->Ask(request).body).as_object();
  CHECK(answer.at("at").to_number<std::int64_t>() == ToMillis(kept.house->Now() - 1h));
}

TEST_CASE("bytes that are no act are refused and never end the watch") {
  Kept kept;
  const std::size_t lines = kept.house->Journal().size();
  for (const std::string& body :
       {std::string(), std::string("{"), std::string("[]"), std::string(20'000, '['), std::string("\xff\xfe{}"),
        std::string(R"({"id": 1e309})"), kept.house->Act("melt", {}), kept.house->Act("care", {}),
        kept.house->Act("care", {{"wheels", Ids({1})}, {"done", 3}}), kept.house->Act("undo", {{"of", nullptr}}),
        kept.house->Act("enter", {{"plan", "bloomy"}}), kept.house->Act("limits", {{"cave", "1"}}),
        kept.house->Act("probe", {{"channels", json::array{nullptr}}})}) {
    CAPTURE(body);
    CHECK(kept.house->Post(body).status == 422);
  }
  CHECK(kept.house->Journal().size() == lines);
}

// Acts of two phones that come while the store still writes the first.
struct Rush {
  explicit Rush(Household& of) : house(of) {}
  void Send(const std::string& body) {
    web::Request request;
    request.method = "POST";
    request.path = "/api/acts";
    request.body = body;
    answers.emplace_back();
    desk->Take(request, [this, n = answers.size() - 1](web::Response answer) { answers[n] = std::move(answer); });
  }
  void Wait() {
    while (std::ranges::any_of(answers, [](const auto& answer) { return !answer; })) house.Settle();
  }
  Household& house;
  std::shared_ptr<ActDesk> desk = std::make_shared<ActDesk>(house.Context());
  std::deque<std::optional<web::Response>> answers;
};

TEST_CASE("wheels that enter at once from two phones get numbers of their own") {
  Kept kept;
  Rush rush(*kept.house);
  for (int phone = 0; phone < 4; ++phone) {
    rush.Send(kept.house->Act("enter", PressedWheels(2, NewCave("box"))));
  }
  rush.Wait();
  std::vector<std::int64_t> wheels;
  for (const auto& answer : rush.answers) {
    REQUIRE(answer->status == 200);
    const json::value said = json::parse(answer->body);
    for (const auto& id : said.at("wheels").as_array()) wheels.push_back(id.to_number<std::int64_t>());
  }
  CHECK(wheels == std::vector<std::int64_t>{3, 4, 5, 6, 7, 8, 9, 10});
  CHECK(kept.house->TheBook().Caves().size() == 5);
  CHECK(kept.house->TheBook().Wheels().size() == 10);
}

TEST_CASE("the same bytes sent many times at once count once and get one answer") {
  Kept kept;
  Rush rush(*kept.house);
  const std::string body = kept.house->Act("care", Care({1}, {"wash"}));
  for (int times = 0; times < 6; ++times) rush.Send(body);
  rush.Wait();
  for (const auto& answer : rush.answers) {
    CHECK(answer->status == 200);
    CHECK(answer->body == rush.answers.front()->body);
  }
  CHECK(kept.Lines("care") == 1);
}

TEST_CASE("an act that is refused holds back none behind it") {
  Kept kept;
  Rush rush(*kept.house);
  rush.Send("{");
  rush.Send(kept.house->Act("care", Care({99}, {"wash"})));
  rush.Send(kept.house->Act("care", Care({1}, {"wash"})));
  rush.Wait();
  CHECK(rush.answers[0]->status == 422);
  CHECK(rush.answers[1]->status == 422);
  CHECK(rush.answers[2]->status == 200);
}

}  // namespace
}  // namespace rindwatch
