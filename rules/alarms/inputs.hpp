// Takes one input in. The deadlines before it have been decided; `body.now` is its instant.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

void TakeIn(Body& body, const Reading& reading, Decisions& out);
void TakeIn(Body& body, const CaveGiven& given, Decisions& out);
void TakeIn(Body& body, const ChannelHung& hung, Decisions& out);
void TakeIn(Body& body, const WheelGiven& given, Decisions& out);
void TakeIn(Body& body, const AlarmTaken& taken, Decisions& out);
void TakeIn(Body& body, const AlarmSetAside& aside, Decisions& out);
void TakeIn(Body& body, const KeeperHere& here, Decisions& out);
void TakeIn(Body& body, const KeeperOut& gone, Decisions& out);
void TakeIn(Body& body, const KeeperTended& tended, Decisions& out);
void TakeIn(Body& body, const Stopped& stopped, Decisions& out);
// Unlike the others it runs the deadlines itself, for it alone knows which of them nobody watched.
void Start(Body& body, const Started& started, Instant at, Decisions& out);

// Which channels hang in which cave, worked out again.
void ListChannels(Body& body);

}  // namespace rindwatch::rules::watch
