// `fit` from start to end beside a program that prints one line, linked as ours is and statically: each is started in
// turns, ROUNDS times. Prints a line of JSON for each: medians of the clock on the wall and of the processor's time, ms.
//   bench_process [ROUNDS]
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "presets/library.h"

namespace {

/// A program with its words, and what its runs took, ms.
struct Program {
    std::string name;
    std::vector<std::string> words;
    std::vector<double> wall, processor;
};

double in_ms(const timeval& t) { return 1e3 * static_cast<double>(t.tv_sec) + 1e-3 * static_cast<double>(t.tv_usec); }

/// Starts it with its output thrown away, and waits. False: it could not be started, or was killed.
bool run(Program& program) {
    std::vector<char*> words;
    for (std::string& word : program.words) words.push_back(word.data());
    words.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    const auto begin = std::chrono::steady_clock::now();
    pid_t child = 0;
    const bool started = posix_spawn(&child, words.front(), &actions, nullptr, words.data(), environ) == 0;
    int status = 0;
    rusage used{};
    const bool ended = started && wait4(child, &status, 0, &used) == child && WIFEXITED(status);
    const std::chrono::duration<double, std::milli> wall = std::chrono::steady_clock::now() - begin;
    posix_spawn_file_actions_destroy(&actions);
    program.wall.push_back(wall.count());
    program.processor.push_back(in_ms(used.ru_utime) + in_ms(used.ru_stime));
    return ended;
}

double find_median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

std::vector<Program> list_programs() {
    std::vector<Program> programs = {{"trivial_dynamic", {BENCH_TRIVIAL_DYNAMIC}, {}, {}},
                                     {"trivial_static", {BENCH_TRIVIAL_STATIC}, {}, {}},
                                     {"hitchwright --version", {BENCH_HITCHWRIGHT, "--version"}, {}, {}}};
    for (const hitchwright::PresetEntry& entry : hitchwright::Library().list(hitchwright::FileKind::setup))
        programs.push_back({"fit/" + entry.key, {BENCH_HITCHWRIGHT, "fit", entry.key}, {}, {}});
    return programs;
}

}  // namespace

int main(int argc, char** argv) {
    const int rounds = argc > 1 ? std::max(1, std::atoi(argv[1])) : 21;
    std::vector<Program> programs = list_programs();
    for (int i = 0; i < rounds; ++i) {
        for (Program& program : programs) {
            if (run(program)) continue;
            std::fprintf(stderr, "bench_process: %s could not be run\n", program.words.front().c_str());
            return 1;
        }
    }
    for (const Program& program : programs)
        std::printf("{\"name\": \"%s\", \"wall_ms\": %.3f, \"processor_ms\": %.3f}\n", program.name.c_str(),
                    find_median(program.wall), find_median(program.processor));
}
