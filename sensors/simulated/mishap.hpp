// What goes wrong, or is put right, in the simulated fridge: told by a line of words or planned beforehand.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace rindwatch::sensors::simulated {

enum class Lid { kShut, kAjar, kOff };
std::string_view ToText(Lid lid);  // "shut"
std::optional<Lid> LidFrom(std::string_view text);

struct Mishap {
  enum class Kind {
    kDoorAjar,          // stands a hand's width open, for the span or until shut
    kDoorShut,          //
    kCompressorDead,    // runs no more, whatever the thermostat asks, for the span or until mended
    kCompressorSticks,  // runs on whatever the thermostat asks, for the span or until mended
    kCompressorMended,  //
    kProbeSilent,       // the subject says nothing, for the span or until back
    kProbeBack,         //
    kPowerCut,          // plant, fan, heater and probes on the mains stop, for the span or until back
    kPowerBack,         //
    kLid,               // of the subject, a box, is set as `lid` says; the span plays no part
    kThermostatDrifts,  // switches two kelvins warmer by the end of the span, else of two days, and stays there
    kThermostatMended,  //
    kCoilIces,    // air gets through it less and less, until at the end of the span, else of six days, it is a block
    kCoilThawed,  //
    kWickDry,     // the humidifier gives nothing, for the span or until filled
    kWickFilled,  //
    kHeatWave,    // the room is twelve kelvins warmer at the height of the span, else of three days
    kDelivery,    // three warm wheels of 2 kg come in, the door wide open for the span, else six minutes; they
                  // are carried on after three days
    kProbeStuck,  // the subject repeats its last values, for the span or until back
    kProbeWet,    // water stands on the subject's humidity sensor, for the span or until back
  };
  Kind kind;
  std::string subject = {};  // a probe's or a box's name
  std::optional<std::chrono::seconds> span = {};
  Lid lid = Lid::kShut;

  bool operator==(const Mishap&) const = default;
};

// Reads "door ajar 30m", "door ajar", "door shut", "compressor dead", "compressor mended", "probe silent NAME",
// "compressor sticks", "probe stuck NAME 2h", "probe wet NAME", "probe back NAME", "power cut 1h30m", "power back",
// "thermostat drifts 48h", "thermostat mended", "coil ices", "coil thawed", "wick dry", "wick filled", "heat wave 72h",
// "delivery" and "BOX lid shut|ajar|off". Case and further blanks do not count; a span is whole hours, minutes and
// seconds. Throws std::invalid_argument with a sentence for the keeper.
Mishap ParseMishap(std::string_view line);
// The line that ParseMishap reads back.
std::string ToText(const Mishap& mishap);

}  // namespace rindwatch::sensors::simulated
