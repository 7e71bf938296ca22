// The program: hands arguments, streams and surroundings to run_cli. Nothing else touches them.
#include <cstdlib>
#include <iostream>
#include <string>
#include <vector>

#include <unistd.h>

#include "cli/prepare_process.h"
#include "cli/run_cli.h"
#include "cli/terminal_input.h"

int main(int argc, char** argv) {
    hitchwright::prepare_process();
    std::ios::sync_with_stdio(false);
    const std::vector<std::string> args(argv + (argc > 0 ? 1 : 0), argv + argc);
    const bool terminal = isatty(STDOUT_FILENO) == 1;
    const auto variable = [](const char* name) -> const char* { return std::getenv(name); };
    hitchwright::TerminalInput input;
    std::istream in(&input);
    in.tie(&std::cout);
    return hitchwright::run_cli(args, {in, std::cout, std::cerr, terminal, variable, isatty(STDIN_FILENO) == 1, isatty(STDERR_FILENO) == 1});
}
