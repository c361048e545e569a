#include "daemon/plans/file.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <system_error>

namespace rindwatch {

namespace {

// A byte more than the reader of plans takes, so that it can say that there is too much.
constexpr std::streamsize kMostRead = (1 << 20) + 1;

}  // namespace

std::string ReadPlanText(const std::string& path) {
  std::error_code ignored;
  std::ifstream file(path, std::ios::binary);
  if (!file || std::filesystem::is_directory(path, ignored)) {
    throw std::runtime_error(fmt::format("{}: the plan cannot be read; does the file exist?", path));
  }
  std::string text(static_cast<std::size_t>(kMostRead), '\0');
  file.read(text.data(), kMostRead);
  text.resize(static_cast<std::size_t>(file.gcount()));
  return text;
}

PlanFile ReadPlanFile(const std::string& path) {
  std::string text = ReadPlanText(path);
  rules::PlanReading read = rules::ReadPlan(text, path);
  if (read.plan) return {*std::move(read.plan), std::move(text)};
  std::string faults;
  for (const rules::PlanFault& fault : read.faults) {
    faults += (faults.empty() ? "" : "\n") + rules::ToText(fault, path);
  }
  throw std::runtime_error(faults);
}

void WritePlanFile(const std::string& path, const std::string& text, bool replace) {
  if (!replace && std::filesystem::exists(path)) {
    throw std::runtime_error(fmt::format("{} is there already; name another file, or add --replace.", path));
  }
  // Beside it, so that the renaming stays within one file system.
  const std::string beside = path + ".new";
  std::ofstream file(beside, std::ios::binary | std::ios::trunc);
  file << text;
  file.close();
  std::error_code problem;
  if (file) std::filesystem::rename(beside, path, problem);
  if (!file || problem) {
    std::error_code ignored;
    std::filesystem::remove(beside, ignored);
    throw std::runtime_error(fmt::format("{} cannot be written; is there room, and may you write there?", path));
  }
}

}  // namespace rindwatch
