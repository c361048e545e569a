// A real broker of a test's own: mosquitto on loopback, on a port that was free, with a folder of its own that goes
// with it. And the two small clients that come with it, as a probe and as a listener that are not ours.
#pragma once

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <signal.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>
#include <stdexcept>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace rindwatch::tests {

// True as soon as `condition` is; false if it never was until the deadline. Looks again every few milliseconds.
inline bool Eventually(const std::function<bool()>& condition,
                       std::chrono::milliseconds deadline = std::chrono::seconds(20)) {
  const auto end = std::chrono::steady_clock::now() + deadline;
  while (!condition()) {
    if (std::chrono::steady_clock::now() > end) return false;
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  return true;
}

// A child process; killed and reaped with the object.
class Process {
 public:
  Process() = default;
  explicit Process(const std::vector<std::string>& command, const std::string& output = "/dev/null") {
    std::vector<char*> arguments;
    for (const auto& word : command) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, output.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
    posix_spawn_file_actions_adddup2(&actions, 1, 2);
    const int failed = posix_spawnp(&pid_, arguments[0], &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (failed != 0) throw std::runtime_error("cannot start " + command.at(0) + "; is it installed?");
  }
  ~Process() { Kill(); }
  Process(Process&& other) noexcept : pid_(std::exchange(other.pid_, 0)) {}
  Process& operator=(Process&& other) noexcept {
    std::swap(pid_, other.pid_);
    return *this;
  }

  pid_t Pid() const { return pid_; }
  void Signal(int number) const {
    if (pid_ > 0) kill(pid_, number);
  }
  // Waits for the end; the exit status, or 128 + the signal's number.
  int Wait() {
    if (pid_ <= 0) return status_;
    int status = 0;
    waitpid(pid_, &status, 0);
    pid_ = 0;
    return status_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  }
  bool HasEnded() {
    int status = 0;
    if (pid_ <= 0 || waitpid(pid_, &status, WNOHANG) != pid_) return pid_ <= 0;
    pid_ = 0;
    status_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return true;
  }
  void Kill() {
    Signal(SIGKILL);
    Wait();
  }

 private:
  pid_t pid_ = 0;
  int status_ = 0;
};

// A port of loopback that nobody uses at this moment.
inline std::uint16_t FreePort() {
  const int probe = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  const bool bound = bind(probe, reinterpret_cast<sockaddr*>(&address), size) == 0 &&
                     getsockname(probe, reinterpret_cast<sockaddr*>(&address), &size) == 0;
  close(probe);
  if (!bound) throw std::runtime_error("loopback has no free port");
  return ntohs(address.sin_port);
}

class Mosquitto {
 public:
  struct Options {
    std::string user;  // empty: anybody may connect
    std::string password;
    std::vector<std::string> access;  // lines of an access list; empty: everything is allowed
    std::vector<std::string> more;    // further lines of the configuration
  };

  explicit Mosquitto(Options options = {}) : options_(std::move(options)) {
    std::string folder = std::filesystem::temp_directory_path() / "rindwatch-broker-XXXXXX";
    if (mkdtemp(folder.data()) == nullptr) throw std::runtime_error("no temporary folder can be made");
    folder_ = folder;
    // Between finding a free port and using it somebody else may take it.
    for (int attempt = 0; attempt < 20; ++attempt) {
      port_ = FreePort();
      WriteFiles();
      if (TryStart()) return;
    }
    throw std::runtime_error("mosquitto does not start: " + Log());
  }
  ~Mosquitto() {
    process_.Kill();
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  Mosquitto(const Mosquitto&) = delete;
  Mosquitto& operator=(const Mosquitto&) = delete;

  std::uint16_t Port() const { return port_; }
  const std::filesystem::path& Folder() const { return folder_; }

  // Ends the broker; it writes sessions and retained messages down first.
  void Stop() {
    process_.Signal(SIGTERM);
    process_.Wait();
  }
  // Starts it again, on the same port and with what it wrote down.
  void Start() {
    if (!TryStart()) throw std::runtime_error("mosquitto does not start again: " + Log());
  }
  // Forgets what was written down; between Stop and Start.
  void Forget() { std::filesystem::remove(folder_ / "mosquitto.db"); }

  // Everything that the broker logged, each packet included.
  std::string Log() const {
    std::ifstream file(folder_ / "log");
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
  }
  std::size_t CountInLog(const std::string& words) const {
    const std::string log = Log();
    std::size_t count = 0;
    for (auto at = log.find(words); at != std::string::npos; at = log.find(words, at + 1)) ++count;
    return count;
  }

  // Publishes as a probe would, by the broker's own client, and returns when the broker has it.
  void Publish(const std::string& topic, const std::string& payload, const std::vector<std::string>& more = {}) const {
    // By a file: a payload may be longer than an argument can be.
    const auto file = folder_ / "payload";
    std::ofstream(file, std::ios::binary) << payload;
    std::vector<std::string> command = Client("mosquitto_pub", topic);
    command.insert(command.end(), {"-q", "1", "-f", file});
    command.insert(command.end(), more.begin(), more.end());
    if (const int status = Process(command, folder_ / "clients").Wait(); status != 0) {
      throw std::runtime_error("mosquitto_pub ended with " + std::to_string(status));
    }
  }
  // Each line of `lines` as one message, over one connection.
  void PublishLines(const std::string& topic, const std::vector<std::string>& lines) const {
    const auto file = folder_ / "lines";
    {
      std::ofstream out(file);
      for (const auto& line : lines) out << line << '\n';
    }
    std::string command;
    for (const auto& word : Client("mosquitto_pub", topic)) command += "'" + word + "' ";
    if (std::system((command + "-q 1 -l < '" + file.string() + "'").c_str()) != 0) {
      throw std::runtime_error("mosquitto_pub failed");
    }
  }
  // The retained message of a topic; empty if there is none within a second.
  std::string Retained(const std::string& topic) const {
    const auto file = folder_ / "retained";
    std::filesystem::remove(file);
    auto command = Client("mosquitto_sub", topic);
    command.insert(command.end(), {"-C", "1", "-W", "1", "--retained-only"});
    Process(command, file).Wait();
    std::ifstream in(file);
    std::string line;
    std::getline(in, line);
    return line.starts_with("Timed out") ? "" : line;
  }

 private:
  std::vector<std::string> Client(const std::string& program, const std::string& topic) const {
    std::vector<std::string> command = {program, "-h", "127.0.0.1", "-p", std::to_string(port_), "-t", topic};
    if (!options_.user.empty()) command.insert(command.end(), {"-u", options_.user, "-P", options_.password});
    return command;
  }

  void WriteFiles() const {
    std::ofstream config(folder_ / "config");
    config << "listener " << port_ << " 127.0.0.1\n"
           << "persistence true\npersistence_location " << folder_.string() << "/\n"
           << "log_dest file " << (folder_ / "log").string() << "\nlog_type all\n"
           << "set_tcp_nodelay true\n";
    // As root it would turn into its own user and could not write here.
    if (geteuid() == 0) config << "user root\n";
    for (const auto& line : options_.more) config << line << '\n';
    if (!options_.access.empty()) {
      config << "acl_file " << (folder_ / "access").string() << '\n';
      std::ofstream access(folder_ / "access");
      for (const auto& line : options_.access) access << line << '\n';
    }
    if (options_.user.empty()) {
      config << "allow_anonymous true\n";
      return;
    }
    const auto users = (folder_ / "users").string();
    config << "allow_anonymous false\npassword_file " << users << '\n';
    Process({"mosquitto_passwd", "-b", "-c", users, options_.user, options_.password}).Wait();
  }

  bool TryStart() {
    process_ = Process({"mosquitto", "-c", (folder_ / "config").string()}, folder_ / "output");
    return Eventually([this] { return process_.HasEnded() || Answers(); }) && !process_.HasEnded();
  }
  // That it closes a connection of ours shows that its loop runs. The kernel takes connections before that, and a
  // signal that comes in between is forgotten.
  bool Answers() const {
    const int client = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(port_);
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const timeval patience{.tv_sec = 1, .tv_usec = 0};
    setsockopt(client, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    char nothing = 0;
    const bool answers = connect(client, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0 &&
                         shutdown(client, SHUT_WR) == 0 && recv(client, &nothing, 1, 0) == 0;
    close(client);
    return answers;
  }

  Options options_;
  std::filesystem::path folder_;
  std::uint16_t port_ = 0;
  Process process_;
};

}  // namespace rindwatch::tests
