// One description of a record serves both ways: the same calls write it down and read it back, so the two cannot drift
// apart. Text of words parted by blanks, a record to a line. Reading never throws: the first word that does not fit
// spoils the archive, and from then on every field keeps its default.
#pragma once

#include <charconv>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "rules/time.hpp"

namespace rindwatch::rules::watch {

class Writer {
 public:
  static constexpr bool kReads = false;
  bool Ok() const { return true; }
  bool LineEnds() const { return false; }
  void Spoil() {}
  // Begins a record.
  void Line(std::string_view tag);
  void Word(std::int64_t& value);
  void Word(double& value);  // the shortest that reads back exactly
  void Word(std::string& text);
  // How many records of a kind follow; `most` only matters to the reader.
  void Count(std::size_t& count, std::size_t most);
  std::string Take() { return std::move(text_); }

 private:
  void Put(std::string_view word);
  std::string text_;
};

class Reader {
 public:
  static constexpr bool kReads = true;
  explicit Reader(std::string_view text) : rest_(text) {}
  bool Ok() const { return ok_; }
  void Spoil() { ok_ = false; }
  bool AtEnd() const { return rest_.empty(); }
  // No further word in this record: what comes after was not remembered yet when it was written.
  bool LineEnds() const { return rest_.empty() || rest_.front() == '\n'; }
  void Line(std::string_view tag);
  void Word(std::int64_t& value);
  void Word(double& value);  // finite
  void Word(std::string& text);
  // Fails on a count that the remaining text cannot hold, so that a damaged one never asks for memory.
  void Count(std::size_t& count, std::size_t most);

 private:
  std::string_view Next();
  std::string_view rest_;
  bool ok_ = true;
};

// 64-bit FNV-1a, as 16 hexadecimal digits: finds damage, not malice.
std::string Checksum(std::string_view text);

// ---- Fields, for either archive. ----

template <class Archive>
void Field(Archive& archive, std::int64_t& value) {
  archive.Word(value);
}
template <class Archive>
void Field(Archive& archive, double& value) {
  archive.Word(value);
}
template <class Archive>
void Field(Archive& archive, std::string& text) {
  archive.Word(text);
}
template <class Archive>
void Number(Archive& archive, auto& value, std::int64_t low, std::int64_t high) {
  auto number = static_cast<std::int64_t>(value);
  archive.Word(number);
  if (number < low || number > high) archive.Spoil();
  if (Archive::kReads && archive.Ok()) value = static_cast<std::decay_t<decltype(value)>>(number);
}
template <class Archive>
void Field(Archive& archive, int& value) {
  Number(archive, value, -1'000'000, 1'000'000);
}
template <class Archive>
void Field(Archive& archive, bool& value) {
  Number(archive, value, 0, 1);
}
// Within ten thousand years of the epoch, so that no later sum runs over.
inline constexpr std::int64_t kFarthest = 316'000'000'000'000;
template <class Archive>
void Field(Archive& archive, Millis& span) {
  std::int64_t count = span.count();
  Number(archive, count, -kFarthest, kFarthest);
  span = Millis{count};
}
template <class Archive>
void Field(Archive& archive, Instant& at) {
  Millis since = at.time_since_epoch();
  Field(archive, since);
  at = Instant{since};
}
template <class Archive>
void Field(Archive& archive, Date& date) {
  std::int64_t days = date.time_since_epoch().count();
  Number(archive, days, -4'000'000, 4'000'000);
  date = Date{std::chrono::days{days}};
}
template <class Archive, class T>
void Field(Archive& archive, std::optional<T>& value) {
  bool there = value.has_value();
  Field(archive, there);
  if (Archive::kReads) value = there && archive.Ok() ? std::optional<T>{T{}} : std::nullopt;
  if (value) Field(archive, *value);
}
template <class Archive, class T>
void Field(Archive& archive, std::vector<T>& values) {
  std::size_t count = values.size();
  archive.Count(count, 10'000'000);
  if (Archive::kReads) values.assign(archive.Ok() ? count : 0, T{});
  for (T& value : values) Field(archive, value);
}

}  // namespace rindwatch::rules::watch
