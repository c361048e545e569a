// POST /api/acts: the one way in for every act.
#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/book/beside.hpp"
#include "web/http.hpp"

namespace rindwatch {

// Takes acts one after another: each is judged when the one before it is in the book, so that of two wheels that enter
// at once each gets a number of its own. Lives as long as the router; the loop's thread.
class ActDesk : public std::enable_shared_from_this<ActDesk> {
 public:
  // `context` must outlive it.
  explicit ActDesk(const ApiContext& context) : context_(context) {}

  // Answers when the act is on disk, or with what is wrong with it.
  void Take(const web::Request& request, const web::Answer& answer);

 private:
  struct Act {
    std::string id, body;
    std::optional<rules::Instant> sent_at;
    web::Answer answer;
  };
  void Next();
  void Finish(const Act& act, web::Response response);
  void Judge(const Act& act);
  void JudgeWith(const Act& act, const Beside& beside);

  const ApiContext& context_;
  std::deque<Act> waiting_;
  bool busy_ = false;
};

}  // namespace rindwatch
