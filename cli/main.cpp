// The command `runnel`: one file per command beside this one.
#include <fmt/format.h>

#include <cstdio>
#include <string_view>

int main(int count, char** words) {
  if (count == 2 && std::string_view(words[1]) == "--version") {
    fmt::print("runnel {}\n", RUNNEL_VERSION);
    return 0;
  }
  fmt::print(stderr, "runnel {}: no command is built in yet\n", RUNNEL_VERSION);
  return 2;
}
