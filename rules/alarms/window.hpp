// The mean of one channel over the last minutes. Bounded memory, no allocation after construction, and exact: readings
// are whole milli-units and minute means whole micro-units, so running sums equal fresh ones to the last digit.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace rindwatch::rules::watch {

// Three windows in a row, the newest judged, the older two to see where the mean is going. Minutes are counted since
// the epoch; the open minute takes readings and joins the mean when it closes. A minute without a reading has no part
// in it.
class Window {
 public:
  static constexpr int kSegments = 3;
  static constexpr std::int32_t kEmpty = std::numeric_limits<std::int32_t>::min();

  Window() = default;
  // 3 <= minutes.
  explicit Window(int minutes);

  int Minutes() const { return minutes_; }
  void Clear();
  // `minute` never goes back.
  void Add(std::int64_t minute, std::int64_t milli);
  // Closes every minute before `minute`.
  void RollTo(std::int64_t minute);
  // Mean of segment 0 (the last window) to 2 (two windows ago); none without a reading in it.
  std::optional<double> Mean(int segment = 0) const;
  // Standard deviation of the minutes of the newest window.
  std::optional<double> Deviation() const;
  // Mean of the last third of the newest window.
  std::optional<double> Recent() const;
  // Mean of the closed minutes from `newest` to `oldest` minutes ago, 1 the last; not beyond three windows.
  std::optional<double> Between(int newest, int oldest) const;

  // For writing down: the closed minutes, oldest first, and the open one.
  std::vector<std::int32_t> Closed() const;
  std::int64_t OpenMinute() const { return open_minute_; }
  std::int64_t OpenSum() const { return open_sum_; }
  std::int64_t OpenCount() const { return open_count_; }
  // False if the figures cannot come from a window of this length.
  bool Restore(std::int64_t open_minute, std::int64_t open_sum, std::int64_t open_count,
               const std::vector<std::int32_t>& closed);

 private:
  struct Sum {
    std::int64_t sum = 0;  // micro-units
    std::int64_t count = 0;
    void Take(std::int32_t micro);
    void Drop(std::int32_t micro);
    std::optional<double> Mean() const;
  };
  void Close(std::int32_t micro);
  std::int32_t OpenMean() const;
  std::int32_t Back(int minutes) const;  // the value closed that many minutes ago, 1 the last

  int minutes_ = 0;
  std::vector<std::int32_t> ring_;
  std::size_t next_ = 0;  // where the next closed minute goes; the oldest lies there now
  Sum segments_[kSegments];
  Sum recent_;
  std::int64_t open_minute_ = 0;
  std::int64_t open_sum_ = 0;  // milli-units
  std::int64_t open_count_ = 0;
};

}  // namespace rindwatch::rules::watch
