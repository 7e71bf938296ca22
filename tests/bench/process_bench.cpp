// `fit` from start to end beside a program that prints one line, linked as ours is and statically: each is started in
// turns, ROUNDS times. Prints a line of JSON for each: medians of the clock on the wall and of the processor's time, ms.
// Copies are started: what a linker has just written lies in memory in smaller pieces than a file that was installed or read from
// the disk, and starts a tenth slower.
//   bench_process [ROUNDS]
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
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

/// A folder of its own, gone when this goes.
class Copies {
public:
    Copies() {
        std::string name = (std::filesystem::temp_directory_path() / "bench_process.XXXXXX").string();
        if (mkdtemp(name.data()) != nullptr) folder_ = name;
    }
    Copies(const Copies&) = delete;
    Copies& operator=(const Copies&) = delete;
    ~Copies() {
        std::error_code ignored;
        if (!folder_.empty()) std::filesystem::remove_all(folder_, ignored);
    }

    /// Path of the copy; empty when there is none.
    std::string find(const std::string& program) {
        std::string& copy = copies_[program];
        if (copy.empty() && !folder_.empty()) {
            const std::filesystem::path to = folder_ / std::filesystem::path(program).filename();
            std::ifstream in(program, std::ios::binary);
            std::ofstream out(to, std::ios::binary);
            out << in.rdbuf();
            out.close();
            std::filesystem::permissions(to, std::filesystem::perms::owner_all);
            if (in && out) copy = to.string();
        }
        return copy;
    }

private:
    std::filesystem::path folder_;
    std::map<std::string, std::string> copies_;
};

}  // namespace

int main(int argc, char** argv) {
    const int rounds = argc > 1 ? std::max(1, std::atoi(argv[1])) : 21;
    std::vector<Program> programs = list_programs();
    Copies copies;
    for (Program& program : programs) program.words.front() = copies.find(program.words.front());
    for (int i = 0; i < rounds; ++i) {
        for (Program& program : programs) {
            if (!program.words.front().empty() && run(program)) continue;
            std::fprintf(stderr, "bench_process: %s could not be copied or run\n", program.name.c_str());
            return 1;
        }
    }
    for (const Program& program : programs)
        std::printf("{\"name\": \"%s\", \"wall_ms\": %.3f, \"processor_ms\": %.3f}\n", program.name.c_str(),
                    find_median(program.wall), find_median(program.processor));
}
