#include "daemon/command/command.hpp"

int main(int argc, char** argv) { return rindwatch::RunCommand(argc, argv); }
