// What all connections of a server share, and what those of one listening place share. The loop's thread.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>

#include "web/connections.hpp"
#include "web/gate.hpp"
#include "web/server.hpp"

namespace rindwatch::web {

// Outlives the server where a connection still winds up; after `gone` nothing of the daemon is touched through it.
struct Shared {
  Shared(ServerOptions given, Handler handle, Events& hub, const Visitor& who, Gate keeper)
      : options(std::move(given)), handler(std::move(handle)), events(&hub), visitor(&who), gate(std::move(keeper)) {}

  const ServerOptions options;
  Handler handler;
  Events* events;
  const Visitor* visitor;
  const Gate gate;
  Server::Figures figures;
  bool stopping = false;  // no new request begins
  bool gone = false;      // the server was destroyed

  void Log(std::string_view text) const {
    if (options.log) options.log(text);
  }
};

// One listening place.
struct Door {
  // The step is small beside the room: who is turned away is told so, but only a few at a time.
  static constexpr std::size_t kOnTheStep = 16;

  Door(std::shared_ptr<Shared> all, bool check_gate, std::size_t per_address)
      : shared(std::move(all)),
        gated(check_gate),
        inside(shared->options.bounds.clients, per_address),
        step(kOnTheStep, kOnTheStep) {}

  const std::shared_ptr<Shared> shared;
  const bool gated;    // Host and Origin are checked
  Connections inside;  // those who are served
  Connections step;    // those who are being turned away

  bool IsEmpty() const { return inside.Size() == 0 && step.Size() == 0; }
};

}  // namespace rindwatch::web
