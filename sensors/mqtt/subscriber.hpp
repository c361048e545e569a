// The readings' way in: one durable session at the broker, each message decoded, kept and only then acknowledged.
//
// MQTT 3.1.1, QoS 1, clean_session false, a fixed client id: what is not acknowledged comes again. If the sink refuses,
// the connection is cut before the library can acknowledge, and tried again after a minute; the broker keeps the
// messages meanwhile. A broker that is absent is told once and tried again for ever.
// A second, fleeting connection (client id with "-look" behind it, QoS 0, nothing queued) listens to the discovery
// filter, so that foreign topics neither fill the session's queue at the broker nor are ever acknowledged for nothing.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "rules/clock.hpp"
#include "sensors/intake.hpp"
#include "sensors/mqtt/broker.hpp"
#include "sensors/route.hpp"
#include "sensors/sink.hpp"

namespace rindwatch::sensors {

class Subscriber {
 public:
  struct Settings {
    Broker broker;
    Patience patience;
    std::string client_id = "rindwatch";  // unique at the broker and the same at each start: it names the session
    // Topics to look at for "the topics that are arriving", such as "#" or "cellar/#"; empty: only routed ones.
    std::string discovery;
    // Our own topics begin with this; they are never shown as arriving, and the backlog's marker lies below it.
    std::string own_prefix = "rindwatch";
    // Filters of routes that are no more: an earlier life may have left them subscribed in the session.
    std::vector<std::string> former_filters;
  };

  // Connects nothing yet. Clock, sink and listener must outlive this; `known` is what the store knows. Throws
  // std::invalid_argument with one sentence for a discovery filter that is none, a client id that is empty or a prefix
  // that is no topic.
  Subscriber(Settings settings, const rules::Clock& clock, ReadingSink& sink, MqttListener& listener,
             const Known& known, std::vector<Route> routes);
  // Stops.
  ~Subscriber();
  Subscriber(const Subscriber&) = delete;
  Subscriber& operator=(const Subscriber&) = delete;

  // Begins to connect, in threads of its own. Call once, when sink and listener are ready: messages may come at once.
  void Start();
  // Ends the connections and joins the threads; a message that is being kept is waited for (20 s at most). What comes
  // meanwhile stays with the broker. Afterwards no listener is called. Harmless when called twice.
  void Stop();

  // Any thread; returns at once. Routes with a fault are left out (see RouteFaults). New filters are subscribed to and
  // old ones given up as soon as the broker is there.
  void SetRoutes(std::vector<Route> routes);
  // Any thread. While false, readings without a time of their own are `held` and none is live. True from the start.
  void SetClockKnown(bool known);

  bool IsConnected() const;

 private:
  class Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace rindwatch::sensors
