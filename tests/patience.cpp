// A test case that hangs fails with the place where it stands, instead of holding up everything after it without a
// word.
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <string>

#define CATCH_CONFIG_EXTERNAL_INTERFACES
#include "tests/catch.hpp"

#if __has_include(<catch2/catch_all.hpp>)
using CaseListener = Catch::EventListenerBase;
#else
using CaseListener = Catch::TestEventListenerBase;
#endif

namespace {

// Far more than any case needs on a busy machine; RINDWATCH_PATIENCE gives other seconds, for runs of many rounds.
unsigned Patience() {
  const char* asked = std::getenv("RINDWATCH_PATIENCE");
  const int seconds = asked ? std::atoi(asked) : 0;
  return seconds > 0 ? static_cast<unsigned>(seconds) : 600;
}

// Where each thread stands, by the debugger if there is one.
void TellStacks() {
  std::string pid = std::to_string(getpid());
  std::string words[] = {"gdb", "-batch", "-nx", "-p", pid, "-ex", "thread apply all backtrace 30"};
  char* arguments[std::size(words) + 1] = {};
  for (std::size_t i = 0; i < std::size(words); ++i) arguments[i] = words[i].data();
  pid_t child = 0;
  if (posix_spawnp(&child, "gdb", nullptr, nullptr, arguments, environ) == 0) waitpid(child, nullptr, 0);
}

void GiveUp(int) {
  std::fprintf(stderr, "The case lasts longer than %u s and is given up. It stands here:\n", Patience());
  TellStacks();
  std::fflush(nullptr);
  raise(SIGABRT);  // ends the case as failed in the report
}

class WithPatience : public CaseListener {
 public:
  using CaseListener::CaseListener;
  void testCaseStarting(const Catch::TestCaseInfo&) override {
    signal(SIGALRM, GiveUp);
    alarm(Patience());
  }
  void testCaseEnded(const Catch::TestCaseStats&) override { alarm(0); }
};

}  // namespace

CATCH_REGISTER_LISTENER(WithPatience)
