#include "web/connections.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace rindwatch::web {

std::size_t Connections::From(const std::string& address) const {
  return static_cast<std::size_t>(
      std::count_if(inside_.begin(), inside_.end(), [&](const auto& entry) { return entry.second == address; }));
}

bool Connections::CutLongestIdle(const std::string* address) {
  Connection* longest = nullptr;
  Connection::Time since = Connection::Time::max();
  for (const auto& [connection, from] : inside_) {
    const auto idle = connection->IdleSince();
    if (!idle || *idle >= since || (address != nullptr && from != *address)) continue;
    longest = connection;
    since = *idle;
  }
  if (longest == nullptr) return false;
  longest->Cut();
  return true;
}

bool Connections::MakeRoom(const std::string& address) {
  if (From(address) >= most_per_address_) return CutLongestIdle(&address);
  if (inside_.size() >= most_) return CutLongestIdle(nullptr);
  return true;
}

void Connections::Enter(Connection& connection, std::string address) {
  inside_.emplace(&connection, std::move(address));
}

void Connections::Leave(Connection& connection) noexcept {
  if (inside_.erase(&connection) == 1 && inside_.empty() && on_empty_) on_empty_();
}

template <class Function>
void Connections::ForEach(Function function) noexcept {
  std::vector<Connection*> all;
  all.reserve(inside_.size());
  for (const auto& entry : inside_) all.push_back(entry.first);
  for (Connection* connection : all) {
    if (inside_.contains(connection)) function(*connection);
  }
}

void Connections::FinishAll() noexcept {
  ForEach([](Connection& connection) { connection.Finish(); });
}

std::size_t Connections::CutAll() noexcept {
  const std::size_t count = inside_.size();
  ForEach([](Connection& connection) { connection.Cut(); });
  return count;
}

}  // namespace rindwatch::web
