// Files and lines that are too large or nested too deep: one sentence with the place, in a time that is bounded.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "tests/cli/run.h"
#include "tests/cli/shell.h"

using namespace hitchwright::test;

namespace {

const std::string header = "kind = \"setup\"\nversion = 1\n";

std::string repeat(const std::string& text, int count) {
    std::string all;
    for (int i = 0; i < count; ++i) all += text;
    return all;
}

/// The program with a bound on the processor's time, which no load of the machine counts to.
int run_bounded(const std::string& line) { return shell("ulimit -t 5; exec \"$HW\" " + line + " >out 2>err </dev/null"); }

}  // namespace

TEST_CASE("huge: a file beyond the limit is refused by its size, whatever is in it", "[cli]") {
    const WorkingFolder folder;
    shell("head -c 50000000 /dev/zero | tr '\\0' '#' >large.toml; { head -c 10000000 /dev/zero | tr '\\0' x; echo; } >line.toml; truncate -s 20G sparse.toml");
    for (const auto& [name, bytes] : std::vector<std::pair<std::string, std::string>>{{"large.toml", "50000000"}, {"line.toml", "10000001"}, {"sparse.toml", "21474836480"}}) {
        for (const std::string command : {"fit ", "record x=1 ", "sheet ", "measure ", "matrix --implements tiller-5 --tractors "}) {
            std::string line = command + name;
            if (command.starts_with("record")) line = "record " + name + " choices.lift_stop=26";
            CAPTURE(line);
            CHECK(run_bounded(line) == 3);
            const std::string said = unwrap(read_file("err") + read_file("out"));
            CHECK(contains(said, "the file has " + bytes + " bytes; it was not read"));
            CHECK(contains(said, name));
        }
    }
}

TEST_CASE("huge: what is within the limit is read in time, though it be one line of half a million values", "[cli]") {
    const WorkingFolder folder;
    write_file("list.toml", header + "a = [" + repeat("1,", 500000) + "]\n");
    write_file("umlauts.toml", header + "a = [\"\xC3\xA4\", " + repeat("1,", 500000) + "]\n");
    write_file("text.toml", header + "a = \"" + std::string(1000000, 'x') + "\"\n");
    std::string keys = header;
    for (int i = 0; i < 20000; ++i) keys += "k" + std::to_string(i) + " = 1\n";
    write_file("keys.toml", keys);
    for (const char* name : {"list.toml", "umlauts.toml", "text.toml", "keys.toml"}) {
        CAPTURE(name);
        CHECK(run_bounded(std::string("fit ") + name) == 3);
        CHECK(contains(read_file("err"), std::string(name) + ":3:1"));
    }
}

TEST_CASE("deep: ten thousand levels of any kind are one sentence with the line, in files and in lines of a batch", "[cli]") {
    const WorkingFolder folder;
    constexpr int levels = 10000;
    std::string headers = header;
    for (int i = 1; i < 1000; ++i) headers += "[a" + repeat(".a", i) + "]\n";
    const std::vector<std::pair<std::string, std::string>> files = {
        {":3:", header + "a = " + repeat("[", levels) + repeat("]", levels) + "\n"},
        {":3:", header + "a = " + repeat("{b = ", levels) + "1" + repeat("}", levels) + "\n"},
        {":3:", header + "a" + repeat(".a", levels) + " = 1\n"},
        {":3:", header + "a" + repeat(" . \"a\"", levels) + " = 1\n"},
        {":3:", header + "[a" + repeat(".a", levels) + "]\nb = 1\n"},
        {":3:", header + "[[a" + repeat(".a", levels) + "]]\nb = 1\n"},
        {":3:", header + "a = " + repeat("[{b = ", levels) + "\n"},
        {":35:", headers},
    };
    for (const auto& [place, text] : files) {
        write_file("deep.toml", text);
        CAPTURE(text.substr(0, 80));
        CHECK(shell("ulimit -s 1024; exec \"$HW\" fit deep.toml >out 2>err") == 3);
        const std::string said = unwrap(read_file("err"));
        CHECK(contains(said, "deep.toml" + place));
        CHECK(contains(said, "the nesting is too deep to be one of our files"));
        CHECK(contains(said, "1 problem"));
    }
    write_file("lines", repeat("[", levels) + repeat("]", levels) + "\n" + repeat("{\"setup\":", levels) + "1\n{\"setup\": \"" + std::string(10000000, 'x') + "\"}\n{\"setup\": \"utility-cutter-fits\"}\n");
    CHECK(shell("exec \"$HW\" batch <lines >out 2>err") == 0);
    const auto lines = split_lines(read_file("out"));
    REQUIRE(lines.size() == 4);
    for (const std::size_t deep : {0U, 1U}) CHECK(contains(lines[deep], "this cannot be read as JSON: the nesting is too deep"));
    CHECK(contains(lines[2], "the line is too long; the rest of it was skipped"));
    CHECK(contains(lines[3], "\"verdict\":\"fits\""));
}
