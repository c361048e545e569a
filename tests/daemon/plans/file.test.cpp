#include "daemon/plans/file.hpp"

#include <filesystem>
#include <fstream>
#include <functional>

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

namespace fs = std::filesystem;

// A folder of its own, gone with the test.
struct Folder {
  fs::path path =
      fs::temp_directory_path() / ("rindwatch-plans-" + std::to_string(reinterpret_cast<std::uintptr_t>(this)));
  Folder() { fs::create_directories(path); }
  ~Folder() { fs::remove_all(path); }
  std::string In(const char* name) const { return (path / name).string(); }
};

std::string Refusal(const std::function<void()>& act) {
  try {
    act();
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "nothing refused";
}

}  // namespace

TEST_CASE("a plan written to a file is read as the same plan") {
  const Folder folder;
  for (const rules::Plan& plan : rules::PlanLibrary()) {
    WritePlanFile(folder.In("plan.toml"), rules::TextOf(plan), true);
    const PlanFile read = ReadPlanFile(folder.In("plan.toml"));
    CHECK(read.plan == plan);
    CHECK(read.text == rules::TextOf(plan));
  }
  CHECK(!fs::exists(folder.In("plan.toml.new")));
}

TEST_CASE("a file that is there is left alone unless it is to be replaced") {
  const Folder folder;
  std::ofstream(folder.In("mine.toml")) << "mine";
  const auto write = [&](bool replace) { WritePlanFile(folder.In("mine.toml"), "yours", replace); };
  CHECK(Refusal([&] { write(false); }) ==
        folder.In("mine.toml") + " is there already; name another file, or add --replace.");
  CHECK(ReadPlanText(folder.In("mine.toml")) == "mine");
  write(true);
  CHECK(ReadPlanText(folder.In("mine.toml")) == "yours");
}

TEST_CASE("what cannot be read or written is said in one sentence, every fault of a plan in one line") {
  const Folder folder;
  CHECK(Refusal([&] { ReadPlanText(folder.In("none.toml")); }) ==
        folder.In("none.toml") + ": the plan cannot be read; does the file exist?");
  CHECK(Refusal([&] { ReadPlanText(folder.path.string()); }).find("cannot be read") != std::string::npos);
  CHECK(Refusal([&] { WritePlanFile(folder.In("no/such/folder.toml"), "x", false); }).find("cannot be written") !=
        std::string::npos);
  std::ofstream(folder.In("bad.toml")) << "format = 1\nid = \"A B\"\n";
  const std::string faults = Refusal([&] { ReadPlanFile(folder.In("bad.toml")); });
  CHECK(faults.find(folder.In("bad.toml") + ", line 2: id: expected small letters") != std::string::npos);
  CHECK(faults.find("family: missing") != std::string::npos);
}

}  // namespace rindwatch
