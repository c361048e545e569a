// Reads the fields of one TOML table; whatever is wrong becomes a fault and a harmless value.
#pragma once

#include <toml++/toml.h>

#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "rules/plans/faults.hpp"

namespace rindwatch::rules {

// Lives while its table is read. Every key that is asked for is a known key; `NoOthers` reports the rest.
class Fields {
 public:
  Fields(const toml::table& table, std::string path, Faults& faults);

  bool Has(std::string_view key);
  // Written as true; anything else that is written is a fault.
  bool IsTrue(std::string_view key);
  bool FlagOr(std::string_view key, bool otherwise);
  std::string Text(std::string_view key);
  std::string TextOr(std::string_view key, std::string_view otherwise);
  int Number(std::string_view key, int low, int high);
  std::optional<int> MaybeNumber(std::string_view key, int low, int high);
  // `{ low, high, source }`; the bounds are what the unit can mean at all.
  std::optional<Figure> MaybeFigure(std::string_view key, double low, double high);
  // A plain number; a missing one is a fault.
  double Decimal(std::string_view key, double low, double high) { return Bound(key, low, high); }
  std::vector<std::string> Texts(std::string_view key);
  // The same, where an empty text is a fault.
  std::vector<std::string> Sayings(std::string_view key);
  // A word out of a list; `from` turns it into its value.
  template <typename T>
  std::optional<T> Word(std::string_view key, std::optional<T> (*from)(std::string_view), std::string_view known);
  template <typename T>
  T WordOr(std::string_view key, std::optional<T> (*from)(std::string_view), std::string_view known, T otherwise) {
    return Has(key) ? Word(key, from, known).value_or(otherwise) : otherwise;
  }
  template <typename T>
  std::vector<T> Words(std::string_view key, std::optional<T> (*from)(std::string_view), std::string_view known);
  // Each table of an array of tables; a missing array is empty.
  void Each(std::string_view key, const std::function<void(Fields&)>& read);
  void Inside(std::string_view key, const std::function<void(Fields&)>& read);

  void NoOthers();
  void Fault(std::string_view key, std::string what) { faults_.Add(FieldOf(path_, key), std::move(what)); }

 private:
  const toml::node* Find(std::string_view key);
  void Missing(std::string_view key, std::string_view expected);
  void Expected(std::string_view key, std::string_view expected, const toml::node& found);
  double Bound(std::string_view key, double low, double high);

  const toml::table& table_;
  std::string path_;
  Faults& faults_;
  std::set<std::string, std::less<>> known_;
};

template <typename T>
std::optional<T> Fields::Word(std::string_view key, std::optional<T> (*from)(std::string_view),
                              std::string_view known) {
  const toml::node* node = Find(key);
  if (!node) {
    Missing(key, known);
    return std::nullopt;
  }
  std::optional<T> value;
  if (const auto* text = node->as_string()) value = from(text->get());
  if (!value) Expected(key, known, *node);
  return value;
}

template <typename T>
std::vector<T> Fields::Words(std::string_view key, std::optional<T> (*from)(std::string_view), std::string_view known) {
  std::vector<T> values;
  std::size_t index = 0;
  for (const std::string& text : Texts(key)) {
    if (const auto value = from(text)) {
      values.push_back(*value);
    } else {
      faults_.Add(FieldOf(path_, key, index),
                  "expected " + std::string{known} + ", found \"" + text + "\"; write one of these words");
    }
    ++index;
  }
  return values;
}

}  // namespace rindwatch::rules
