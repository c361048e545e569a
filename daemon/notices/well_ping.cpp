#include "daemon/notices/well_ping.hpp"

#include <spdlog/spdlog.h>

namespace rindwatch {

void WellPing::Begin() {
  if (!carrier_ || ping_.url.empty()) return;
  scheduler_.WakeAt("ping", clock_.Wall() + std::chrono::minutes{ping_.minutes}, [this] { Begin(); });
  store_.Ping([this] {
    // A full disk or a clock that went back is no death, but nobody shall think that all is well.
    if (store_.Health().writing && judges_()) Send();
  });
}

void WellPing::Send() {
  Parcel parcel;
  parcel.lane = "ping";
  parcel.url = ping_.url;
  parcel.ca = ping_.ca;
  parcel.patience = std::chrono::seconds{15};
  carrier_->Send(
      std::move(parcel), [](const Carrier::Go& go) { go(); },
      [this](const Outcome& outcome) {
        const bool failed = outcome.kind != Outcome::Kind::kSent;
        if (failed && !failed_) spdlog::warn("The ping did not go out: {}", outcome.what);
        failed_ = failed;
      });
}

}  // namespace rindwatch
