#include "daemon/simulate/command_inlet.hpp"

#include <sys/eventfd.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <system_error>
#include <utility>

namespace rindwatch {

Alert::Alert() : descriptor_(eventfd(0, EFD_NONBLOCK | EFD_CLOEXEC)) {
  if (descriptor_ < 0) throw std::system_error(errno, std::generic_category(), "no event descriptor can be made");
}

Alert::~Alert() { close(descriptor_); }

void Alert::Raise() noexcept {
  const std::uint64_t one = 1;
  // A full counter is raised already; nothing else can go wrong with eight bytes.
  [[maybe_unused]] const auto written = write(descriptor_, &one, sizeof one);
}

void Alert::Clear() noexcept {
  std::uint64_t count = 0;
  [[maybe_unused]] const auto taken = read(descriptor_, &count, sizeof count);
}

CommandTopic::CommandTopic(sensors::Broker broker, sensors::Patience patience, std::string client_id, std::string topic,
                           Alert& alert, std::function<void(std::string)> on_trouble)
    : topic_(std::move(topic)),
      alert_(alert),
      on_trouble_(std::move(on_trouble)),
      link_({.broker = std::move(broker),
             .patience = patience,
             .client_id = std::move(client_id),
             .will_topic = {},
             .will_payload = {}},
            *this) {
  link_.Start();
}

CommandTopic::~CommandTopic() { link_.Stop(); }

bool CommandTopic::OnMessage(const sensors::LinkMessage& message) {
  if (message.retained) return true;
  {
    const std::scoped_lock lock(mutex_);
    if (lines_.size() < kMost) lines_.emplace_back(message.payload);
  }
  alert_.Raise();
  return true;
}

void CommandTopic::OnUp(sensors::Link& link) {
  if (link.Subscribe(topic_, 1) == sensors::Link::Answer::kGranted) return;
  on_trouble_("the broker refuses to let us listen to " + topic_ + "; commands to the fridge by MQTT are not heard");
}

std::optional<std::string> CommandTopic::Take() {
  const std::scoped_lock lock(mutex_);
  if (lines_.empty()) return std::nullopt;
  std::string line = std::move(lines_.front());
  lines_.pop_front();
  return line;
}

int CommandLines::Descriptor() const {
  // Reading a terminal out of the background would stop the process.
  if (descriptor_ >= 0 && isatty(descriptor_) == 1 && tcgetpgrp(descriptor_) != getpgrp()) return -1;
  return descriptor_;
}

void CommandLines::Read() {
  std::array<char, 4096> bytes;
  const auto count = read(descriptor_, bytes.data(), bytes.size());
  if (count > 0) {
    pending_.append(bytes.data(), static_cast<std::size_t>(count));
    // Without an end of line in sight nobody types a command any more.
    if (pending_.size() > kLongest && pending_.find('\n') == std::string::npos) pending_.clear();
  } else if (count == 0 || (errno != EINTR && errno != EAGAIN)) {
    descriptor_ = -1;
    if (!pending_.empty()) pending_ += '\n';
  }
}

std::optional<std::string> CommandLines::Take() {
  const auto end = pending_.find('\n');
  if (end == std::string::npos) return std::nullopt;
  std::string line = pending_.substr(0, end);
  pending_.erase(0, end + 1);
  return line;
}

}  // namespace rindwatch
