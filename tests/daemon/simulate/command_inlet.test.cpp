#include "daemon/simulate/command_inlet.hpp"

#include <unistd.h>

#include <string>

#include "tests/catch.hpp"

using rindwatch::Alert;
using rindwatch::CommandLines;

namespace {

// Both ends of a pipe; closed with the object.
struct Pipe {
  int ends[2] = {-1, -1};
  Pipe() { REQUIRE(pipe(ends) == 0); }
  ~Pipe() {
    close(ends[0]);
    if (ends[1] >= 0) close(ends[1]);
  }
  void Write(const std::string& text) const {
    REQUIRE(write(ends[1], text.data(), text.size()) == static_cast<ssize_t>(text.size()));
  }
  void End() {
    close(ends[1]);
    ends[1] = -1;
  }
};

}  // namespace

TEST_CASE("lines are taken one by one, however they arrive") {
  Pipe pipe;
  CommandLines lines{pipe.ends[0]};
  pipe.Write("door ajar\npower");
  lines.Read();
  CHECK(lines.Take() == "door ajar");
  CHECK_FALSE(lines.Take());
  pipe.Write(" cut 1h\n");
  lines.Read();
  CHECK(lines.Take() == "power cut 1h");
}

TEST_CASE("the last line counts without its end, and then nobody waits any more") {
  Pipe pipe;
  CommandLines lines{pipe.ends[0]};
  pipe.Write("door shut");
  pipe.End();
  lines.Read();
  CHECK(lines.Descriptor() == pipe.ends[0]);
  lines.Read();
  CHECK(lines.Take() == "door shut");
  CHECK(lines.Descriptor() < 0);
}

TEST_CASE("rubbish without an end of line does not grow") {
  Pipe pipe;
  CommandLines lines{pipe.ends[0]};
  for (int i = 0; i < 50; ++i) {
    pipe.Write(std::string(4000, 'x'));
    lines.Read();
  }
  pipe.Write("\ndoor ajar\n");
  lines.Read();
  CHECK(lines.Take().value().size() < 5000);
  CHECK(lines.Take() == "door ajar");
}

TEST_CASE("without a descriptor there is nothing to wait for") {
  CommandLines lines{-1};
  CHECK(lines.Descriptor() < 0);
  CHECK_FALSE(lines.Take());
}

TEST_CASE("an alert that is raised again and again is cleared at once") {
  Alert alert;
  for (int i = 0; i < 3; ++i) alert.Raise();
  alert.Clear();
  alert.Clear();
  CHECK(alert.Descriptor() >= 0);
}
