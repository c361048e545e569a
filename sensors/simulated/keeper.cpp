#include "sensors/simulated/keeper.hpp"

#include <algorithm>

namespace rindwatch::sensors::simulated {

namespace {

using std::chrono::seconds;

constexpr seconds kDay = std::chrono::hours{24};
// From opening the door to lifting the first lid, and from the last lid to shutting the door.
constexpr seconds kReach{15};

seconds Whole(double count) { return seconds{static_cast<seconds::rep>(count)}; }

}  // namespace

Keeper::Keeper(const KeeperSpec& spec, seconds starts_at, Random random)
    : spec_(spec), starts_at_(starts_at), random_(random) {
  PlanDay();
}

void Keeper::PlanDay() {
  const auto spread = static_cast<double>(spec_.spread.count());
  const double late = std::clamp(random_.Normal() * spread, -3600.0, 3600.0);
  const auto lasts =
      Whole(random_.Between(static_cast<double>(spec_.shortest.count()), static_cast<double>(spec_.longest.count())));
  const seconds morning = day_ + spec_.round_at + Whole(late);
  visits_[0] = {morning, morning + lasts, true};
  const bool looks = random_.Uniform() < spec_.looks_in_the_evening;
  const seconds evening = day_ + Whole(random_.Between(18.5 * 3600, 21 * 3600));
  visits_[1] = {evening, looks ? evening + seconds{20} : evening, false};
}

Keeper::Presence Keeper::At(seconds at) {
  if (!spec_.comes) return {};
  const seconds local = at + starts_at_;
  while (local >= day_ + kDay) {
    day_ += kDay;
    PlanDay();
  }
  Presence presence;
  for (const Visit& visit : visits_) {
    presence.door_open |= local >= visit.from && local < visit.until;
    presence.lids_off |= visit.lids && local >= visit.from + kReach && local < visit.until - kReach;
  }
  return presence;
}

}  // namespace rindwatch::sensors::simulated
