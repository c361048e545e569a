// What machines ask: figures, health, the description; and what is arriving from the broker, without a broker.
#include <regex>
#include <sstream>

#include "daemon/api/description.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

struct Fridge {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};
  Fridge() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  }
};

// OpenMetrics 1.0: families in one piece each, declared before their samples; the text ends with "# EOF".
// https://github.com/prometheus/OpenMetrics, the specification's sections on the text format, from memory.
TEST_CASE("the figures are OpenMetrics text") {
  Fridge fridge;
  fridge.house.Reads(11.5, 92);
  const web::Response response = fridge.house.Get("/metrics");
  CHECK(response.content_type == "application/openmetrics-text; version=1.0.0; charset=utf-8");
  CHECK(response.body.ends_with("\n# EOF\n"));
  std::istringstream lines(response.body);
  std::set<std::string> declared, sampled;
  std::string family, type;
  const std::regex sample(R"re(^([a-z][a-z0-9_]*)(\{[a-z]+="[^"]*"(?:,[a-z]+="[^"]*")*\})? ([-+.0-9e]+)$)re");
  for (std::string line; std::getline(lines, line) && line != "# EOF";) {
    std::smatch match;
    if (line.starts_with("# TYPE ")) {
      std::istringstream words(line.substr(7));
      words >> family >> type;
      if (!declared.insert(family).second) FAIL_CHECK(family << " is declared twice");
    } else if (!line.starts_with("# HELP ")) {
      if (!std::regex_match(line, match, sample)) FAIL_CHECK("no sample: " << line);
      const std::string name = match[1];
      if (name != (type == "counter" ? family + "_total" : family)) FAIL_CHECK(name << " stands under " << family);
      if (!sampled.insert(name + std::string(match[2])).second) FAIL_CHECK(line << " is there twice");
    }
  }
  CHECK(sampled.contains("rindwatch_readings_kept_total"));
  CHECK(sampled.contains("rindwatch_air_temperature_celsius{cave=\"1\",name=\"Fridge\"}"));
  CHECK(sampled.contains("rindwatch_alarms_untaken{severity=\"urgent\"}"));
}

TEST_CASE("two caves of one name are two samples, and a name may hold what text needs escaped") {
  Fridge fridge;
  fridge.house.Do("probe", AirProbe("Other air", "other/air", NewCave("room")));
  fridge.house.Do("cave", {{"cave", 1}, {"name", "A \"b\" \\ c\nd"}});
  fridge.house.Do("cave", {{"cave", 2}, {"name", "A \"b\" \\ c\nd"}});
  fridge.house.Reads(11.5, 92, 1);
  fridge.house.Reads(12.5, 92, 3);
  const std::string text = fridge.house.Get("/metrics").body;
  CHECK_THAT(text, Says(R"(rindwatch_air_temperature_celsius{cave="1",name="A \"b\" \\ c\nd"} 11.5)"));
  CHECK_THAT(text, Says(R"(rindwatch_air_humidity_ratio{cave="2",name="A \"b\" \\ c\nd"} 0.92)"));
}

TEST_CASE("health says whether what comes in is kept, and by which version") {
  Fridge fridge;
  const json::object health = fridge.house.See("/health");
  CHECK(health.at("watching").as_bool());
  CHECK(health.at("now").to_number<std::int64_t>() == ToMillis(kThursday));
  CHECK_FALSE(health.at("version").as_string().empty());
  CHECK_FALSE(health.contains("broker"));
}

TEST_CASE("the description is served as it lies in the source") {
  Fridge fridge;
  const web::Response response = fridge.house.Get("/openapi.yaml");
  CHECK(response.status == 200);
  CHECK(response.content_type == "application/yaml");
  CHECK(response.body == std::string(ApiDescription()));
  CHECK(response.body.starts_with("openapi: 3.1"));
}

// ---- what is arriving ----

struct Broker {
  Fridge fridge;
  BrokerSide side{fridge.house.TheConfig(), fridge.house.TheWatch(), fridge.house.TheStore(), fridge.house.TheClock(),
                  fridge.house.Poster()};
  Broker() { fridge.house.Context().broker = &side; }

  void Arrives(const char* topic, const char* sample) {
    static_cast<sensors::MqttListener&>(side).OnArriving(topic, sample, fridge.house.Now());
  }
  // The values that can be read in the sample of a topic: "pointer value guess".
  std::vector<std::string> Values(const char* topic) {
    const json::object arriving = fridge.house.See("/api/arriving");
    for (const auto& item : arriving.at("topics").as_array()) {
      if (item.as_object().at("topic").as_string() != topic) continue;
      std::vector<std::string> values;
      for (const auto& value : item.as_object().at("values").as_array()) {
        const json::object& one = value.as_object();
        std::ostringstream text;
        text << std::string(one.at("pointer").as_string()) << " " << one.at("value").to_number<double>() << " "
             << (one.contains("guess") ? std::string(one.at("guess").as_string()) : "-");
        values.push_back(text.str());
      }
      return values;
    }
    return {"no such topic"};
  }
};

TEST_CASE("without a broker nothing is arriving, and that is said") {
  Fridge fridge;
  const json::object arriving = fridge.house.See("/api/arriving");
  CHECK_FALSE(arriving.at("connected").as_bool());
  CHECK(arriving.at("broker").as_string() == "127.0.0.1:1883");
  CHECK(arriving.at("topics").as_array().empty());
}

TEST_CASE("figures are found wherever they stand in a message, and guessed by their names") {
  Broker broker;
  broker.Arrives("cave/temperature", "12.5");
  CHECK(broker.Values("cave/temperature") == std::vector<std::string>{" 12.5 temperature"});
  broker.Arrives("cave/x", "12.5");
  CHECK(broker.Values("cave/x") == std::vector<std::string>{" 12.5 -"});
  broker.Arrives("cave/json", R"({"t": 12.5, "rh": "85.0", "batt": 99, "id": "abc", "ok": true, "none": null})");
  CHECK(broker.Values("cave/json") ==
        std::vector<std::string>{"/t 12.5 temperature", "/rh 85 humidity", "/batt 99 battery"});
  broker.Arrives("cave/deep", R"({"a/b": {"m~n": [1, {"temp": 2}]}})");
  CHECK(broker.Values("cave/deep") == std::vector<std::string>{"/a~1b/m~0n/0 1 -", "/a~1b/m~0n/1/temp 2 temperature"});
}

TEST_CASE("what holds no figure offers none: words, broken JSON, infinities") {
  Broker broker;
  for (const char* sample : {"online", "{\"t\": ", "", "nan", "1e309", "{\"t\": 1e309}", "\\xff\\xfe"}) {
    CAPTURE(sample);
    broker.Arrives("cave/x", sample);
    CHECK(broker.Values("cave/x").empty());
  }
}

TEST_CASE("a message with more figures than a keeper looks through offers the first of them") {
  Broker broker;
  std::string many = "[0";
  for (int n = 1; n < 200; ++n) many += "," + std::to_string(n);
  broker.Arrives("cave/many", (many + "]").c_str());
  CHECK(broker.Values("cave/many").size() == 40);
}

TEST_CASE("a topic that a probe reads says so, and where it hangs") {
  Broker broker;
  broker.Arrives("fridge/air", R"({"t": 12.5})");
  broker.Arrives("fridge/other", "1");
  const auto topics = broker.fridge.house.See("/api/arriving").at("topics").as_array();
  REQUIRE(topics.size() == 2);
  CHECK(topics[0].as_object().at("routed").as_object().at("probe").as_string() == "Fridge air");
  CHECK(topics[0].as_object().at("routed").as_object().at("cave_name").as_string() == "Fridge");
  CHECK_FALSE(topics[1].as_object().contains("routed"));
}

TEST_CASE("messages that could not be read are counted at the probe that should have read them") {
  Broker broker;
  auto& listener = static_cast<sensors::MqttListener&>(broker.side);
  listener.OnInvalid("fridge/air", "nan", "expected a number");
  listener.OnInvalid("fridge/air", "oops", "expected JSON");
  listener.OnInvalid("elsewhere", "oops", "expected JSON");
  broker.fridge.house.Settle();
  const json::object probe = broker.fridge.house.See("/api/caves/1").at("probes").as_array().front().as_object();
  CHECK(probe.at("invalid").to_number<int>() == 2);
  CHECK(probe.at("invalid_last").as_object().at("why").as_string() == "expected JSON");
  CHECK(probe.at("invalid_last").as_object().at("first_bytes").as_string() == "oops");
}

TEST_CASE("a broker that is away is a trouble, with what the library said") {
  Broker broker;
  static_cast<sensors::MqttListener&>(broker.side).OnConnection(false, "The broker cannot be reached.");
  broker.fridge.house.Settle();
  const auto troubles = [&] {
    return broker.fridge.house.See("/api/round").at("head").as_object().at("troubles").as_array();
  };
  REQUIRE(troubles().size() == 1);
  CHECK(troubles().front().as_object().at("kind").as_string() == "broker");
  CHECK(troubles().front().as_object().at("text").as_string() == "The broker cannot be reached.");
  CHECK_THAT(broker.fridge.house.Get("/metrics").body, Says("rindwatch_broker_connected 0"));
  static_cast<sensors::MqttListener&>(broker.side).OnConnection(true, "");
  broker.fridge.house.Settle();
  CHECK(troubles().empty());
  CHECK(broker.fridge.house.See("/health").at("broker").as_object().at("connected").as_bool());
}

TEST_CASE("a house without probes that asked for no broker is told of none but where one would be set up") {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};
  house.Begin();
  BrokerSide side{house.TheConfig(), house.TheWatch(), house.TheStore(), house.TheClock(), house.Poster()};
  house.Context().broker = &side;
  static_cast<sensors::MqttListener&>(side).OnConnection(false, "The broker cannot be reached.");
  house.Settle();
  const auto troubles = [&] { return house.See("/api/round").at("head").as_object().at("troubles").as_array().size(); };
  CHECK(troubles() == 0);
  CHECK_FALSE(house.See("/api/arriving").at("connected").as_bool());
  SECTION("asked for by a section of the file") {
    house.TheConfig().broker_given = true;
    CHECK(troubles() == 1);
  }
  SECTION("and with a probe") {
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    CHECK(troubles() == 1);
  }
}

}  // namespace
}  // namespace rindwatch
