#include "sensors/mqtt/link_words.hpp"

namespace rindwatch::sensors {

std::string AddressOf(const Broker& broker) {
  const bool is_ip6 = broker.host.find(':') != std::string::npos;
  return (is_ip6 ? "[" + broker.host + "]" : broker.host) + ":" + std::to_string(broker.port);
}

std::string ConnectFault(int code, const Broker& broker, const std::string& client_id) {
  const std::string it = "The broker at " + AddressOf(broker);
  switch (code) {
    case 1:
      return it + " does not speak MQTT 3.1.1; use a broker that does.";
    case 2:
      return it + " refuses the client id \"" + client_id + "\"; choose another one.";
    case 3:
      return it + " says that it is not available; it is tried again.";
    case 4:
      return it + " refuses the user name or the password; correct them in the configuration.";
    case 5:
      return it + " does not let us in; correct user name and password in the configuration.";
    default:
      return "No broker answers at " + AddressOf(broker) +
             "; start it or correct its address. It is tried again until it answers.";
  }
}

std::string LossSentence(const Broker& broker, const std::string& client_id) {
  return "The connection to the broker at " + AddressOf(broker) +
         " was lost and is tried again. If this repeats, another program may use the client id \"" + client_id + "\".";
}

std::string RefusalSentence(std::chrono::milliseconds pause) {
  const auto seconds = std::chrono::ceil<std::chrono::seconds>(pause).count();
  return "The store refused a message, so the broker got no acknowledgement and keeps it; it is fetched again in " +
         std::to_string(seconds) + " s.";
}

}  // namespace rindwatch::sensors
