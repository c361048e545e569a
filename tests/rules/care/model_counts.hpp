// What the counting of one care comes to, in the model.
#pragma once

#include "tests/rules/care/model_life.hpp"

namespace rindwatch::rules::testing {

struct ModelCount {
  bool asked = false;  // else nothing of it is pending
  CareKind kind = CareKind::kTurn;
  CareState state = CareState::kNotYet;
  Date opens, due, end;
  bool away = false;
  bool evening = false;
  std::optional<Instant> not_before;
  std::vector<ModelDeed> settled;  // what settled it on the day

  bool OnRound() const { return asked && (state == CareState::kDue || state == CareState::kLate); }
};

// On the day, as far as the deeds go that were done up to the instant.
ModelCount CountCare(const ModelLife& life, const Care& care, Date day, Instant until);
ModelCount CountAgreed(const ModelLife& life, const ModelAgreed& agreed, Date day, Instant until);

}  // namespace rindwatch::rules::testing
