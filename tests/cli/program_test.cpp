// The program itself, as a shell sees it.

#include <catch2/catch.hpp>

#include <cstdlib>
#include <string>

#include <sys/wait.h>

#include "tests/cli/run.h"
#include "tests/cli/shell.h"

using namespace hitchwright::test;

TEST_CASE("program: exit codes reach the shell, answers go to the output, complaints to the error stream", "[cli]") {
    const WorkingFolder folder;
    CHECK(shell("\"$HW\" fit utility-cutter-fits >out 2>err") == 0);
    CHECK(read_file("err").empty());
    CHECK(read_file("out") == run({"fit", "utility-cutter-fits"}).out);
    CHECK(shell("\"$HW\" fit compact-flail-separates >out 2>err") == 1);
    CHECK(shell("\"$HW\" fit >out 2>err") == 2);
    CHECK(read_file("out").empty());
    CHECK(read_file("err") == run({"fit"}).err);
    CHECK(shell("\"$HW\" fit nosuch >out 2>err") == 3);
    CHECK(shell("\"$HW\" fit utility-cutter-fits --set tractor.pto.stub_x= >out 2>err") == 5);
    CHECK(shell("\"$HW\" --version >out 2>err") == 0);
    CHECK(read_file("out").starts_with("hitchwright "));
}

TEST_CASE("program: a full disk is said and exit code 4", "[cli]") {
    const WorkingFolder folder;
    CHECK(shell("\"$HW\" fit utility-cutter-fits >/dev/full 2>err") == 4);
    CHECK(contains(read_file("err"), "the output could not be written: No space left on device"));
    CHECK(shell("\"$HW\" --help >/dev/full 2>err") == 4);
    CHECK(shell("\"$HW\" fit utility-cutter-fits >&- 2>err") == 4);
    CHECK(contains(read_file("err"), "could not be written"));
}

TEST_CASE("program: a reader that goes away is no error, the exit code is still the answer's", "[cli]") {
    const WorkingFolder folder;
    const std::string tail = " 2>err | true; exit ${PIPESTATUS[0]}";
    CHECK(shell("set +o pipefail; (sleep 0.3; exec \"$HW\" presets list)" + tail) == 0);
    CHECK(shell("(sleep 0.3; exec \"$HW\" fit compact-flail-separates --explain)" + tail) == 1);
    CHECK(read_file("err").empty());
}

TEST_CASE("program: colours a terminal, and obeys NO_COLOR", "[cli]") {
    const WorkingFolder folder;
    CHECK(
        shell("env -u NO_COLOR TERM=xterm script -qec '\"$HW\" fit compact-flail-separates' /dev/null >out </dev/null") ==
        1);
    CHECK(contains(read_file("out"), "\x1b["));
    CHECK(shell("NO_COLOR=1 TERM=xterm script -qec '\"$HW\" fit compact-flail-separates' /dev/null >out </dev/null") ==
          1);
    CHECK_FALSE(contains(read_file("out"), "\x1b["));
    CHECK(contains(read_file("out"), "MUST NOT RUN"));
}

TEST_CASE("program: runs from any folder and without an environment", "[cli]") {
    const WorkingFolder folder;
    CHECK(shell("cd / && exec env -i \"$HW\" fit utility-cutter-fits >/dev/null") == 0);
    CHECK(shell("cd / && exec \"$HW\" sweep utility-cutter-fits --format csv >'" + (folder.path() / "out").string() + "'") == 0);
    CHECK(read_file("out") == run({"sweep", "utility-cutter-fits", "--format", "csv"}).out);
}
