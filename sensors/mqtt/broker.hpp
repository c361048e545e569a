// Where the broker is and how to be let in, and how patient to be with it.
#pragma once

#include <chrono>
#include <cstdint>
#include <string>

namespace rindwatch::sensors {

struct Broker {
  std::string host = "127.0.0.1";
  std::uint16_t port = 1883;
  std::string user;  // empty: none
  std::string password;
};

// Seconds of the world, not of a scaled clock: a network is not faster in a trial.
struct Patience {
  std::chrono::milliseconds connect{10'000};     // for one attempt
  std::chrono::milliseconds answer{30'000};      // for the broker's answer to a request; more than a Keep may take
  std::chrono::milliseconds first_retry{1'000};  // then twice as long each time
  std::chrono::milliseconds longest_retry{60'000};
  std::chrono::milliseconds after_refusal{60'000};  // the store refused a message
  std::chrono::milliseconds marker{10'000};         // see backlog_gate.hpp
  std::chrono::seconds keep_alive{60};              // a Keep may take 20 s; a broker waits one and a half times this
};

}  // namespace rindwatch::sensors
