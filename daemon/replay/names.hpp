// What a replay may be asked about by name: caves, kinds of alarm, limits. A name that nothing goes by is refused with
// those that are known, the nearest first.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "rules/alarms/engine.hpp"

namespace rindwatch {

// By number, as they are called now.
using CaveNames = std::map<rules::CaveId, std::string>;

// Each throws std::runtime_error with a sentence for the keeper that begins with `place`: "--cave", "try.toml, line 3".
// By name or number.
rules::CaveId CaveNamed(const CaveNames& caves, const std::string& name, const std::string& place);
rules::AlarmKind KindNamed(const std::string& name, const std::string& place);
// `figure` is what was written; it must be one within the row's bounds.
std::pair<std::string, double> SettingNamed(const std::string& id, const std::string& figure, const std::string& place);

// A plain figure with blanks around it or not; none: it is something else.
std::optional<double> FigureFrom(std::string_view text);

// "try.toml, line 3: there is nothing called "hgh" in a span. Known are low and high. Write one of these."
[[noreturn]] void RefuseName(const std::string& place, const std::string& what, const std::string& found,
                             const std::vector<std::string>& known, const std::string& todo);
[[noreturn]] void Refuse(const std::string& place, const std::string& expected, const std::string& found);

// All of them, as text for the terminal.
std::string AllNames(const CaveNames& caves);

}  // namespace rindwatch
