// Who is connected at one door, and who makes room for whom. No socket in here. The loop's thread.
#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>

namespace rindwatch::web {

// One client, whatever it does. Enters a list when it begins and leaves it when it is cut or gone.
class Connection {
 public:
  using Time = std::chrono::steady_clock::time_point;

  virtual ~Connection() = default;
  // Ends it at once and leaves the list; harmless the second time.
  virtual void Cut() noexcept = 0;
  // Ends it when the running request is answered; at once if there is none.
  virtual void Finish() noexcept = 0;
  // Since when it has nothing to do; none while it works.
  virtual std::optional<Time> IdleSince() const noexcept = 0;
};

class Connections {  // NOLINT(cppcoreguidelines-special-member-functions): the destructor is the usual one
 public:
  // Bounds as in web::Bounds.
  Connections(std::size_t most, std::size_t most_per_address) : most_(most), most_per_address_(most_per_address) {}
  Connections(const Connections&) = delete;
  Connections& operator=(const Connections&) = delete;

  // Whether one more from this address may enter. If places are short, the connection that was idle longest is cut:
  // of this address if its share is used up, of all otherwise.
  bool MakeRoom(const std::string& address);
  void Enter(Connection& connection, std::string address);
  // Harmless for one that is not in the list. Calls the function of OnEmpty when the last leaves.
  void Leave(Connection& connection) noexcept;
  void OnEmpty(std::function<void()> done) { on_empty_ = std::move(done); }

  void FinishAll() noexcept;
  // How many were cut.
  std::size_t CutAll() noexcept;
  std::size_t Size() const { return inside_.size(); }

 private:
  std::size_t From(const std::string& address) const;
  // `address` null: of all.
  bool CutLongestIdle(const std::string* address);
  // Calls once for each; each may leave, or make others leave, meanwhile.
  template <class Function>
  void ForEach(Function function) noexcept;

  const std::size_t most_;
  const std::size_t most_per_address_;
  std::map<Connection*, std::string> inside_;
  std::function<void()> on_empty_;
};

}  // namespace rindwatch::web
