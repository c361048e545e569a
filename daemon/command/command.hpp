// The command line: plain verbs, each with --help; data also as --json; errors on stderr with one sentence.
#pragma once

namespace rindwatch {

// Exit status: 0 well, 1 something failed, 2 the call itself was off.
int RunCommand(int argc, const char* const* argv);

}  // namespace rindwatch
