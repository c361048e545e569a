// The session at the broker: what is subscribed to, and the marker that tells where its backlog ends. The links'
// threads, but for OnSession.
#include <random>
#include <utility>

#include "sensors/mqtt/subscriber_impl.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch::sensors {
namespace {

// Tells this connection's marker from those that an earlier life left in the queue.
std::string NewMarker() {
  std::random_device random;
  return std::to_string(random()) + "-" + std::to_string(random());
}

}  // namespace

void Subscriber::Impl::Reader::OnConnecting() {
  const std::scoped_lock lock(impl_.mutex_);
  impl_.gate_.OnConnecting();
  impl_.marker_ = NewMarker();
}

void Subscriber::Impl::Reader::OnSession(bool present) {
  const std::scoped_lock lock(impl_.mutex_);
  impl_.gate_.OnSession(present, std::chrono::steady_clock::now());
  impl_.session_present_ = present;
}

void Subscriber::Impl::Reader::OnUp(Link& link) {
  std::string marker;
  bool present = false;
  {
    const std::scoped_lock lock(impl_.mutex_);
    marker = impl_.marker_;
    present = impl_.session_present_;
  }
  if (present) {
    subscribed_.insert(impl_.settings_.former_filters.begin(), impl_.settings_.former_filters.end());
  } else {
    subscribed_.clear();
  }
  Synchronise(link, true);
  // Behind all that waits in the broker's queue, so it ends the backlog when it comes back.
  if (present) link.PublishUnseen(impl_.marker_topic_, marker);
}

// Makes the broker's subscriptions those of the routes. New ones come first, so that between the two nothing is missed.
void Subscriber::Impl::Reader::Synchronise(Link& link, bool again) {
  auto filters = impl_.Routes()->Filters();
  filters.push_back(impl_.marker_topic_);
  std::set<std::string> wanted;
  for (auto& filter : WithoutOverlaps(std::move(filters))) wanted.insert(std::move(filter));
  for (const auto& filter : wanted) {
    if (again || !subscribed_.contains(filter)) Subscribe(link, filter);
  }
  for (const auto& filter : subscribed_) {
    if (!wanted.contains(filter)) link.Unsubscribe(filter);
  }
  subscribed_ = std::move(wanted);
}

void Subscriber::Impl::Reader::Subscribe(Link& link, const std::string& filter) {
  if (link.Subscribe(filter, 1) == Link::Answer::kGranted) return;
  if (!told_refused_.insert(filter).second) return;
  impl_.listener_.OnTrouble("The broker refuses the topic filter \"" + filter +
                            "\"; allow us to read it in the broker's access list.");
}

void Subscriber::Impl::Looker::OnUp(Link& link) {
  if (link.Subscribe(impl_.settings_.discovery, 0) == Link::Answer::kGranted) return;
  impl_.listener_.OnTrouble("The broker refuses the topic filter \"" + impl_.settings_.discovery +
                            "\" that shows which topics are arriving; choose another one.");
}

}  // namespace rindwatch::sensors
