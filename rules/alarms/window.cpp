#include "rules/alarms/window.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::rules::watch {
namespace {

// Keeps the sums far from their ends whatever a probe says; no air comes near it.
constexpr std::int64_t kMostMilli = 1'000'000;

}  // namespace

void Window::Sum::Take(std::int32_t micro) {
  if (micro == kEmpty) return;
  sum += micro;
  ++count;
}

void Window::Sum::Drop(std::int32_t micro) {
  if (micro == kEmpty) return;
  sum -= micro;
  --count;
}

std::optional<double> Window::Sum::Mean() const {
  if (count == 0) return std::nullopt;
  return static_cast<double>(sum) / static_cast<double>(count) / 1e6;
}

Window::Window(int minutes) : minutes_(minutes), ring_(static_cast<std::size_t>(minutes) * kSegments, kEmpty) {}

void Window::Clear() {
  std::ranges::fill(ring_, kEmpty);
  for (Sum& segment : segments_) segment = {};
  recent_ = {};
  next_ = 0;
  open_minute_ = open_sum_ = open_count_ = 0;
}

std::int32_t Window::Back(int minutes) const {
  const auto back = static_cast<std::size_t>(minutes);
  return ring_[next_ >= back ? next_ - back : next_ + ring_.size() - back];
}

void Window::Close(std::int32_t micro) {
  // The oldest of each segment moves into the next; the oldest of all is overwritten.
  recent_.Drop(Back(minutes_ / 3));
  for (int i = 0; i < kSegments; ++i) segments_[i].Drop(Back(minutes_ * (i + 1)));
  for (int i = 1; i < kSegments; ++i) segments_[i].Take(Back(minutes_ * i));
  segments_[0].Take(micro);
  recent_.Take(micro);
  ring_[next_] = micro;
  next_ = next_ + 1 == ring_.size() ? 0 : next_ + 1;
}

std::int32_t Window::OpenMean() const {
  if (open_count_ == 0) return kEmpty;
  const std::int64_t micro = open_sum_ * 1000;
  const std::int64_t half = micro < 0 ? -open_count_ / 2 : open_count_ / 2;
  return static_cast<std::int32_t>((micro + half) / open_count_);
}

void Window::RollTo(std::int64_t minute) {
  if (minute <= open_minute_) return;
  const std::int64_t passed = minute - open_minute_;
  if (passed > static_cast<std::int64_t>(ring_.size())) {
    Clear();
  } else {
    Close(OpenMean());
    for (std::int64_t i = 1; i < passed; ++i) Close(kEmpty);
  }
  open_minute_ = minute;
  open_sum_ = open_count_ = 0;
}

void Window::Add(std::int64_t minute, std::int64_t milli) {
  RollTo(minute);
  open_sum_ += std::clamp(milli, -kMostMilli, kMostMilli);
  ++open_count_;
}

std::optional<double> Window::Mean(int segment) const { return segments_[segment].Mean(); }

std::optional<double> Window::Between(int newest, int oldest) const {
  Sum sum;
  for (int ago = newest; ago <= oldest; ++ago) sum.Take(Back(ago));
  return sum.Mean();
}

std::optional<double> Window::Recent() const { return recent_.Mean(); }

std::optional<double> Window::Deviation() const {
  const auto mean = Mean();
  if (!mean) return std::nullopt;
  double squares = 0;
  for (int back = 1; back <= minutes_; ++back) {
    const std::int32_t micro = Back(back);
    if (micro == kEmpty) continue;
    const double off = micro / 1e6 - *mean;
    squares += off * off;
  }
  return std::sqrt(squares / static_cast<double>(segments_[0].count));
}

std::vector<std::int32_t> Window::Closed() const {
  std::vector<std::int32_t> closed(ring_.size());
  std::ranges::rotate_copy(ring_, ring_.begin() + static_cast<std::ptrdiff_t>(next_), closed.begin());
  const auto first = std::ranges::find_if(closed, [](std::int32_t v) { return v != kEmpty; });
  closed.erase(closed.begin(), first);
  return closed;
}

bool Window::Restore(std::int64_t open_minute, std::int64_t open_sum, std::int64_t open_count,
                     const std::vector<std::int32_t>& closed) {
  Clear();
  if (closed.size() > ring_.size() || open_minute < 0 || open_count < 0) return false;
  if (open_count > 1'000'000'000 || open_sum > open_count * kMostMilli || open_sum < -open_count * kMostMilli)
    return false;
  for (const std::int32_t micro : closed) {
    if (micro != kEmpty && (micro > kMostMilli * 1000 || micro < -kMostMilli * 1000)) return false;
    Close(micro);
  }
  open_minute_ = open_minute;
  open_sum_ = open_sum;
  open_count_ = open_count;
  return true;
}

}  // namespace rindwatch::rules::watch
