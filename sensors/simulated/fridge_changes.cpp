// The fridge's other half: how it is put together, and what keepers and mishaps do to it.
#include <algorithm>
#include <cctype>
#include <stdexcept>
#include <utility>

#include "sensors/simulated/fridge.hpp"

namespace rindwatch::sensors::simulated {

namespace {

using std::chrono::seconds;

// Streams of chance: one each, so that a mishap to one part moves no other part's draws.
enum Stream : std::uint64_t { kWeather = 1, kKeeper = 2, kFirstProbe = 100 };

constexpr double kHumidityOverWheels = 90;

// What a mishap takes where no span is named.
constexpr seconds kThermostatDrift = std::chrono::hours{48};
constexpr seconds kIcing = std::chrono::hours{144};
constexpr seconds kHeatWaveLasts = std::chrono::hours{72};
constexpr seconds kDeliveryTakes = std::chrono::minutes{6};
constexpr seconds kDeliveredStay = std::chrono::hours{72};

bool SameName(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
    return std::tolower(static_cast<unsigned char>(x)) == std::tolower(static_cast<unsigned char>(y));
  });
}

// Behind what is planned for the same second.
template <typename Planned>
void InsertByTime(std::vector<Planned>& all, const Planned& one) {
  const auto after =
      std::upper_bound(all.begin(), all.end(), one, [](const Planned& a, const Planned& b) { return a.at < b.at; });
  all.insert(after, one);
}

[[noreturn]] void RefuseName(std::string_view what, std::string_view name, const std::vector<std::string>& known) {
  std::string sentence = "there is no " + std::string{what} + " \"" + std::string{name} + "\"";
  if (known.empty()) {
    sentence += ", nor any other";
  } else {
    sentence += "; there are:";
    for (const std::string& one : known) sentence += (&one == &known.front() ? " " : ", ") + one;
  }
  throw std::invalid_argument(sentence);
}

}  // namespace

Fridge::Fridge(FridgeSpec spec)
    : spec_(std::move(spec)),
      weather_(spec_.room, spec_.starts_at, Random{spec_.seed, kWeather}),
      keeper_(spec_.keeper, spec_.starts_at, Random{spec_.seed, kKeeper}),
      plant_(spec_.plant, spec_.begins_celsius),
      humidifier_(spec_.humidifier),
      air_(MakeAir(spec_.cabinet.volume, spec_.begins_celsius, spec_.begins_humidity)),
      liner_{
          .heat_capacity = spec_.cabinet.liner_heat, .area = spec_.cabinet.liner_area, .celsius = spec_.begins_celsius},
      places_{{spec_.rack_air, {}, 0, 0}},
      room_(weather_.At(seconds{0})) {
  for (const BoxSpec& box : spec_.boxes) {
    if (PlaceNamed(box.name)) throw std::invalid_argument("two boxes are called \"" + box.name + "\"");
    const bool holds = std::any_of(spec_.wheels.begin(), spec_.wheels.end(),
                                   [&](const WheelIn& wheel) { return SameName(wheel.where, box.name); });
    boxes_.emplace_back(box, spec_.begins_celsius, holds ? kHumidityOverWheels : spec_.begins_humidity);
    places_.push_back({spec_.box_air, {}, 0, 0});
  }
  for (const WheelIn& wheel : spec_.wheels) PutWheel(wheel);
  for (const ProbeSpec& probe : spec_.probes) HangProbe(probe, kFirstProbe + probes_.size());
  for (const PlannedWheel& planned : spec_.arrivals) PlanWheel(planned.at, planned.wheel);
  for (const PlannedMishap& planned : spec_.mishaps) Plan(planned.at, planned.mishap);
  // What was there at the start did not cross the border.
  ledger_ = {};
  OpenInterval();
}

std::optional<std::size_t> Fridge::PlaceNamed(std::string_view name) const {
  if (name.empty()) return 0;
  for (std::size_t n = 0; n < boxes_.size(); ++n) {
    if (SameName(boxes_[n].spec.name, name)) return n + 1;
  }
  return std::nullopt;
}

const Fridge::Lying* Fridge::WheelNamed(std::string_view name) const {
  for (const Lying& lying : wheels_) {
    if (SameName(lying.wheel.Spec().name, name)) return &lying;
  }
  return nullptr;
}

Fridge::Hung* Fridge::ProbeNamed(std::string_view name) {
  for (Hung& hung : probes_) {
    if (SameName(hung.probe.Spec().name, name)) return &hung;
  }
  return nullptr;
}

void Fridge::HangProbe(const ProbeSpec& probe, std::uint64_t stream) {
  if (ProbeNamed(probe.name) != nullptr) throw std::invalid_argument("two probes are called \"" + probe.name + "\"");
  const Lying* in_wheel = probe.where.empty() ? nullptr : WheelNamed(probe.where);
  const auto place = in_wheel != nullptr ? std::optional{in_wheel->place} : PlaceNamed(probe.where);
  if (!place) {
    throw std::invalid_argument("the probe \"" + probe.name + "\" hangs in \"" + probe.where +
                                "\", which is neither a box nor a wheel of this fridge");
  }
  const std::string wheel = in_wheel != nullptr ? in_wheel->wheel.Spec().name : "";
  probes_.push_back({Probe{probe, AroundProbe(*place, wheel), Random{spec_.seed, stream}}, *place, wheel, {}, {}, {}});
}

Surroundings Fridge::AroundProbe(std::size_t place, const std::string& wheel) const {
  const AirNode& air = AirOf(place);
  const Lying* lying = wheel.empty() ? nullptr : WheelNamed(wheel);
  // A probe whose wheel was taken out lies in the air that is left.
  return {air.celsius, air.VapourDensity(), lying != nullptr ? lying->wheel.Core() : air.celsius, door_ > 0,
          plant_.ElectricPower()};
}

void Fridge::CheckSubject(const Mishap& mishap) {
  std::vector<std::string> known;
  switch (mishap.kind) {
    case Mishap::Kind::kProbeSilent:
    case Mishap::Kind::kProbeStuck:
    case Mishap::Kind::kProbeWet:
    case Mishap::Kind::kProbeBack:
      if (ProbeNamed(mishap.subject) != nullptr) return;
      for (const Hung& hung : probes_) known.push_back(hung.probe.Spec().name);
      RefuseName("probe", mishap.subject, known);
    case Mishap::Kind::kLid:
      if (PlaceNamed(mishap.subject).value_or(0) > 0) return;
      for (const Box& box : boxes_) known.push_back(box.spec.name);
      RefuseName("box", mishap.subject, known);
    case Mishap::Kind::kDoorAjar:
    case Mishap::Kind::kDoorShut:
    case Mishap::Kind::kCompressorDead:
    case Mishap::Kind::kCompressorSticks:
    case Mishap::Kind::kCompressorMended:
    case Mishap::Kind::kPowerCut:
    case Mishap::Kind::kPowerBack:
    case Mishap::Kind::kThermostatDrifts:
    case Mishap::Kind::kThermostatMended:
    case Mishap::Kind::kCoilIces:
    case Mishap::Kind::kCoilThawed:
    case Mishap::Kind::kWickFilled:
    case Mishap::Kind::kWickDry:
    case Mishap::Kind::kHeatWave:
    case Mishap::Kind::kDelivery:
      return;
  }
}

void Fridge::Hung::Begin(Mishap::Kind kind, seconds now, const std::optional<seconds>& span) {
  (kind == Mishap::Kind::kProbeSilent ? silence : kind == Mishap::Kind::kProbeStuck ? stuck : wet).Begin(now, span);
}

void Fridge::Hung::End() {
  for (Lasting* ailment : {&silence, &stuck, &wet}) ailment->End();
}

void Fridge::Deliver(seconds open_for) {
  door_wide_.Begin(elapsed_, open_for);
  for (int n = 0; n < 3; ++n) {
    WheelIn wheel;
    wheel.wheel.name = "Delivered " + std::to_string(++delivered_);
    wheel.wheel.shape = {.radius = 0.1, .height = 0.0595};  // 2 kg
    wheel.celsius = 18;
    PutWheel(wheel);
    departures_.push_back({elapsed_ + kDeliveredStay, wheel.wheel.name});
  }
}

void Fridge::DoSlowly(const Mishap& mishap) {
  switch (mishap.kind) {
    case Mishap::Kind::kThermostatDrifts:
      return thermostat_drifts_.Begin(elapsed_, mishap.span.value_or(kThermostatDrift));
    case Mishap::Kind::kThermostatMended:
      thermostat_drifts_ = {};
      return;
    case Mishap::Kind::kCoilIces:
      return coil_ices_.Begin(elapsed_, mishap.span.value_or(kIcing));
    case Mishap::Kind::kCoilThawed:
      coil_ices_ = {};
      return;
    case Mishap::Kind::kHeatWave:
      heat_wave_from_ = elapsed_;
      return heat_wave_.Begin(elapsed_, mishap.span.value_or(kHeatWaveLasts));
    default:
      return;
  }
}

void Fridge::Do(const Mishap& mishap) {
  CheckSubject(mishap);
  switch (mishap.kind) {
    case Mishap::Kind::kDoorAjar:
      return door_ajar_.Begin(elapsed_, mishap.span);
    case Mishap::Kind::kDoorShut:
      return door_ajar_.End();
    case Mishap::Kind::kCompressorDead:
      return compressor_dead_.Begin(elapsed_, mishap.span);
    case Mishap::Kind::kCompressorSticks:
      return compressor_sticks_.Begin(elapsed_, mishap.span);
    case Mishap::Kind::kCompressorMended:
      compressor_sticks_.End();
      return compressor_dead_.End();
    case Mishap::Kind::kProbeSilent:
    case Mishap::Kind::kProbeStuck:
    case Mishap::Kind::kProbeWet:
      return ProbeNamed(mishap.subject)->Begin(mishap.kind, elapsed_, mishap.span);
    case Mishap::Kind::kProbeBack:
      return ProbeNamed(mishap.subject)->End();
    case Mishap::Kind::kWickDry:
      return wick_dry_.Begin(elapsed_, mishap.span);
    case Mishap::Kind::kWickFilled:
      return wick_dry_.End();
    case Mishap::Kind::kDelivery:
      return Deliver(mishap.span.value_or(kDeliveryTakes));
    case Mishap::Kind::kThermostatDrifts:
    case Mishap::Kind::kThermostatMended:
    case Mishap::Kind::kCoilIces:
    case Mishap::Kind::kCoilThawed:
    case Mishap::Kind::kHeatWave:
      return DoSlowly(mishap);
    case Mishap::Kind::kPowerCut:
      return power_cut_.Begin(elapsed_, mishap.span);
    case Mishap::Kind::kPowerBack:
      return power_cut_.End();
    case Mishap::Kind::kLid:
      boxes_[*PlaceNamed(mishap.subject) - 1].lid = mishap.lid;
      return;
  }
}

void Fridge::Plan(seconds at, const Mishap& mishap) {
  CheckSubject(mishap);
  InsertByTime(planned_, PlannedMishap{at, mishap});
}

void Fridge::CheckWheel(const WheelIn& wheel) const {
  const bool comes = std::any_of(arrivals_.begin(), arrivals_.end(), [&](const PlannedWheel& planned) {
    return SameName(planned.wheel.wheel.name, wheel.wheel.name);
  });
  if (comes || WheelNamed(wheel.wheel.name) != nullptr) {
    throw std::invalid_argument("a wheel \"" + wheel.wheel.name + "\" is in already or on its way");
  }
  if (PlaceNamed(wheel.where)) return;
  std::vector<std::string> known;
  known.reserve(boxes_.size());
  for (const Box& box : boxes_) known.push_back(box.spec.name);
  RefuseName("box", wheel.where, known);
}

void Fridge::PutWheel(const WheelIn& wheel) {
  CheckWheel(wheel);
  LayWheel(wheel);
}

void Fridge::PlanWheel(seconds at, const WheelIn& wheel) {
  CheckWheel(wheel);
  InsertByTime(arrivals_, PlannedWheel{at, wheel});
}

void Fridge::LayWheel(const WheelIn& wheel) {
  CloseInterval();
  wheels_.push_back({Wheel{wheel.wheel, wheel.celsius}, PlaceNamed(wheel.where).value()});
  ledger_.heat += wheels_.back().wheel.Energy();
  ledger_.water += wheels_.back().wheel.Water();
  OpenInterval();
}

void Fridge::TakeWheel(std::string_view name) {
  const Lying* found = WheelNamed(name);
  if (found == nullptr) {
    std::vector<std::string> known;
    known.reserve(wheels_.size());
    for (const Lying& lying : wheels_) known.push_back(lying.wheel.Spec().name);
    RefuseName("wheel", name, known);
  }
  CloseInterval();
  ledger_.heat -= found->wheel.Energy();
  ledger_.water -= found->wheel.Water();
  wheels_.erase(wheels_.begin() + (found - wheels_.data()));
  OpenInterval();
}

}  // namespace rindwatch::sensors::simulated
