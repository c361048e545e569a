#include <fmt/format.h>

#include <boost/json.hpp>

#include "daemon/command/asking.hpp"
#include "daemon/command/text.hpp"
#include "daemon/command/verbs.hpp"

namespace rindwatch {

void PrintNow(const Config& config, bool as_json) {
  const auto caves = AskDaemon(config, "/api/caves");
  fmt::print("{}", as_json ? boost::json::serialize(caves) + "\n" : NowText(Words::English(), caves));
}

void PrintRound(const Config& config, bool as_json) {
  const auto round = AskDaemon(config, "/api/round");
  if (as_json) {
    fmt::print("{}\n", boost::json::serialize(round));
    return;
  }
  fmt::print("{}", RoundText(Words::English(), round, AskDaemon(config, "/api/caves")));
}

}  // namespace rindwatch
