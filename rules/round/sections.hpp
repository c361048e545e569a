// Where gloves, cloth and wash change on the way.
#pragma once

#include <vector>

#include "rules/round/round.hpp"

namespace rindwatch::rules {

// Walks along the round in working order and says at which line something must be changed. Lives while a round is put
// together.
class Divider {
 public:
  explicit Divider(std::vector<RoundSection>& sections) : sections_(sections) {}

  // The section of what comes next: the last one, or a new one.
  std::size_t Of(const RoundLine& line);
  std::size_t Of(const RoundQuestion& question);

 private:
  struct Gloves {
    RindClass rind;
    std::optional<FaultKind> mark;  // of wheels that come last
    bool marked = false;
    bool operator==(const Gloves&) const = default;
  };
  struct Uses {
    bool cloth = false, wash = false, brush = false, mask = false;
  };

  // What a line is worked with besides hands.
  struct Needs {
    bool cloth = false;
    const Wash* wash = nullptr;
  };

  void Enter(const Gloves& gloves, int age_group, Needs needs);
  void Begin(const Gloves& gloves, bool new_gloves, bool new_wash);
  // A section in which nothing is changed.
  void Head(const Gloves& gloves);
  void Use(const RoundLine& line);
  void Need(bool& ever, bool& here, Change what);

  std::vector<RoundSection>& sections_;
  std::optional<Gloves> gloves_;  // on the hands
  std::optional<Gloves> asked_;   // of the last section, where nothing but questions stands in it
  int wash_group_ = 0;
  int oldest_ = 0;    // age group under these gloves
  int wiped_ = 0;     // oldest age group under this cloth
  Uses ever_, here_;  // in the sections before and this one; in this one
};

// What the line's cloth is dipped into; null: nothing.
const Wash* WashOf(const RoundLine& line);
bool UsesCloth(const std::vector<CareKind>& kinds);
bool UsesCloth(const CareLine& care);
bool UsesBrush(const CareLine& care);
// Mites: seen, or likely under the dust of so long.
bool NeedsMask(const RoundLine& line);

}  // namespace rindwatch::rules
