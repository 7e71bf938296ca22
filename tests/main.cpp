// Entry point of every test executable.
// The random seed is fixed and printed with each run; --rng-seed N takes another.
// A test case without an assertion fails, and so does a run in which no test matches.

#define CATCH_CONFIG_RUNNER
#include <catch2/catch.hpp>

#include <iostream>

namespace {

constexpr unsigned int default_seed = 20260405;

bool only_lists(const Catch::ConfigData& config) {
    return config.listTests || config.listTestNamesOnly || config.listTags || config.listReporters || config.showHelp ||
           config.libIdentify;
}

}  // namespace

int main(int argc, char* argv[]) {
    Catch::Session session;
    const int usage_error = session.applyCommandLine(argc, argv);
    if (usage_error != 0) {
        return usage_error;
    }
    Catch::ConfigData& config = session.configData();
    if (config.rngSeed == 0) {
        config.rngSeed = default_seed;
    }
    config.warnings = static_cast<Catch::WarnAbout::What>(config.warnings | Catch::WarnAbout::NoAssertions |
                                                          Catch::WarnAbout::NoTests);
    if (!only_lists(config)) {
        std::cout << "random seed: " << config.rngSeed << std::endl;
    }
    return session.run();
}
