#pragma once
// One function for each command: it adds itself to the program and, when run, leaves its exit code in `exit`.
#include <CLI/CLI.hpp>

namespace cli {

void add_flow(CLI::App& app, int& exit);
void add_fill(CLI::App& app, int& exit);
void add_review(CLI::App& app, int& exit);
void add_quick(CLI::App& app, int& exit);
void add_pipes(CLI::App& app, int& exit);
void add_begin(CLI::App& app, int& exit);
void add_explain(CLI::App& app, int& exit);
void add_compare(CLI::App& app, int& exit);
void add_size(CLI::App& app, int& exit);
void add_schema(CLI::App& app, int& exit);

}  // namespace cli
