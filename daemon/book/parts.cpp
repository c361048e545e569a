#include "daemon/book/parts.hpp"

namespace rindwatch {

std::vector<std::string> PartsIn(const rules::WheelHistory& history, const std::string& act) {
  std::vector<std::string> parts;
  const auto add = [&](const auto& entries) {
    for (const auto& entry : entries) {
      if (entry.id.IsDigits()) continue;
      const std::string name = entry.id.Text();
      if (name.size() > act.size() && name[act.size()] == '/' && name.starts_with(act)) {
        parts.push_back(name.substr(act.size()));
      }
    }
  };
  add(history.acts);
  add(history.agreed);
  return parts;
}

}  // namespace rindwatch
