// How a command learns how things stand: it asks the running daemon over its socket or, if none holds the database,
// works it out in its own process.
#pragma once

#include <boost/json.hpp>
#include <map>
#include <string>

#include "daemon/config/config.hpp"

namespace rindwatch {

using Query = std::map<std::string, std::string>;

// A GET of the API. Throws std::runtime_error with one sentence.
boost::json::object AskDaemon(const Config& config, const std::string& path, const Query& query = {});
// The same for an answer that is plain text.
std::string AskDaemonText(const Config& config, const std::string& path, const Query& query = {});
// A POST that asks and keeps nothing: the preview of a plan. Throws as above.
boost::json::object AskDaemonAbout(const Config& config, const std::string& path, const boost::json::object& asked);
// POST /api/acts, with an id and this machine's time put in. Returns when the act is on disk; throws std::runtime_error
// with one sentence: then nothing was taken.
boost::json::object SendAct(const Config& config, boost::json::object act);

}  // namespace rindwatch
