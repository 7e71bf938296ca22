// Faults of the disk: whatever a command writes, a file that was there stays whole and one sentence says what happened.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <filesystem>
#include <string>
#include <vector>

#include "cli/command_table.h"
#include "tests/cli/faults.h"
#include "tests/cli/shell.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// More than any save of these makes: four files of open, write, fsync, rename, and fsync of the folder.
constexpr int most_calls = 20;

/// Runs a command with both streams into `said`; a pipe has no limit of size.
int run_shell(const std::string& before, const std::string& line) {
    // The time between readings is a person's; here it stands still.
    return shell("export SOURCE_DATE_EPOCH=1772323200; (" + before + " \"$HW\" " + line + ") 2>&1 | cat >said; exit ${PIPESTATUS[0]}");
}

/// The files as they were, but for rows that the matrix keeps as they are made.
bool is_as_before(const std::map<std::string, std::string>& before, const std::map<std::string, std::string>& now) {
    const auto strip = [](std::map<std::string, std::string> files) {
        files.erase("m.csv.rows");
        return files;
    };
    return strip(before) == strip(now);
}

bool is_one_sentence(const std::string& said) { return said.starts_with("hitchwright: cannot write '") && said.ends_with('.') && !contains(said, ". "); }

}  // namespace

TEST_CASE("faults: every command that writes a file is among those that are tested", "[cli]") {
    for (const CommandSpec& command : command_specs()) {
        const auto writes = [](std::string_view option) { return option == "--output" || option == "--to"; };
        if (std::none_of(command.options.begin(), command.options.end(), writes)) continue;
        CAPTURE(std::string(command.name));
        CHECK(std::any_of(writers().begin(), writers().end(), [&](const Writer& w) { return w.line.starts_with(command.name); }));
    }
}

TEST_CASE("faults: a full disk is said, the old file stays, whether the system's signal is ignored or not", "[cli]") {
    const WorkingFolder folder;
    for (const std::string signal : {"", "trap '' XFSZ; "}) {
        for (const Writer& writer : signal.empty() ? writers() : ways_to_save()) {
            start_folder();
            const auto before = read_folder();
            CAPTURE(signal, writer.line);
            CHECK(run_shell(signal + "ulimit -f 0; exec", writer.line) == 4);
            const std::string said = read_said();
            CAPTURE(said);
            CHECK(contains(said, "there is no room left on the disk"));
            CHECK(said.starts_with("hitchwright: cannot write '"));
            CHECK(is_as_before(before, read_folder()));
        }
    }
}

TEST_CASE("faults: a target below a file or in a folder that is not there is refused before anything is written", "[cli]") {
    const WorkingFolder folder;
    for (const std::string where : {"a.toml/", "nowhere/"}) {
        for (const Writer& writer : writers()) {
            start_folder();
            std::string line = writer.line;
            if (const std::size_t at = line.find("-o "); at != std::string::npos) line.insert(at + 3, where);
            else if (line.starts_with("record")) continue;
            else if (const std::size_t to = line.find("--to there"); to != std::string::npos) line.replace(to, 10, "--to " + where);
            else line += " --to " + where;
            const auto before = read_folder();
            CAPTURE(line);
            CHECK(run_shell("exec", line) == 4);
            const std::string said = read_said();
            CAPTURE(said);
            CHECK(is_one_sentence(said));
            CHECK(contains(said, where == "nowhere/" ? "does not exist" : "is a file, not a directory"));
            CHECK(before == read_folder());
        }
    }
}

TEST_CASE("faults: whichever call of a save fails, the old files or the new ones are there whole", "[cli]") {
    const WorkingFolder folder;
    for (const Writer& writer : ways_to_save()) {
        start_folder();
        const auto before = read_folder();
        CAPTURE(writer.line);
        REQUIRE(run_shell("exec", writer.line) == writer.code);
        const auto after = read_folder();
        REQUIRE(before != after);
        int failed = 0;
        const bool is_picture = writer.line.starts_with("draw");
        for (const int error : is_picture ? std::vector{EIO, EROFS, ENOSPC, EDQUOT} : std::vector{EIO}) {
            for (int call = 1; call <= most_calls; ++call) {
                start_folder();
                const int code = run_shell("exec env " + with_fault("any", call, "fail", error), writer.line);
                const auto now = read_folder();
                const std::string said = read_said();
                CAPTURE(error, call, said);
                REQUIRE((code == 4 || code == writer.code));
                CHECK_FALSE(has_part());
                if (code == 4) {
                    ++failed;
                    CHECK(said.starts_with("hitchwright: cannot write '"));
                    CHECK(is_as_before(before, now));
                } else {
                    CHECK(now == after);
                }
            }
        }
        CHECK(failed >= (is_picture ? 16 : 4));  // making, writing, flushing and naming the file
    }
}

TEST_CASE("faults: an output that cannot be written is said, and what was saved stays", "[cli]") {
    const WorkingFolder folder;
    for (const Writer& writer : writers()) {
        start_folder();
        REQUIRE(run_shell("exec", writer.line) == writer.code);
        const auto after = read_folder();
        start_folder();
        CAPTURE(writer.line);
        CHECK(shell("export SOURCE_DATE_EPOCH=1772323200; \"$HW\" " + writer.line + " 2>said >/dev/full") == 4);
        CHECK(contains(read_said(), "the output could not be written: No space left on device."));
        CHECK(read_folder() == after);
    }
}
