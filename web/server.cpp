#include "web/server.hpp"

#include <optional>
#include <utility>

#include "web/door.hpp"
#include "web/listen.hpp"
#include "web/listener.hpp"
#include "web/net.hpp"

namespace rindwatch::web {

namespace {

Gate MakeGate(const ServerOptions& options) {
  Gate::Options gate{options.host_names, options.host_names_setting};
  for (const std::string& name : MachineNames()) gate.names.push_back(name);
  return Gate(std::move(gate));
}

}  // namespace

class Server::Body : public std::enable_shared_from_this<Server::Body> {
 public:
  Body(asio::io_context& loop, const ServerOptions& options, Handler handler, Events& events, const Visitor& visitor);
  void Open();
  void Stop(std::function<void()> done);
  void End() noexcept;
  Figures Now() const;
  std::uint16_t Port() const { return port_; }

 private:
  using Tcp = asio::ip::tcp;
  using Local = asio::local::stream_protocol;

  const Bounds& Limits() const { return shared_->options.bounds; }
  void CloseListeners() noexcept;
  template <class Function>
  void ForEachList(Function function);
  void WaitThenCut();
  void OnLeft();

  asio::io_context& loop_;
  asio::steady_timer stop_timer_;
  const std::shared_ptr<Shared> shared_;
  const std::shared_ptr<Door> network_door_;
  const std::shared_ptr<Door> local_door_;
  std::shared_ptr<Listener<Tcp>> network_;
  std::optional<LocalPlace> local_place_;
  std::shared_ptr<Listener<Local>> local_;
  std::uint16_t port_ = 0;
  std::vector<std::function<void()>> done_;
};

Server::Body::Body(asio::io_context& loop, const ServerOptions& options, Handler handler, Events& events,
                   const Visitor& visitor)
    : loop_(loop),
      stop_timer_(loop),
      shared_(std::make_shared<Shared>(options, std::move(handler), events, visitor, MakeGate(options))),
      network_door_(std::make_shared<Door>(shared_, true, Limits().clients_per_address)),
      // On the Unix-domain socket there are no addresses to share among.
      local_door_(std::make_shared<Door>(shared_, false, Limits().clients)) {
  auto acceptor = ListenTcp(loop, options.address, options.port);
  port_ = acceptor.local_endpoint().port();
  network_ = std::make_shared<Listener<Tcp>>(std::move(acceptor), network_door_);
  if (options.socket_path.empty()) return;
  local_place_.emplace(loop, options.socket_path);
  local_ = std::make_shared<Listener<Local>>(local_place_->TakeAcceptor(), local_door_);
}

void Server::Body::Open() {
  ForEachList([weak = weak_from_this()](Connections& list) {
    list.OnEmpty([weak] {
      if (const auto self = weak.lock()) self->OnLeft();
    });
  });
  network_->Accept();
  if (local_) local_->Accept();
}

template <class Function>
void Server::Body::ForEachList(Function function) {
  for (Door* door : {network_door_.get(), local_door_.get()}) {
    function(door->inside);
    function(door->step);
  }
}

void Server::Body::CloseListeners() noexcept {
  network_->Close();
  if (local_) local_->Close();
  if (local_place_) local_place_->Remove();
}

void Server::Body::Stop(std::function<void()> done) {
  done_.push_back(std::move(done));
  if (!shared_->stopping) {
    shared_->stopping = true;
    CloseListeners();
    WaitThenCut();
    ForEachList([](Connections& list) { list.FinishAll(); });
  }
  OnLeft();
}

void Server::Body::WaitThenCut() {
  stop_timer_.expires_after(Limits().stop_time);
  stop_timer_.async_wait([self = shared_from_this()](ErrorCode cancelled) {
    if (cancelled) return;
    self->ForEachList([&](Connections& list) { self->shared_->figures.cut += list.CutAll(); });
  });
}

void Server::Body::OnLeft() {
  if (!shared_->stopping || !network_door_->IsEmpty() || !local_door_->IsEmpty()) return;
  Cancel(stop_timer_);
  for (auto& done : std::exchange(done_, {})) asio::post(loop_, std::move(done));
}

void Server::Body::End() noexcept {
  shared_->gone = true;
  shared_->stopping = true;
  done_.clear();
  CloseListeners();
  Cancel(stop_timer_);
  ForEachList([](Connections& list) {
    list.OnEmpty({});
    list.CutAll();
  });
}

Server::Figures Server::Body::Now() const {
  Figures figures = shared_->figures;
  figures.clients = network_door_->inside.Size();
  figures.local_clients = local_door_->inside.Size();
  return figures;
}

Server::Server(asio::io_context& loop, const ServerOptions& options, Handler handler, Events& events,
               const Visitor& visitor)
    : body_(std::make_shared<Body>(loop, options, std::move(handler), events, visitor)) {
  body_->Open();
}

Server::~Server() { body_->End(); }

std::uint16_t Server::Port() const { return body_->Port(); }

Server::Figures Server::Now() const { return body_->Now(); }

void Server::Stop(std::function<void()> done) { body_->Stop(std::move(done)); }

}  // namespace rindwatch::web
