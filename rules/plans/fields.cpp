#include "rules/plans/fields.hpp"

#include <utility>

#include "rules/plans/shown.hpp"
#include "rules/slip.hpp"

namespace rindwatch::rules {
namespace {

int LineOf(const toml::node& node) { return static_cast<int>(node.source().begin.line); }

}  // namespace

Fields::Fields(const toml::table& table, std::string path, Faults& faults)
    : table_(table), path_(std::move(path)), faults_(faults) {
  faults_.Locate(path_, LineOf(table));
}

const toml::node* Fields::Find(std::string_view key) {
  known_.emplace(key);
  const toml::node* node = table_.get(key);
  if (node) faults_.Locate(FieldOf(path_, key), LineOf(*node));
  return node;
}

bool Fields::Has(std::string_view key) { return Find(key) != nullptr; }

bool Fields::IsTrue(std::string_view key) {
  const toml::node* node = Find(key);
  if (!node) return false;
  const auto* flag = node->as_boolean();
  if (flag && flag->get()) return true;
  Expected(key, "true", *node);
  return false;
}

bool Fields::FlagOr(std::string_view key, bool otherwise) {
  const toml::node* node = Find(key);
  if (!node) return otherwise;
  if (const auto* flag = node->as_boolean()) return flag->get();
  Expected(key, "true or false", *node);
  return otherwise;
}

void Fields::Missing(std::string_view key, std::string_view expected) {
  Fault(key, "missing; write " + std::string{key} + " = " + std::string{expected});
}

void Fields::Expected(std::string_view key, std::string_view expected, const toml::node& found) {
  Fault(key, "expected " + std::string{expected} + ", found " + Shown(found) + "; correct it");
}

std::string Fields::Text(std::string_view key) {
  const toml::node* node = Find(key);
  if (!node) {
    Missing(key, "a text");
    return {};
  }
  const auto* text = node->as_string();
  if (!text || text->get().empty()) {
    Expected(key, "a text that says something", *node);
    return {};
  }
  return text->get();
}

std::string Fields::TextOr(std::string_view key, std::string_view otherwise) {
  const toml::node* node = Find(key);
  if (!node) return std::string{otherwise};
  if (const auto* text = node->as_string()) return text->get();
  Expected(key, "a text", *node);
  return std::string{otherwise};
}

int Fields::Number(std::string_view key, int low, int high) {
  if (!Find(key)) Missing(key, "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
  return MaybeNumber(key, low, high).value_or(low);
}

std::optional<int> Fields::MaybeNumber(std::string_view key, int low, int high) {
  const toml::node* node = Find(key);
  if (!node) return std::nullopt;
  const auto* number = node->as_integer();
  if (number && number->get() >= low && number->get() <= high) return static_cast<int>(number->get());
  Expected(key, "a whole number from " + std::to_string(low) + " to " + std::to_string(high), *node);
  return std::nullopt;
}

double Fields::Bound(std::string_view key, double low, double high) {
  const std::string expected = "a number from " + Shown(low) + " to " + Shown(high);
  const toml::node* node = Find(key);
  if (!node) {
    Missing(key, expected);
    return low;
  }
  const std::optional<double> value = node->is_number() ? node->value<double>() : std::nullopt;
  // Written so that a NaN fails it.
  if (value && *value >= low && *value <= high) return *value;
  Expected(key, expected, *node);
  return low;
}

std::optional<Figure> Fields::MaybeFigure(std::string_view key, double low, double high) {
  const toml::node* node = Find(key);
  if (!node) return std::nullopt;
  const toml::table* table = node->as_table();
  if (!table) {
    Expected(key, "{ low = ..., high = ..., source = \"...\" }", *node);
    return std::nullopt;
  }
  Fields fields(*table, FieldOf(path_, key), faults_);
  Figure figure;
  figure.low = fields.Bound("low", low, high);
  figure.high = fields.Bound("high", low, high);
  figure.source = fields.Text("source");
  fields.NoOthers();
  return figure;
}

std::vector<std::string> Fields::Texts(std::string_view key) {
  const toml::node* node = Find(key);
  if (!node) return {};
  const toml::array* list = node->as_array();
  if (!list) {
    Expected(key, "a list of texts: [\"...\"]", *node);
    return {};
  }
  std::vector<std::string> texts;
  for (const toml::node& entry : *list) {
    const auto* text = entry.as_string();
    if (!text) faults_.Add(FieldOf(path_, key, texts.size()), "expected a text, found " + Shown(entry) + "; quote it");
    texts.push_back(text ? text->get() : std::string{});
  }
  return texts;
}

std::vector<std::string> Fields::Sayings(std::string_view key) {
  std::vector<std::string> texts = Texts(key);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const std::string field = FieldOf(path_, key, i);
    if (!texts[i].empty() || !faults_.IsSound(field)) continue;
    faults_.Add(field, "expected a text that says something, found \"\"; write it or remove it");
  }
  return texts;
}

void Fields::Each(std::string_view key, const std::function<void(Fields&)>& read) {
  const toml::node* node = Find(key);
  if (!node) return;
  const toml::array* list = node->as_array();
  if (!list) return Expected(key, "[[" + std::string{key} + "]] tables", *node);
  std::size_t index = 0;
  for (const toml::node& entry : *list) {
    const std::string path = FieldOf(path_, key, index++);
    if (const toml::table* table = entry.as_table()) {
      Fields fields(*table, path, faults_);
      read(fields);
      fields.NoOthers();
    } else {
      faults_.Add(path, "expected a table, found " + Shown(entry) + "; correct it");
    }
  }
}

void Fields::Inside(std::string_view key, const std::function<void(Fields&)>& read) {
  const toml::node* node = Find(key);
  if (!node) return;
  const toml::table* table = node->as_table();
  if (!table) return Expected(key, "a table", *node);
  Fields fields(*table, FieldOf(path_, key), faults_);
  read(fields);
  fields.NoOthers();
}

void Fields::NoOthers() {
  for (const auto& [key, node] : table_) {
    if (known_.contains(key.str())) continue;
    const std::string field = FieldOf(path_, key.str());
    faults_.Locate(field, static_cast<int>(key.source().begin.line));
    faults_.Add(field, "is not a setting of a plan here; " + SlipAdvice(key.str(), known_));
  }
}

}  // namespace rindwatch::rules
