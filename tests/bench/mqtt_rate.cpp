// A publisher that floods and a subscriber that does nothing, to measure what a broker and its client library cost
// alone:
//   mqtt-rate flood PORT TOPIC COUNT    publishes COUNT messages at QoS 1, prints the seconds until all are
//   acknowledged mqtt-rate bare PORT FILTER COUNT    says READY, takes COUNT messages, prints the seconds from the
//   first to the last
#include <arpa/inet.h>
#include <mqtt/async_client.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <mutex>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace {

using Clock = std::chrono::steady_clock;

double Seconds(Clock::time_point from, Clock::time_point to) {
  return std::chrono::duration<double>(to - from).count();
}

mqtt::connect_options Options() {
  return mqtt::connect_options_builder()
      .mqtt_version(MQTTVERSION_3_1_1)
      .clean_session(false)
      .keep_alive_interval(std::chrono::seconds{60})
      .finalize();
}

// What a probe with two channels sends: other figures each time, so that no message repeats the one before it.
std::string Payload(int number) {
  const int wobble = number % 1000;
  return R"({"temperature":12.)" + std::to_string(1000 + wobble) + R"(,"humidity":8)" + std::to_string(number % 10) +
         "." + std::to_string(wobble) + "}";
}

// A connection that speaks just enough of MQTT 3.1.1 to publish faster than any library: the flood must not be the
// limit.
class Wire {
 public:
  explicit Wire(int port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(port));
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) != 0) throw std::runtime_error("connect");
    // Protocol name and level, clean session, keep-alive of a minute, client id "flood".
    Send(
        std::string("\x10\x11\x00\x04MQTT\x04\x02\x00\x3c\x00\x05"
                    "flood",
                    19));
    if (Receive(4) != 4) throw std::runtime_error("no CONNACK");
  }
  ~Wire() { ::close(socket_); }
  Wire(const Wire&) = delete;
  Wire& operator=(const Wire&) = delete;

  void Send(std::string_view bytes) {
    while (!bytes.empty()) {
      const auto sent = ::send(socket_, bytes.data(), bytes.size(), 0);
      if (sent <= 0) throw std::runtime_error("send");
      bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
  }
  // At most `most` bytes, at least one. Every packet that comes back here is 4 bytes long.
  std::size_t Receive(std::size_t most) {
    std::vector<char> bytes(most);
    const auto got = ::recv(socket_, bytes.data(), bytes.size(), 0);
    if (got <= 0) throw std::runtime_error("recv");
    return static_cast<std::size_t>(got);
  }

 private:
  int socket_;
};

std::string Publish(const std::string& topic, const std::string& payload, int number) {
  const auto two = [](std::size_t value) {
    return std::string{static_cast<char>(value >> 8U), static_cast<char>(value & 0xffU)};
  };
  const auto packet_id = static_cast<std::size_t>(number % 65535 + 1);
  const std::string rest = two(topic.size()) + topic + two(packet_id) + payload;
  std::string length;
  for (std::size_t left = rest.size(); left > 0 || length.empty(); left >>= 7U)
    length += static_cast<char>((left & 0x7fU) | (left > 0x7fU ? 0x80U : 0U));
  return "\x32" + length + rest;
}

void Flood(int port, const std::string& topic, int count) {
  constexpr int kWindow = 1000, kBatch = 100;
  Wire wire(port);
  const auto start = Clock::now();
  std::size_t acknowledged = 0;
  const auto wait_for = [&](int messages) {
    while (static_cast<int>(acknowledged / 4) < messages) acknowledged += wire.Receive(4 * kWindow);
  };
  std::string batch;
  for (int i = 0; i < count; ++i) {
    batch += Publish(topic, Payload(i), i);
    if ((i + 1) % kBatch != 0) continue;
    wait_for(i + 1 - kWindow);
    wire.Send(batch);
    batch.clear();
  }
  wire.Send(batch);
  wait_for(count);
  std::printf("%.4f\n", Seconds(start, Clock::now()));
}

// Counts messages in the library's callback, whose return lets the acknowledgement out.
class Counter {
 public:
  explicit Counter(int wanted) : wanted_(wanted) {}
  void OnMessage() {
    const std::lock_guard lock(mutex_);
    if (seen_++ == 0) first_ = Clock::now();
    if (seen_ == wanted_) {
      last_ = Clock::now();
      all_.notify_one();
    }
  }
  double Wait() {
    std::unique_lock lock(mutex_);
    all_.wait(lock, [this] { return seen_ >= wanted_; });
    return Seconds(first_, last_);
  }

 private:
  const int wanted_;
  std::mutex mutex_;
  std::condition_variable all_;
  int seen_ = 0;
  Clock::time_point first_, last_;
};

void Bare(const std::string& address, const std::string& filter, int count) {
  Counter counter(count);
  mqtt::async_client client(address, "mqtt-rate-bare", mqtt::create_options(MQTTVERSION_3_1_1));
  client.set_message_callback([&counter](const mqtt::const_message_ptr&) { counter.OnMessage(); });
  client.connect(Options())->wait();
  client.subscribe(filter, 1)->wait();
  std::puts("READY");
  std::fflush(stdout);
  const double seconds = counter.Wait();
  client.unsubscribe(filter)->wait();
  client.disconnect()->wait();
  std::printf("%.4f\n", seconds);
}

}  // namespace

int main(int argc, char** argv) try {
  const std::string mode = argc == 5 ? argv[1] : "";
  if (mode != "flood" && mode != "bare") {
    std::fputs("use: mqtt-rate flood|bare PORT TOPIC COUNT\n", stderr);
    return 2;
  }
  const std::string address = std::string("tcp://127.0.0.1:") + argv[2];
  const int count = std::atoi(argv[4]);
  if (mode == "flood") Flood(std::atoi(argv[2]), argv[3], count);
  if (mode == "bare") Bare(address, argv[3], count);
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "mqtt-rate: %s\n", error.what());
  return 1;
}
