#include "sensors/simulated/fridge.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rindwatch::sensors::simulated {

namespace {

using std::chrono::seconds;

constexpr seconds kTick{1};
constexpr double kTickSeconds = 1;
// Wheels and probes are slow enough for this.
constexpr seconds kInterval{10};
constexpr double kGravity = 9.81;
constexpr double kDischarge = 0.6;  // of a sharp-edged opening
constexpr double kKelvin = 273.15;
constexpr double kDriftsBy = 2;     // K, a thermostat that wears out
constexpr double kIceTakes = 0.97;  // of the way from air to coil, in the end
constexpr double kHeatWave = 12;    // K, at its height

// Warm air pours in above while cold pours out below: the classical flow through half of an upright opening,
// (C/3) A sqrt(g H dT/T), m3/s.
double DoorFlow(const DoorSpec& door, double open, double inside, double outside) {
  const double buoyancy = std::abs(outside - inside) / ((outside + inside) / 2 + kKelvin);
  return kDischarge / 3 * open * door.width * door.height * std::sqrt(kGravity * door.height * buoyancy);
}

}  // namespace

void Fridge::Lasting::Begin(seconds now, const std::optional<seconds>& span) {
  on = true;
  until = span ? std::optional{now + *span} : std::nullopt;
}

void Fridge::Lasting::Expire(seconds now) {
  if (on && until && now >= *until) End();
}

void Fridge::Creeping::Begin(seconds now, seconds lasts) {
  from = now;
  span = lasts;
}

double Fridge::Creeping::Share(seconds now) const {
  if (!from) return 0;
  return std::min(1.0, static_cast<double>((now - *from).count()) / static_cast<double>(span.count()));
}

// A heat wave comes and goes by a straight line over a quarter of its span each.
RoomAir Fridge::RoomNow() {
  RoomAir room = weather_.At(elapsed_);
  if (!heat_wave_.on) return room;
  const double since = static_cast<double>((elapsed_ - heat_wave_from_).count());
  const double left = static_cast<double>((*heat_wave_.until - elapsed_).count());
  room.celsius += kHeatWave * std::min({1.0, 4 * since / (since + left), 4 * left / (since + left)});
  return room;
}

double Fridge::DoorNow(bool keeper_opens) const {
  if (keeper_opens || door_wide_.on) return 1;
  return door_ajar_.on ? spec_.door.ajar : 0;
}

double Fridge::Ticks() const { return static_cast<double>(interval_ / kTick); }

double Fridge::Place::HeatOwed(double ticks) const {
  return kTickSeconds * (offer.heat * ticks - offer.heat_slope * celsius_sum);
}

double Fridge::Place::VapourOwed(double ticks) const {
  return kTickSeconds * (offer.vapour * ticks - offer.vapour_slope * density_sum);
}

Outcome Fridge::Step(seconds span) {
  Outcome outcome;
  const seconds end = elapsed_ + span;
  while (elapsed_ < end) {
    Tick();
    if (elapsed_ % kInterval != seconds{0}) continue;
    CloseInterval();
    LetProbesFollow(outcome.readings);
    OpenInterval();
  }
  outcome.truth = Now();
  return outcome;
}

void Fridge::Tick() {
  DoWhatIsPlanned();
  for (Lasting* lasting :
       {&door_ajar_, &door_wide_, &compressor_dead_, &compressor_sticks_, &power_cut_, &wick_dry_, &heat_wave_}) {
    lasting->Expire(elapsed_);
  }
  room_ = RoomNow();
  const Keeper::Presence keeper = keeper_.At(elapsed_);
  door_ = DoorNow(keeper.door_open);
  ExchangeWithRoom(room_);
  ExchangeInside(room_, keeper.lids_off);
  ExchangeWithWheels();
  elapsed_ += kTick;
  interval_ += kTick;
}

void Fridge::DoWhatIsPlanned() {
  while (!arrivals_.empty() && arrivals_.front().at <= elapsed_) {
    const WheelIn wheel = arrivals_.front().wheel;
    arrivals_.erase(arrivals_.begin());
    LayWheel(wheel);
  }
  while (!departures_.empty() && departures_.front().at <= elapsed_) {
    const std::string wheel = departures_.front().wheel;
    departures_.erase(departures_.begin());
    if (WheelNamed(wheel) != nullptr) TakeWheel(wheel);
  }
  while (!planned_.empty() && planned_.front().at <= elapsed_) {
    const Mishap mishap = planned_.front().mishap;
    planned_.erase(planned_.begin());
    Do(mishap);
  }
}

void Fridge::ExchangeWithRoom(const RoomAir& room) {
  const double flow = spec_.cabinet.gasket_leak + DoorFlow(spec_.door, door_, air_.celsius, room.celsius);
  // Half the air a second at most: beyond that the one node could not follow.
  const double moved = std::min(flow * kTickSeconds, air_.volume / 2);
  const double heat = moved * kAirHeatPerVolume * (room.celsius - air_.celsius);
  const double vapour = moved * (room.vapour_density - air_.VapourDensity());
  air_.AddHeat(heat);
  air_.vapour += vapour;
  const double through_wall = spec_.cabinet.wall_loss * (room.celsius - liner_.celsius) * kTickSeconds;
  liner_.AddHeat(through_wall);
  ledger_.heat += heat + vapour * kEvaporationHeat + through_wall;
  ledger_.water += vapour;
}

void Fridge::ExchangeInside(const RoomAir& room, bool lids_lifted) {
  const Plant::Trouble trouble{.sticks = compressor_sticks_.on,
                               .dead = compressor_dead_.on,
                               .warmer = kDriftsBy * thermostat_drifts_.Share(elapsed_),
                               .film_left = 1 - kIceTakes * coil_ices_.Share(elapsed_)};
  const Plant::Moved plant = plant_.Step(air_, room, !power_cut_.on, trouble, kTickSeconds);
  ledger_.water += humidifier_.Step(air_, !power_cut_.on, wick_dry_.on, kTickSeconds);
  ledger_.heat += plant.heat;
  ledger_.water -= plant.drained;
  liner_.Exchange(air_, spec_.cabinet.liner_film, spec_.cabinet.liner_convective, kTickSeconds);
  liner_.CatchMist(air_);
  ledger_.water -= liner_.DrainBeyond(spec_.cabinet.water_held);
  for (Box& box : boxes_) box.Exchange(air_, lids_lifted, kTickSeconds);
}

// The skins' temperatures are held over the interval, so a place's wheels act on its air like one straight line;
// solved for the end of the second, which no step can make unstable.
void Fridge::ExchangeWithWheels() {
  for (std::size_t n = 0; n < places_.size(); ++n) {
    Place& place = places_[n];
    AirNode& air = AirOf(n);
    const double heat = kTickSeconds / air.HeatCapacity();
    air.celsius = (air.celsius + heat * place.offer.heat) / (1 + heat * place.offer.heat_slope);
    air.vapour =
        (air.vapour + kTickSeconds * place.offer.vapour) / (1 + kTickSeconds * place.offer.vapour_slope / air.volume);
    place.celsius_sum += air.celsius;
    place.density_sum += air.VapourDensity();
  }
}

void Fridge::OpenInterval() {
  interval_ = seconds{0};
  for (Place& place : places_) place = {place.still, {}, 0, 0};
  for (Lying& lying : wheels_) {
    Place& place = places_[lying.place];
    place.offer.Add(lying.wheel.Meet(AirOf(lying.place), place.still));
  }
}

void Fridge::CloseInterval() {
  const double ticks = Ticks();
  if (ticks <= 0) return;
  for (Lying& lying : wheels_) {
    const Place& place = places_[lying.place];
    ledger_.heat += lying.wheel.Absorb(place.celsius_sum / ticks, place.density_sum / ticks, ticks * kTickSeconds);
  }
}

void Fridge::LetProbesFollow(std::vector<ProbeReading>& out) {
  for (Hung& hung : probes_) {
    hung.probe.Follow(AroundProbe(hung.place, hung.wheel), static_cast<double>(kInterval.count()));
    for (Lasting* ailment : {&hung.silence, &hung.stuck, &hung.wet}) ailment->Expire(elapsed_);
    if (!hung.probe.IsDue(elapsed_) || hung.silence.on) continue;
    if (hung.probe.Spec().on_mains && power_cut_.on) continue;
    using Ails = Probe::Ails;
    hung.probe.Speak(elapsed_, out, hung.stuck.on ? Ails::kStuck : hung.wet.on ? Ails::kWet : Ails::kNothing);
  }
}

double Fridge::Energy() const {
  double energy = liner_.Energy() + plant_.Coil().Energy();
  for (std::size_t n = 0; n < places_.size(); ++n) {
    energy += AirOf(n).HeatCapacity() * AirOf(n).celsius + AirOf(n).vapour * kEvaporationHeat;
  }
  for (const Box& box : boxes_) energy += box.wall.Energy();
  for (const Lying& lying : wheels_) energy += lying.wheel.Energy();
  // What the air has had from the wheels in the open interval, they have yet to give.
  for (const Place& place : places_) energy -= place.HeatOwed(Ticks()) + place.VapourOwed(Ticks()) * kEvaporationHeat;
  return energy;
}

double Fridge::Water() const {
  double water = liner_.liquid + liner_.frost + plant_.Coil().liquid + plant_.Coil().frost;
  for (std::size_t n = 0; n < places_.size(); ++n) water += AirOf(n).vapour;
  for (const Box& box : boxes_) water += box.wall.liquid + box.wall.frost;
  for (const Lying& lying : wheels_) water += lying.wheel.Water();
  for (const Place& place : places_) water -= place.VapourOwed(Ticks());
  return water;
}

Truth Fridge::Now() const {
  Truth truth;
  truth.at = elapsed_;
  truth.air = air_.celsius;
  truth.humidity = air_.RelativeHumidity();
  truth.liner = liner_.celsius;
  truth.coil = plant_.Coil().celsius;
  truth.liner_water = liner_.liquid + liner_.frost;
  truth.coil_water = plant_.Coil().liquid;
  truth.frost = plant_.Coil().frost;
  truth.room = room_.celsius;
  truth.room_humidity = RelativeHumidityOf(room_.vapour_density, room_.celsius);
  truth.door = door_;
  truth.power = !power_cut_.on;
  truth.compressor_runs = plant_.CompressorRuns();
  truth.defrosts = plant_.Defrosts();
  truth.electric = plant_.ElectricPower();
  for (const Box& box : boxes_) {
    truth.boxes.push_back({box.spec.name, box.air.celsius, box.air.RelativeHumidity(), box.wall.celsius,
                           box.wall.liquid + box.wall.frost, box.lid});
  }
  for (const Lying& lying : wheels_) {
    const Wheel& wheel = lying.wheel;
    truth.wheels.push_back({wheel.Spec().name, lying.place == 0 ? "" : boxes_[lying.place - 1].spec.name, wheel.Core(),
                            wheel.Mean(), wheel.Surface(), wheel.Grams(), wheel.Film()});
  }
  return truth;
}

}  // namespace rindwatch::sensors::simulated
