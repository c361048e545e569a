#include "web/events.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

namespace {

struct Listener {
  std::string heard;
  Events::Subscription subscription;

  Listener(Events& events, const std::string& after) {
    subscription = events.Subscribe(after, [this](const Events::Frame& frame) { heard += *frame; });
  }
  std::string Take() {
    std::string out;
    out.swap(heard);
    return out;
  }
};

Event Make(const std::string& data) { return {.id = {}, .name = "round", .data = data}; }

}  // namespace

TEST_CASE("ids ascend, and carry the run") {
  Events events({.history = 10, .history_bytes = 1000, .run = "55"});
  CHECK(events.LastId() == "55-0");
  CHECK(events.Publish(Make("a")) == "55-1");
  CHECK(events.Publish({"mine", "round", "b"}) == "55-2");
  CHECK(events.LastId() == "55-2");
}

TEST_CASE("every reader hears what is published while it listens") {
  Events events;
  Listener first(events, "");
  CHECK(first.Take() == "retry: 2000\nid: 1-0\n\n");
  events.Publish(Make("a"));
  Listener second(events, "");
  CHECK(second.Take() == "retry: 2000\nid: 1-1\n\n");
  events.Publish(Make("b"));
  CHECK(first.Take() == "id: 1-1\nevent: round\ndata: a\n\nid: 1-2\nevent: round\ndata: b\n\n");
  CHECK(second.Take() == "id: 1-2\nevent: round\ndata: b\n\n");
  CHECK(events.Readers() == 2);
  second.subscription.reset();
  CHECK(events.Readers() == 1);
  events.Publish(Make("c"));
  CHECK(second.Take().empty());
}

TEST_CASE("a reader resumes after any id that is still known, and no earlier") {
  Events events({.history = 4, .history_bytes = 100000, .run = "1"});
  for (int i = 1; i <= 6; ++i) events.Publish(Make(std::to_string(i)));
  // Kept are 3, 4, 5, 6.
  CHECK(Listener(events, "1-6").Take() == "retry: 2000\nid: 1-6\n\n");
  CHECK(Listener(events, "1-5").Take() == "retry: 2000\n\nid: 1-6\nevent: round\ndata: 6\n\n");
  CHECK(Listener(events, "1-2").Take().find("data: 3\n") != std::string::npos);
  const std::string reload = "retry: 2000\nid: 1-6\nevent: reload\ndata: {}\n\n";
  for (const char* id : {"1-1", "1-0", "1-7", "2-6", "1-", "-6", "1-6x", "1--6", "1-99999999999999999999", "\x80"}) {
    INFO(id);
    CHECK(Listener(events, id).Take() == reload);
  }
}

TEST_CASE("the history is bounded by bytes as well") {
  Events events({.history = 100, .history_bytes = 1000, .run = "1"});
  for (int i = 1; i <= 10; ++i) events.Publish(Make(std::string(300, 'x')));
  CHECK(Listener(events, "1-7").Take().find("reload") == std::string::npos);
  CHECK(Listener(events, "1-6").Take().find("reload") != std::string::npos);
  events.Publish(Make(std::string(5000, 'x')));
  CHECK(Listener(events, "1-10").Take().find("reload") != std::string::npos);
  CHECK(Listener(events, "1-11").Take() == "retry: 2000\nid: 1-11\n\n");
}

TEST_CASE("what passes is heard now, has no id and does not come again") {
  Events events;
  events.Publish(Make("a"));
  Listener listener(events, "");
  listener.Take();
  events.Pass({"x", "clock", "{\"now\":1}"});
  CHECK(listener.Take() == "event: clock\ndata: {\"now\":1}\n\n");
  CHECK(events.LastId() == "1-1");
  CHECK(Listener(events, "1-0").Take() == "retry: 2000\n\nid: 1-1\nevent: round\ndata: a\n\n");
}

TEST_CASE("data of several lines stays one event (HTML standard, section 9.2.5: event stream format)") {
  Events events;
  Listener listener(events, "");
  listener.Take();
  for (const auto& [data, fields] : std::vector<std::pair<std::string, std::string>>{
           {"a\nb", "data: a\ndata: b\n"},
           {"a\r\nb", "data: a\ndata: b\n"},
           {"a\rb", "data: a\ndata: b\n"},
           {"a\n", "data: a\ndata: \n"},
           {"", "data: \n"},
           {"a\n\nid: evil", "data: a\ndata: \ndata: id: evil\n"},
       }) {
    events.Pass(Make(data));
    CHECK(listener.Take() == "event: round\n" + fields + "\n");
  }
}

TEST_CASE("readers may go while an event is handed out") {
  Events events;
  std::vector<Events::Subscription> subscriptions(3);
  int heard = 0;
  for (auto& subscription : subscriptions) {
    subscription = events.Subscribe("", [&](const Events::Frame&) {
      // The first one to be told lets go of all.
      ++heard;
      if (heard == 4) subscriptions.clear();
    });
  }
  CHECK(heard == 3);
  events.Publish(Make("a"));
  CHECK(heard == 4);
  CHECK(events.Readers() == 0);
}

TEST_CASE("a subscription may outlive the hub") {
  Events::Subscription subscription;
  {
    Events events;
    subscription = events.Subscribe("", [](const Events::Frame&) {});
  }
  subscription.reset();
  SUCCEED("letting go is harmless");
}
