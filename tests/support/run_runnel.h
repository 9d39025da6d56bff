#pragma once
// Runs the real program and reads what it prints.
#include <sys/wait.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>

namespace support {

struct Ran {
  int exit = -1;
  std::string out;
};

/// `arguments` as a shell takes them, in a folder; what goes to standard error is dropped.
inline Ran run_runnel(const std::string& arguments, const std::string& folder = ".") {
  const std::string command =
      "cd '" + folder + "' && " + std::string(RUNNEL_BINARY) + " " + arguments + " 2>/dev/null";
  std::FILE* pipe = ::popen(command.c_str(), "r");
  if (!pipe) throw std::runtime_error("the program cannot be run");
  Ran ran;
  char buffer[4096];
  while (const std::size_t read = std::fread(buffer, 1, sizeof buffer, pipe)) ran.out.append(buffer, read);
  const int status = ::pclose(pipe);
  ran.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status);
  return ran;
}

/// A model in a folder of its own, gone with this.
class WrittenModel {
 public:
  explicit WrittenModel(const std::string& text) {
    std::string name = (std::filesystem::temp_directory_path() / "runnel-model-XXXXXX").string();
    if (!::mkdtemp(name.data())) throw std::runtime_error("no folder for the model");
    folder_ = name;
    std::ofstream(path()) << text;
  }
  WrittenModel(const WrittenModel&) = delete;
  WrittenModel& operator=(const WrittenModel&) = delete;
  ~WrittenModel() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  std::string path() const { return (folder_ / "model.yaml").string(); }

 private:
  std::filesystem::path folder_;
};

}  // namespace support
