#include "web/events.hpp"

#include <algorithm>
#include <charconv>
#include <utility>

namespace rindwatch::web {

namespace {

// A browser that lost the stream asks again after this long.
constexpr std::string_view kRetry = "retry: 2000\n";

// A field of the stream; a value of several lines becomes several fields, which the browser joins again.
void AppendField(std::string& out, std::string_view name, std::string_view value) {
  for (;;) {
    const std::size_t end = std::min(value.find_first_of("\r\n"), value.size());
    out.append(name).append(": ").append(value.substr(0, end)).append("\n");
    if (end == value.size()) return;
    value.remove_prefix(value.substr(end, 2) == "\r\n" ? end + 2 : end + 1);
  }
}

std::string Format(const Event& event) {
  std::string out;
  if (!event.id.empty()) AppendField(out, "id", event.id);
  AppendField(out, "event", event.name);
  AppendField(out, "data", event.data);
  return out + "\n";
}

}  // namespace

Events::Events(Options options) : options_(std::move(options)) {}

std::string Events::IdOf(std::uint64_t number) const { return options_.run + "-" + std::to_string(number); }

std::string Events::LastId() const { return IdOf(last_); }

std::size_t Events::Readers() const {
  return static_cast<std::size_t>(
      std::count_if(readers_.begin(), readers_.end(), [](const auto& reader) { return !reader.expired(); }));
}

std::string Events::Publish(Event event) {
  event.id = IdOf(++last_);
  const auto frame = std::make_shared<const std::string>(Format(event));
  history_.push_back({last_, frame});
  history_bytes_ += frame->size();
  while (history_.size() > options_.history || history_bytes_ > options_.history_bytes) {
    history_bytes_ -= history_.front().frame->size();
    history_.pop_front();
  }
  Hand(frame);
  return event.id;
}

void Events::Pass(Event event) {
  event.id.clear();
  Hand(std::make_shared<const std::string>(Format(event)));
}

void Events::Hand(const Frame& frame) {
  std::erase_if(readers_, [](const auto& reader) { return reader.expired(); });
  // A copy, and a look at each before its call: a reader may let go of any subscription.
  const auto readers = readers_;
  for (const auto& held : readers) {
    if (const Subscription reader = held.lock()) (*reader)(frame);
  }
}

std::string Events::CatchUp(std::string_view after) const {
  // An id without data is remembered by the browser: it resumes from here even if no event comes before it is cut.
  const std::string begin = std::string(kRetry) + "id: " + LastId() + "\n";
  if (after.empty() || after == LastId()) return begin + "\n";
  std::string reload = begin + "event: reload\ndata: {}\n\n";
  const std::string prefix = options_.run + "-";
  if (!after.starts_with(prefix)) return reload;
  after.remove_prefix(prefix.size());
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(after.data(), after.data() + after.size(), number);
  if (error != std::errc{} || end != after.data() + after.size() || number > last_) return reload;
  if (history_.empty() || history_.front().number > number + 1) return reload;
  std::string out = std::string(kRetry) + "\n";
  for (const Kept& kept : history_) {
    if (kept.number > number) out += *kept.frame;
  }
  return out;
}

Events::Subscription Events::Subscribe(std::string_view after, Reader reader) {
  auto subscription = std::make_shared<const Reader>(std::move(reader));
  readers_.emplace_back(subscription);
  (*subscription)(std::make_shared<const std::string>(CatchUp(after)));
  return subscription;
}

}  // namespace rindwatch::web
