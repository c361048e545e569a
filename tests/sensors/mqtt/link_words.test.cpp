#include "sensors/mqtt/link_words.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors;

namespace {

Broker At(std::string host) {
  Broker broker;
  broker.host = std::move(host);
  return broker;
}

}  // namespace

TEST_CASE("an address of the newer kind stands in brackets") {
  CHECK(AddressOf(At("broker.cellar")) == "broker.cellar:1883");
  CHECK(AddressOf(At("::1")) == "[::1]:1883");
}

// The codes of MQTT 3.1.1, table 3.1.
TEST_CASE("each refusal of a broker is one sentence with what to do") {
  const auto [code, words] = GENERATE(table<int, std::string>({
      {1, "does not speak MQTT 3.1.1; use a broker that does."},
      {2, "refuses the client id \"watch\"; choose another one."},
      {3, "says that it is not available; it is tried again."},
      {4, "refuses the user name or the password; correct them in the configuration."},
      {5, "does not let us in; correct user name and password in the configuration."},
  }));
  CHECK(ConnectFault(code, At("a"), "watch") == "The broker at a:1883 " + words);
  CHECK(ConnectFault(-1, At("a"), "watch").find("No broker answers at a:1883; start it") == 0);
}

TEST_CASE("a pause is told in whole seconds") {
  CHECK(RefusalSentence(std::chrono::milliseconds(60'000)).ends_with(" in 60 s."));
  CHECK(RefusalSentence(std::chrono::milliseconds(10)).ends_with(" in 1 s."));
}
