#include "daemon/trial/private_broker.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <boost/asio/buffer.hpp>
#include <boost/asio/error.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <chrono>
#include <fstream>
#include <stdexcept>
#include <thread>

namespace rindwatch {

namespace {

using boost::asio::ip::tcp;

constexpr std::chrono::seconds kStart{10}, kAnswer{1};
constexpr int kTries = 5;  // another program may take the free port in between

void WriteConfig(const std::string& path, std::uint16_t port) {
  std::ofstream file(path);
  file << "# Written by rindwatch try; for this run alone.\n"
       << "listener " << port << " 127.0.0.1\n"
       << "allow_anonymous true\n"
       << "persistence false\n"
       << "log_dest none\n";
  // Started by root it would turn into another user, who cannot read here.
  if (geteuid() == 0) file << "user root\n";
}

// That it closes a connection of ours shows that its loop runs. The system takes connections before that, and mosquitto
// forgets a signal that comes in between.
bool Answers(std::uint16_t port) {
  boost::asio::io_context loop;
  tcp::socket socket(loop);
  boost::system::error_code error;
  socket.connect({boost::asio::ip::address_v4::loopback(), port}, error);
  if (error) return false;
  socket.shutdown(tcp::socket::shutdown_send, error);
  char nothing = 0;
  socket.async_read_some(boost::asio::buffer(&nothing, 1),
                         [&error](const boost::system::error_code& end, std::size_t) { error = end; });
  loop.run_for(kAnswer);
  return error == boost::asio::error::eof;
}

pid_t Spawn(const std::string& config) {
  const pid_t parent = getpid();
  const pid_t child = fork();
  if (child != 0) return child;
  // Ctrl-C reaches the whole group; the broker is asked to go last, by us.
  sigset_t interrupt;
  sigemptyset(&interrupt);
  sigaddset(&interrupt, SIGINT);
  pthread_sigmask(SIG_BLOCK, &interrupt, nullptr);
  // What it says of being started by root is no news in a trial.
  if (const int nowhere = open("/dev/null", O_WRONLY); nowhere >= 0) dup2(nowhere, STDERR_FILENO);
  prctl(PR_SET_PDEATHSIG, SIGTERM);
  if (getppid() != parent) _exit(1);
  // Debian keeps it where only root's path leads.
  for (const char* path : {"/usr/sbin/mosquitto", "/usr/local/sbin/mosquitto"}) {
    execl(path, "mosquitto", "-c", config.c_str(), static_cast<char*>(nullptr));
  }
  execlp("mosquitto", "mosquitto", "-c", config.c_str(), static_cast<char*>(nullptr));
  _exit(127);
}

}  // namespace

std::uint16_t FreePort() {
  boost::asio::io_context loop;
  tcp::acceptor acceptor(loop, {boost::asio::ip::address_v4::loopback(), 0});
  return acceptor.local_endpoint().port();
}

bool IsFree(const std::string& address, std::uint16_t port) {
  boost::asio::io_context loop;
  boost::system::error_code error;
  const auto parsed = boost::asio::ip::make_address(address, error);
  if (error) return true;  // whoever listens says what is wrong with it
  tcp::acceptor acceptor(loop);
  acceptor.open(parsed.is_v6() ? tcp::v6() : tcp::v4(), error);
  acceptor.set_option(tcp::acceptor::reuse_address(true), error);
  acceptor.bind({parsed, port}, error);
  return !error;
}

PrivateBroker::PrivateBroker(const std::string& folder) {
  const std::string config = folder + "/mosquitto.conf";
  for (int attempt = 0; attempt < kTries; ++attempt) {
    port_ = FreePort();
    WriteConfig(config, port_);
    process_ = Spawn(config);
    if (process_ < 0) break;
    const auto until = std::chrono::steady_clock::now() + kStart;
    while (std::chrono::steady_clock::now() < until) {
      int status = 0;
      if (waitpid(process_, &status, WNOHANG) == process_) {
        process_ = -1;
        if (WIFEXITED(status) && WEXITSTATUS(status) == 127) {
          throw std::runtime_error(
              "The trial needs the broker mosquitto, which is not installed: install the package mosquitto.");
        }
        break;
      }
      if (Answers(port_)) return;
      std::this_thread::sleep_for(std::chrono::milliseconds{10});
    }
  }
  throw std::runtime_error(fmt::format("The trial's broker did not start; {} says how it was asked to.", config));
}

PrivateBroker::~PrivateBroker() {
  if (process_ <= 0) return;
  kill(process_, SIGTERM);
  waitpid(process_, nullptr, 0);
}

}  // namespace rindwatch
