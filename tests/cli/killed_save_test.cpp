// A save that is killed, interrupted or met by another one, at every call that changes a file.
#include <catch2/catch.hpp>

#include <csignal>
#include <filesystem>
#include <string>

#include "tests/cli/faults.h"
#include "tests/cli/shell.h"

using namespace hitchwright::test;

namespace {

constexpr int most_calls = 40;

int run_shell(const std::string& before, const std::string& line) {
    // What bash says of a process that was killed is no matter.
    return shell("exec 2>/dev/null; export SOURCE_DATE_EPOCH=1772323200; " + before + " \"$HW\" " + line + " >said 2>&1; exit $?");
}

/// True when every file is as before or as after, and no later one of a save is new while an earlier one is old.
bool is_old_or_new(const Writer& writer, const std::map<std::string, std::string>& before, const std::map<std::string, std::string>& after) {
    const auto now = read_folder();
    const auto find = [](const auto& files, const std::string& name) {
        const auto found = files.find(name);
        return found == files.end() ? std::string("none") : found->second;
    };
    bool may_be_new = true;
    for (const std::string& file : writer.files) {
        if (file.ends_with(".rows")) continue;
        const std::string text = find(now, file);
        const bool is_new = text == find(after, file);
        if (!is_new && text != find(before, file)) return false;
        if (is_new && !may_be_new && find(before, file) != find(after, file)) return false;
        may_be_new = is_new;
    }
    return true;
}

}  // namespace

TEST_CASE("killed: at any call of a save the file is the old one or the new one, and the next save works", "[cli]") {
    const WorkingFolder folder;
    for (const Writer& writer : ways_to_save()) {
        start_folder();
        const auto before = read_folder();
        REQUIRE(run_shell("", writer.line) == writer.code);
        const auto after = read_folder();
        CAPTURE(writer.line);
        int killed = 0;
        for (const char* moment : {"before", "after"}) {
            for (int call = 1; call <= most_calls; ++call) {
                start_folder();
                const int code = run_shell("env " + with_fault("any", call, moment, SIGKILL), writer.line);
                if (code == writer.code) break;
                ++killed;
                CAPTURE(moment, call, read_said());
                REQUIRE(code == 128 + SIGKILL);
                CHECK(is_old_or_new(writer, before, after));
                // A new file may be there already; all else goes on as if nothing had been.
                for (const std::string& file : writer.files) {
                    if (!writer.replaces) std::filesystem::remove(file);
                }
                CHECK(run_shell("", writer.line) == writer.code);
                // A log has one entry more for every recheck.
                if (!writer.files.back().ends_with(".log.toml")) CHECK(read_file(writer.files.back()) == after.at(writer.files.back()));
            }
        }
        CHECK(killed >= 8);
    }
}

TEST_CASE("interrupted: Ctrl-C within a save waits until all of it is done, and leaves nothing behind", "[cli]") {
    const WorkingFolder folder;
    for (const Writer& writer : ways_to_save()) {
        // Ctrl-C is what the matrix has an answer of its own for.
        if (writer.line.starts_with("matrix")) continue;
        start_folder();
        REQUIRE(run_shell("", writer.line) == writer.code);
        const auto after = read_folder();
        CAPTURE(writer.line);
        int interrupted = 0;
        for (const int signal : {SIGINT, SIGTERM}) {
            for (int call = 1; call <= most_calls; ++call) {
                start_folder();
                const int code = run_shell("env " + with_fault("any", call, "before", signal), writer.line);
                if (code == writer.code) break;
                ++interrupted;
                CAPTURE(signal, call);
                REQUIRE(code == 128 + signal);
                CHECK(read_folder() == after);
            }
        }
        CHECK(interrupted >= 8);
    }
}

TEST_CASE("two at once: the second to save waits its turn or is refused, and neither value is lost in silence", "[cli]") {
    const WorkingFolder folder;
    // The first stops at a call, the second saves, the first goes on.
    const auto meet = [](const std::string& call, const std::string& first, const std::string& second, const std::string& more = {}) {
        start_folder();
        return shell("(exec env " + with_fault(call, 1, "before", SIGSTOP) + more + " \"$HW\" " + first +
                     " >first 2>&1) & first=$!; until grep -q '^State:.*T' /proc/$first/status; do kill -0 $first || exit 99; sleep 0.02; done; "
                     "\"$HW\" " + second + " >second 2>&1; second=$?; kill -CONT $first; wait $first; echo $? $second >codes");
    };
    SECTION("it holds the folder: the second is refused") {
        REQUIRE(meet("rename", "record a.toml choices.lift_stop=26", "record a.toml choices.lower_stop=9") == 0);
        CHECK(read_file("codes") == "0 4\n");
        CHECK(contains(unwrap(read_file("second")), "another program is writing beside \"a.toml\"; nothing was written, try again"));
        CHECK(contains(read_file("a.toml"), "lift_stop = 26"));
        CHECK_FALSE(contains(read_file("a.toml"), "lower_stop = 9"));
    }
    SECTION("it has read the file and not begun: the first is refused") {
        REQUIRE(meet("flock", "record a.toml choices.lift_stop=26", "record a.toml choices.lower_stop=9") == 0);
        CHECK(read_file("codes") == "4 0\n");
        CHECK(contains(unwrap(read_file("first")), "\"a.toml\" was changed by somebody else meanwhile; nothing was written"));
        CHECK(contains(read_file("a.toml"), "lower_stop = 9"));
        CHECK_FALSE(contains(read_file("a.toml"), "lift_stop = 26"));
        CHECK_FALSE(contains(read_file("a.log.toml"), "value = \"26\""));
    }
    SECTION("both make a new file: the first to finish has it") {
        REQUIRE(meet("rename", "new --tractor compact --implement tiller-5 --name one -o n.toml", "new --tractor compact --implement tiller-5 --name two -o n.toml") == 0);
        CHECK(read_file("codes") == "4 0\n");
        CHECK(contains(unwrap(read_file("first")), "\"n.toml\" exists and is not overwritten; move it away, or name another file with -o"));
        CHECK(contains(read_file("n.toml"), "name = \"two\""));
        CHECK_FALSE(has_part());
    }
    SECTION("and where a name is taken by a link, or by writing once more") {
        const std::string one = "new --tractor compact --implement tiller-5 --name one -o n.toml", two = "new --tractor compact --implement tiller-5 --name two -o n.toml";
        for (const std::string fails : {"rename", "naming"}) {
            REQUIRE(meet("rename", one, two, " HITCHWRIGHT_SECOND_FAULT='" + fails + " 0 fail 22'") == 0);
            CHECK(read_file("codes") == "4 0\n");
            CHECK(contains(unwrap(read_file("first")), "\"n.toml\" exists and is not overwritten"));
            CHECK(contains(read_file("n.toml"), "name = \"two\""));
            CHECK_FALSE(has_part());
        }
    }
}

TEST_CASE("two at once: a new file is whole where the disk knows no rename without replacing, and no links", "[cli]") {
    const WorkingFolder folder;
    for (const std::string line : {"presets copy compact", "new --tractor compact --implement tiller-5 -o n.toml"}) {
        const std::string file = line.starts_with("new") ? "n.toml" : "compact.toml";
        start_folder();
        REQUIRE(run_shell("", line) == 0);
        const auto after = read_folder();
        start_folder();
        CAPTURE(line);
        CHECK(run_shell("env " + with_fault("rename", 0, "fail", EINVAL), line) == 0);
        CHECK(read_folder() == after);
        start_folder();
        CHECK(run_shell("env " + with_fault("naming", 0, "fail", EINVAL), line) == 0);
        CHECK(read_folder() == after);
        CHECK(run_shell("env " + with_fault("naming", 0, "fail", EINVAL), line) == 4);
        CHECK(read_folder() == after);
        // No room for the second writing of it: no half a file is left.
        start_folder();
        const auto before = read_folder();
        CHECK(shell(preload_hook() + " ASAN_OPTIONS=verify_asan_link_order=0 HITCHWRIGHT_FAULT='naming 0 fail 22' HITCHWRIGHT_SECOND_FAULT='write 2 fail 28' \"$HW\" " + line + " >said 2>&1") == 4);
        CHECK(contains(read_said(), "no room left"));
        CHECK(read_folder() == before);
    }
}
