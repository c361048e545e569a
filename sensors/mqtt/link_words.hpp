// What a link tells the keeper when its connection fails: one sentence each.
#pragma once

#include <chrono>
#include <string>

#include "sensors/mqtt/broker.hpp"

namespace rindwatch::sensors {

// "127.0.0.1:1883", "[::1]:1883"
std::string AddressOf(const Broker& broker);

// Why there is no connection. `code` is the broker's answer (MQTT 3.1.1, section 3.2.2.3) or, if it gave none, anything
// else.
std::string ConnectFault(int code, const Broker& broker, const std::string& client_id);

// The connection broke.
std::string LossSentence(const Broker& broker, const std::string& client_id);

// We broke it, because a message could not be kept.
std::string RefusalSentence(std::chrono::milliseconds pause);

}  // namespace rindwatch::sensors
