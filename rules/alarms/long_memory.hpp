// What a channel or a cave remembers of days and weeks: fixed sizes, no list of readings.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace rindwatch::rules::watch {

// The mean of the last `Recent` hours against that of the `Before` whole days before them.
template <std::size_t Recent, std::size_t Before>
class LongMean {
 public:
  struct Cell {
    double sum = 0;
    std::int64_t count = 0;
    void Take(const Cell& other) {
      sum += other.sum;
      count += other.count;
    }
  };

  // `hour` since the epoch; never goes back.
  // An hour before the newest, by a clock that was put back, counts as the newest.
  void RollTo(std::int64_t hour) {
    if (hour <= hour_) return;
    if (hour_ == 0 || hour - hour_ > static_cast<std::int64_t>(Recent + 24 * Before)) {
      *this = {};
      hour_ = hour;
      return;
    }
    while (hour_ < hour) Next();
  }
  void Add(std::int64_t hour, double value) {
    RollTo(hour);
    recent_[Slot()].Take({value, 1});
  }
  // Of the newest hours, the one that lasts among them.
  Cell Newest(std::size_t count) const {
    Cell total;
    for (std::size_t back = 0; back < std::min(count, Recent); ++back)
      total.Take(recent_[(Slot() + Recent - back) % Recent]);
    return total;
  }
  std::int64_t RecentCount() const { return Total(recent_).count; }
  std::int64_t NormalCount() const { return Total(days_).count; }
  std::optional<double> RecentMean() const { return MeanOf(Total(recent_)); }
  // None: they were heard for less than two thirds.
  std::optional<double> NewestMean(std::size_t count) const {
    const Cell newest = Newest(count);
    return newest.count >= static_cast<std::int64_t>(count) * 40 ? MeanOf(newest) : std::nullopt;
  }
  // Without the newest `skip` of them: what fails slowly would else become its own normal.
  std::optional<double> NormalMean(std::size_t skip = 0) const {
    Cell total;
    for (std::size_t i = skip; i < Before; ++i) total.Take(days_[i]);
    return MeanOf(total);
  }
  // Whole days that the normal rests on.
  std::size_t NormalDays() const {
    return static_cast<std::size_t>(std::ranges::count_if(days_, [](const Cell& day) { return day.count > 0; }));
  }

  template <class Archive>
  void Describe(Archive& archive) {
    Field(archive, hour_);
    Field(archive, gathered_);
    for (Cell& cell : recent_) DescribeCell(archive, cell);
    for (Cell& cell : days_) DescribeCell(archive, cell);
    DescribeCell(archive, gathering_);
    if (gathered_ < 0 || gathered_ >= 24 || hour_ < 0) archive.Spoil();
  }

 private:
  std::size_t Slot() const { return static_cast<std::size_t>(hour_) % Recent; }
  // What is older than the recent hours is gathered into days.
  void Next() {
    ++hour_;
    gathering_.Take(recent_[Slot()]);
    recent_[Slot()] = {};
    if (++gathered_ < 24) return;
    std::ranges::rotate(days_, days_.end() - 1);
    days_.front() = gathering_;
    gathering_ = {};
    gathered_ = 0;
  }
  template <std::size_t N>
  static Cell Total(const std::array<Cell, N>& cells) {
    Cell total;
    for (const Cell& cell : cells) total.Take(cell);
    return total;
  }
  static std::optional<double> MeanOf(const Cell& cell) {
    return cell.count ? std::optional{cell.sum / static_cast<double>(cell.count)} : std::nullopt;
  }
  template <class Archive>
  static void DescribeCell(Archive& archive, Cell& cell) {
    Field(archive, cell.sum);
    Field(archive, cell.count);
  }

  std::int64_t hour_ = 0;
  std::int64_t gathered_ = 0;  // hours in the day that is being gathered
  Cell gathering_;
  std::array<Cell, Recent> recent_{};
  std::array<Cell, Before> days_{};
};

// The most of each of the last 28 days.
class DayMost {
 public:
  static constexpr std::size_t kDays = 28;
  void Learn(std::int64_t day, std::int64_t value);
  // Over the days that lie at most 28 back.
  std::int64_t Longest(std::int64_t day) const;
  // The median of the days that have one: what one long day alone does not move.
  std::int64_t UsualMost(std::int64_t day) const;

  template <class Archive>
  void Describe(Archive& archive) {
    Field(archive, day_);
    for (std::int64_t& most : most_) Field(archive, most);
    if (day_ < 0) archive.Spoil();
  }

 private:
  std::int64_t day_ = 0;
  std::array<std::int64_t, kDays> most_{};
};

// How the values of a day are spread, to a tenth; of the last 28 days the value that nine in ten lie below (the high
// side) or above (the low side).
class DaySpread {
 public:
  static constexpr std::size_t kDays = 28, kHalf = 64, kBins = 2 * kHalf;
  static constexpr double kBin = 0.1;

  // Closes the days before `day`; one that was spoiled, or heard for less than half, teaches nothing.
  void Add(std::int64_t day, double value);
  void SpoilToday() { spoiled_ = true; }
  std::size_t Days() const { return learned_; }
  // The median of the days; none before a whole day has been learned.
  std::optional<double> UsualHigh() const { return usual_high_; }
  std::optional<double> UsualLow() const { return usual_low_; }

  template <class Archive>
  void Describe(Archive& archive) {
    Field(archive, day_);
    Field(archive, first_);
    Field(archive, spoiled_);
    auto learned = static_cast<std::int64_t>(learned_), next = static_cast<std::int64_t>(next_);
    Field(archive, learned);
    Field(archive, next);
    if (learned < 0 || learned > static_cast<std::int64_t>(kDays) || next < 0 ||
        next >= static_cast<std::int64_t>(kDays) || day_ < 0) {
      archive.Spoil();
      return;
    }
    learned_ = static_cast<std::size_t>(learned);
    next_ = static_cast<std::size_t>(next);
    for (std::size_t i = 0; i < learned_; ++i) {
      Field(archive, high_[i]);
      Field(archive, low_[i]);
    }
    DescribeBins(archive);
    if constexpr (Archive::kReads) WorkOut();
  }

 private:
  // Only bins that hold something are written.
  template <class Archive>
  void DescribeBins(Archive& archive) {
    std::vector<std::int64_t> filled;
    for (std::size_t i = 0; i < kBins; ++i) {
      if (bins_[i]) filled.insert(filled.end(), {static_cast<std::int64_t>(i), bins_[i]});
    }
    Field(archive, filled);
    if constexpr (Archive::kReads) {
      for (std::size_t i = 0; i + 1 < filled.size(); i += 2) {
        if (filled[i] < 0 || filled[i] >= static_cast<std::int64_t>(kBins)) return archive.Spoil();
        bins_[static_cast<std::size_t>(filled[i])] = filled[i + 1];
      }
    }
  }
  void Close();
  void WorkOut();
  std::optional<double> Quantile(double share) const;
  std::optional<double> Median(const std::array<double, kDays>& of) const;

  std::int64_t day_ = 0;
  double first_ = 0;  // the middle of the bins
  bool spoiled_ = false;
  std::array<std::int64_t, kBins> bins_{};
  std::array<double, kDays> high_{}, low_{};
  std::size_t learned_ = 0, next_ = 0;
  std::optional<double> usual_high_, usual_low_;  // worked out
};

// Legs of a saw: a fall that is followed by a rise of at least `kTurns` is one.
class FallingLegs {
 public:
  static constexpr double kTurns = 0.3;
  // Kelvins a minute of a falling leg that has just ended; none most of the time.
  std::optional<double> Add(std::int64_t minute, double value);
  void Forget() { *this = {}; }
  // The minute of the trough since which it has risen without a fall; none while it falls.
  std::optional<std::int64_t> RisesSince() const { return begun_ && !falls_ ? std::optional{low_at_} : std::nullopt; }

  template <class Archive>
  void Describe(Archive& archive) {
    Field(archive, begun_);
    Field(archive, falls_);
    Field(archive, top_);
    Field(archive, low_);
    Field(archive, top_at_);
    Field(archive, low_at_);
  }

 private:
  bool begun_ = false, falls_ = false;
  double top_ = 0, low_ = 0;  // of the leg so far
  std::int64_t top_at_ = 0, low_at_ = 0;
};

}  // namespace rindwatch::rules::watch
