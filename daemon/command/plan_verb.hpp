// `rindwatch plan ...`: the plans of the book, shown, exported, brought in, copied and edited.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "daemon/config/config.hpp"

namespace rindwatch {

// As the command line filled it in.
struct PlanCall {
  std::string id, file, name, keeper;
  int version = 0;  // 0: the newest
  bool json = false, replace = false, only_show = false;
  std::vector<std::int64_t> wheels;  // that follow the new version from now on
};

void ListPlans(const Config& config, bool as_json);
// In words, or as the API has it.
void ShowPlan(const Config& config, const PlanCall& call);
// To the file, or to standard output if none is named.
void ExportPlan(const Config& config, const PlanCall& call);
// A new version of the plan whose id the file names, or a new plan.
void ImportPlan(const Config& config, const PlanCall& call);
// Under another family's name.
void CopyPlan(const Config& config, const PlanCall& call);
// In the editor that $VISUAL or $EDITOR names; what is not sound is kept in its file and nothing else happens.
void EditPlan(const Config& config, const PlanCall& call);

// Adds the verb with all that it can do; `config` reads the configuration when one of them runs, and `done` is called
// after it went well. `call` must outlive the parsing.
void AddPlanVerb(CLI::App& app, PlanCall& call, const std::function<void(CLI::App&)>& add_config,
                 const std::function<Config()>& config, const std::function<void()>& done);

}  // namespace rindwatch
