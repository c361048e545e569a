#include "daemon/command/plan_verb.hpp"

#include <fmt/format.h>
#include <sys/wait.h>

#include <algorithm>
#include <boost/json.hpp>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

#include "daemon/api/plan_changes.hpp"
#include "daemon/command/asking.hpp"
#include "daemon/command/plan_ahead.hpp"
#include "daemon/plans/file.hpp"
#include "daemon/plans/words.hpp"

namespace rindwatch {

namespace json = boost::json;
namespace fs = std::filesystem;

namespace {

std::string Text(const json::object& object, const char* name) { return std::string(object.at(name).as_string()); }
int Number(const json::object& object, const char* name) { return object.at(name).to_number<int>(); }

json::array Offers(const Config& config) { return AskDaemon(config, "/api/plans").at("plans").as_array(); }

// The newest version of a plan; null if the book has none of that name.
std::optional<int> NewestOf(const Config& config, const std::string& id) {
  for (const json::value& offer : Offers(config)) {
    if (Text(offer.as_object(), "id") == id) return Number(offer.as_object(), "version");
  }
  return std::nullopt;
}

// The version that a call names.
int VersionOf(const Config& config, const PlanCall& call) {
  const auto newest = NewestOf(config, call.id);
  if (!newest) {
    throw std::runtime_error(
        fmt::format("There is no plan \"{}\"; \"rindwatch plan list\" shows those there are.", call.id));
  }
  if (call.version > *newest) {
    throw std::runtime_error(
        fmt::format("There is no version {} of {}; the newest is {}.", call.version, call.id, *newest));
  }
  return call.version > 0 ? call.version : *newest;
}

// The plan that a call names, as the API has it.
json::object PageOf(const Config& config, const PlanCall& call) {
  return AskDaemon(config, fmt::format("/api/plans/{}/{}", call.id, VersionOf(config, call)));
}

std::string TextOf(const json::object& page) { return Text(page.at("plan").as_object(), "text"); }

// What the book gave can be read by the same program; a book of a newer one may say more.
rules::Plan PlanOf(const std::string& text, const std::string& id) {
  rules::PlanReading read = rules::ReadPlan(text, id);
  if (!read.plan) throw std::runtime_error(rules::ToText(read.faults.front(), id));
  return *std::move(read.plan);
}

json::object ActOf(const PlanCall& call, const std::string& id, int version) {
  json::array wheels;
  for (const std::int64_t wheel : call.wheels) wheels.push_back(wheel);
  json::object act{{"kind", "plan text"}, {"plan", id}, {"version", version}, {"wheels", std::move(wheels)}};
  if (!call.keeper.empty()) act["keeper"] = call.keeper;
  return act;
}

// What it changes, and the days of the wheels that are to follow it; then the keeping of it.
void Keep(const Config& config, const PlanCall& call, const PlanFile& file) {
  const std::string& id = file.plan.id;
  const auto newest = NewestOf(config, id);
  if (newest) {
    PlanCall old;
    old.id = id;
    const rules::Plan before = PlanOf(TextOf(PageOf(config, old)), id);
    rules::Plan after = file.plan;
    after.version = before.version;
    if (before == after) {
      fmt::print("Nothing changed: it is {}, version {}.\n", id, before.version);
      return;
    }
    for (const rules::PlanChange& change : rules::Differences(before, after)) {
      fmt::print("{}\n", ChangeWords(Words::English(), change));
    }
  }
  const int base = newest.value_or(file.plan.version);
  if (!call.wheels.empty()) {
    const auto ahead = AskAhead(config, id, base, file.text, call.wheels);
    fmt::print("{}", AheadWords(Words::English(), ahead, id, file.plan.family));
  }
  if (call.only_show) {
    fmt::print("Nothing was kept.\n");
    return;
  }
  json::object act = ActOf(call, id, base);
  act["text"] = file.text;
  SendAct(config, std::move(act));
  fmt::print("Kept as {}, version {}.\n", id, NewestOf(config, id).value_or(1));
}

// ---- the editor ----

std::string Editor() {
  for (const char* variable : {"VISUAL", "EDITOR"}) {
    // NOLINTNEXTLINE(concurrency-mt-unsafe): nothing else runs in a command that edits.
    if (const char* named = std::getenv(variable); named && *named != '\0') return named;
  }
  return "vi";
}

// For a shell: nothing in it is taken for anything but itself.
std::string ShellQuoted(const std::string& text) {
  std::string quoted = "'";
  for (const char c : text) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

// A folder of its own, so that nobody else can put a file in the way.
fs::path NewFolder() {
  std::string name = (fs::temp_directory_path() / "rindwatch-plan-XXXXXX").string();
  if (!::mkdtemp(name.data())) throw std::runtime_error("No temporary folder can be made; is the disk full?");
  return name;
}

// The editor is the keeper's to name, with options of its own: that is why a shell runs it.
void RunEditor(const fs::path& file) {
  const std::string command = Editor() + " " + ShellQuoted(file.string());
  const int status = std::system(command.c_str());  // NOLINT(cert-env33-c,concurrency-mt-unsafe): as said above
  if (status != -1 && WIFEXITED(status) && WEXITSTATUS(status) == 0) return;
  throw std::runtime_error(fmt::format("The editor ended with a fault and nothing was kept: {}", command));
}

}  // namespace

void ListPlans(const Config& config, bool as_json) {
  const json::array offers = Offers(config);
  if (as_json) {
    fmt::print("{}\n", json::serialize(offers));
    return;
  }
  for (const json::value& value : offers) {
    const json::object& offer = value.as_object();
    fmt::print("{:<24}{:>3}  {}\n", Text(offer, "id"), Number(offer, "version"), Text(offer, "family"));
  }
}

void ShowPlan(const Config& config, const PlanCall& call) {
  const json::object page = PageOf(config, call);
  if (call.json) {
    fmt::print("{}\n", json::serialize(page));
  } else {
    fmt::print("{}", PlanWords(Words::English(), PlanOf(TextOf(page), call.id)));
  }
}

void ExportPlan(const Config& config, const PlanCall& call) {
  const std::string text = TextOf(PageOf(config, call));
  if (call.file.empty()) {
    fmt::print("{}", text);
  } else {
    WritePlanFile(call.file, text, call.replace);
  }
}

void ImportPlan(const Config& config, const PlanCall& call) { Keep(config, call, ReadPlanFile(call.file)); }

void CopyPlan(const Config& config, const PlanCall& call) {
  json::object act = ActOf(call, call.id, VersionOf(config, call));
  act["copy_as"] = call.name;
  SendAct(config, std::move(act));
  for (const json::value& offer : Offers(config)) {
    if (Text(offer.as_object(), "family") != call.name) continue;
    fmt::print("Kept as {}, version {}.\n", Text(offer.as_object(), "id"), Number(offer.as_object(), "version"));
  }
}

void EditPlan(const Config& config, const PlanCall& call) {
  const std::string text = TextOf(PageOf(config, call));
  const fs::path folder = NewFolder();
  const fs::path path = folder / (call.id + ".toml");
  WritePlanFile(path.string(), text, true);
  const auto clear_up = [&folder] {
    std::error_code ignored;
    fs::remove_all(folder, ignored);
  };
  try {
    RunEditor(path);
    if (ReadPlanText(path.string()) == text) {
      fmt::print("Nothing changed.\n");
    } else {
      Keep(config, call, ReadPlanFile(path.string()));
    }
  } catch (const std::exception& problem) {
    throw std::runtime_error(
        fmt::format("{}\nYour text lies in {}; mend it and bring it in with \"rindwatch plan import\".", problem.what(),
                    path.string()));
  }
  if (call.only_show) {
    fmt::print("Your text lies in {}; bring it in with \"rindwatch plan import\".\n", path.string());
    return;
  }
  clear_up();
}

void AddPlanVerb(CLI::App& app, PlanCall& call, const std::function<void(CLI::App&)>& add_config,
                 const std::function<Config()>& config, const std::function<void()>& done) {
  CLI::App* plan = app.add_subcommand("plan", "The ageing plans: list, show, export, import, copy, edit");
  plan->require_subcommand(1);
  const auto add = [&](const char* name, const char* help, void (*run)(const Config&, const PlanCall&)) {
    CLI::App* verb = plan->add_subcommand(name, help);
    add_config(*verb);
    verb->callback([run, &call, config, done] {
      run(config(), call);
      done();
    });
    return verb;
  };
  const auto add_id = [&call](CLI::App* verb) {
    verb->add_option("plan", call.id, "The plan, as \"rindwatch plan list\" names it")->required();
    verb->add_option("--version", call.version, "Which version (else the newest)")->check(CLI::PositiveNumber);
  };
  const auto add_keeping = [&call](CLI::App* verb) {
    verb->add_option("--keeper", call.keeper, "Who signs, by initials");
    verb->add_option("--wheels", call.wheels, "Numbers of the wheels that follow the new version from now on")
        ->delimiter(',');
  };
  const auto add_only_show = [&call](CLI::App* verb) {
    verb->add_flag("--only-show", call.only_show, "Say what it would change, and keep nothing");
  };
  const auto add_json = [&call](CLI::App* verb) { verb->add_flag("--json", call.json, "Print data as JSON"); };

  add_json(add("list", "The plans of the book, each in its newest version",
               [](const Config& of, const PlanCall& asked) { ListPlans(of, asked.json); }));
  CLI::App* show = add("show", "One plan in words", &ShowPlan);
  add_id(show);
  add_json(show);
  CLI::App* take_out = add("export", "The plan as a plain file, comments and all", &ExportPlan);
  add_id(take_out);
  take_out->add_option("file", call.file, "Where to (else standard output)");
  take_out->add_flag("--replace", call.replace, "Over a file that is there");
  CLI::App* bring_in =
      add("import", "A plan's file as a new version of the plan that it names, or as a new plan", &ImportPlan);
  bring_in->add_option("file", call.file, "The plan's file")->required();
  add_keeping(bring_in);
  add_only_show(bring_in);
  CLI::App* copy = add("copy", "A plan of your own, beginning as a copy", &CopyPlan);
  add_id(copy);
  copy->add_option("name", call.name, "The name of its family, such as \"Tomme of the upper barn\"")->required();
  add_keeping(copy);
  CLI::App* edit = add("edit", "Change a plan in the editor of $VISUAL or $EDITOR; kept as a new version", &EditPlan);
  add_id(edit);
  add_keeping(edit);
  add_only_show(edit);
}

}  // namespace rindwatch
