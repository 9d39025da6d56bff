// Runs the real program on the cases of tests/cli/*.yaml and looks at what comes out.
//
// A case: name; args (a list) or shell (a line for /bin/sh, with $RUNNEL and a fresh folder $SCRATCH);
// stdin; env (a map); exit; stdout, stderr, not_stdout, not_stderr (lists of texts); file (a map of name
// in $SCRATCH to a text it holds); absent (names that must not be in $SCRATCH).
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "runnel/document/tree.h"

namespace {

namespace fs = std::filesystem;
using runnel::document::Node;

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> list(const Node& c, const char* key) {
  std::vector<std::string> out;
  if (const Node* node = c.find(key)) {
    if (node->kind == Node::Kind::scalar) out.push_back(node->text);
    for (const auto& item : node->items) out.push_back(item->text);
  }
  return out;
}

struct Ran {
  int exit = -1;
  std::string out, err;
};

void become(const Node& c, const fs::path& scratch, const fs::path& in) {
  const auto open_on = [](const fs::path& path, int flags, int on) {
    const int descriptor = ::open(path.c_str(), flags, 0600);
    ::dup2(descriptor, on);
  };
  open_on(in, O_RDONLY, 0);
  open_on(scratch.parent_path() / (scratch.filename().string() + ".out"), O_WRONLY | O_CREAT | O_TRUNC, 1);
  open_on(scratch.parent_path() / (scratch.filename().string() + ".err"), O_WRONLY | O_CREAT | O_TRUNC, 2);
  ::setenv("RUNNEL", RUNNEL_BINARY, 1);
  ::setenv("SCRATCH", scratch.c_str(), 1);
  ::unsetenv("NO_COLOR");
  if (const Node* env = c.find("env"))
    for (const auto& entry : env->entries) ::setenv(entry.key.c_str(), entry.value->text.c_str(), 1);
  if (::chdir(RUNNEL_SOURCE_DIR) != 0) ::_exit(126);
  std::vector<std::string> words{RUNNEL_BINARY};
  for (const std::string& word : list(c, "args")) words.push_back(word);
  if (const Node* shell = c.find("shell")) words = {"/bin/sh", "-c", shell->text};
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);
  ::execv(argv[0], argv.data());
  ::_exit(127);
}

Ran run(const Node& c, const fs::path& scratch) {
  const fs::path base = scratch.parent_path() / scratch.filename();
  const fs::path in = base.string() + ".in";
  std::ofstream(in, std::ios::binary) << (c.find("stdin") ? c.find("stdin")->text : "");
  const pid_t child = ::fork();
  if (child == 0) become(c, scratch, in);
  int status = 0;
  ::waitpid(child, &status, 0);
  Ran ran;
  ran.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status);
  ran.out = slurp(base.string() + ".out");
  ran.err = slurp(base.string() + ".err");
  for (const char* end : {".in", ".out", ".err"}) fs::remove(base.string() + end);
  return ran;
}

bool holds(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

void check(const Node& c) {
  std::string folder = (fs::temp_directory_path() / "runnel-cli-XXXXXX").string();
  REQUIRE(::mkdtemp(folder.data()) != nullptr);
  const fs::path scratch = folder;
  const Ran ran = run(c, scratch);
  INFO("stdout:\n" << ran.out << "\nstderr:\n" << ran.err);
  REQUIRE(c.find("exit") != nullptr);
  CHECK(std::to_string(ran.exit) == c.find("exit")->text);
  for (const std::string& piece : list(c, "stdout")) CHECK_THAT(ran.out, Catch::Contains(piece));
  for (const std::string& piece : list(c, "stderr")) CHECK_THAT(ran.err, Catch::Contains(piece));
  for (const std::string& piece : list(c, "not_stdout")) CHECK_FALSE(holds(ran.out, piece));
  for (const std::string& piece : list(c, "not_stderr")) CHECK_FALSE(holds(ran.err, piece));
  if (const Node* files = c.find("file"))
    for (const auto& entry : files->entries)
      CHECK_THAT(slurp(scratch / entry.key), Catch::Contains(entry.value->text));
  for (const std::string& name : list(c, "absent")) CHECK_FALSE(fs::exists(scratch / name));
  std::error_code ignored;
  fs::permissions(scratch, fs::perms::owner_all, ignored);
  fs::remove_all(scratch, ignored);
}

}  // namespace

TEST_CASE("the program answers as the cases say") {
  int cases = 0;
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(RUNNEL_SOURCE_DIR "/tests/cli"))
    if (entry.path().extension() == ".yaml") files.push_back(entry.path());
  REQUIRE(files.size() >= 4);
  for (const fs::path& file : files) {
    const auto tree = runnel::document::read(slurp(file), file.filename().string());
    REQUIRE(tree);
    const Node* all = (*tree.value)->find("cases");
    REQUIRE(all != nullptr);
    for (const auto& c : all->items) {
      INFO(file.filename().string() << ":" << c->mark.line << " " << c->find("name")->text);
      check(*c);
      ++cases;
    }
  }
  CHECK(cases >= 40);
}
