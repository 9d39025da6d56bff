// The command `runnel`: one file per command beside this one.
#include <fmt/format.h>

#include <cstdio>

int main() {
  fmt::print(stderr, "runnel {}: no command is built in yet\n", RUNNEL_VERSION);
  return 2;
}
