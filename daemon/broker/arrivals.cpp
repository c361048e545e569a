#include "daemon/broker/arrivals.hpp"

#include <algorithm>

namespace rindwatch {

void Arrivals::Note(std::string_view topic, std::string_view sample, rules::Instant at) {
  const std::lock_guard lock(mutex_);
  auto found = topics_.find(topic);
  if (found == topics_.end()) {
    if (topics_.size() >= kMost)
      topics_.erase(std::ranges::min_element(topics_, {}, [](const auto& e) { return e.second.at; }));
    found = topics_.emplace(std::string(topic), Arrival{std::string(topic), {}, at, 0}).first;
  }
  Arrival& arrival = found->second;
  arrival.sample = sample;
  arrival.at = at;
  ++arrival.count;
}

std::vector<Arrival> Arrivals::List() const {
  const std::lock_guard lock(mutex_);
  std::vector<Arrival> list;
  list.reserve(topics_.size());
  for (const auto& [topic, arrival] : topics_) list.push_back(arrival);
  return list;
}

}  // namespace rindwatch
