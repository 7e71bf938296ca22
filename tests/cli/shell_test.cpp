// The manual page and the completion scripts, made from the one list of commands and options.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <string>

#include "cli/command_table.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// What bash offers for a line typed so far (its last word is being typed), by the script sourced in a fresh shell.
std::vector<std::string> complete(const std::string& typed) {
    const std::string script =
        "PATH=\"$(dirname \"$HW\"):$PATH\"; source <(\"$HW\" completion bash); read -ra COMP_WORDS <<<\"$HW_TYPED\";"
        "case $HW_TYPED in *' ') COMP_WORDS+=(\"\") ;; esac; COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _hitchwright;"
        "printf '%s\\n' \"${COMPREPLY[@]}\" >offered";
    setenv("HW", HITCHWRIGHT_PROGRAM, 1);
    setenv("HW_TYPED", typed.c_str(), 1);
    setenv("HW_LINE", script.c_str(), 1);
    REQUIRE(std::system("bash -c \"$HW_LINE\"") == 0);
    std::vector<std::string> words = split_lines(read_file("offered"));
    if (words == std::vector<std::string>{""}) words.clear();
    return words;
}

bool offers(const std::vector<std::string>& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

TEST_CASE("completion: commands, groups, options, values and names are offered", "[cli]") {
    const WorkingFolder folder;
    write_file("cutter.toml", "");
    CHECK(complete("hitchwright fi") == std::vector<std::string>{"fit"});
    CHECK(offers(complete("hitchwright presets "), "list"));
    CHECK(offers(complete("hitchwright presets list s"), "setup"));
    CHECK(complete("hitchwright fit utility-cutter-f") == std::vector<std::string>{"utility-cutter-fits"});
    CHECK(complete("hitchwright fit cutt") == std::vector<std::string>{"cutter.toml"});
    CHECK(complete("hitchwright fit x --uni") == std::vector<std::string>{"--units"});
    CHECK(complete("hitchwright fit x --units ") == std::vector<std::string>{"in", "mm"});
    CHECK(offers(complete("hitchwright fit x --rules "), "general"));
    CHECK(complete("hitchwright fit x --nosuch").empty());
    // One option, two meanings.
    for (const char* command : {"measure", "new"})
        CHECK(complete(std::string("hitchwright ") + command + " --kind ") == std::vector<std::string>{"mounted-pto", "mounted-blade", "drawn-pto"});
    CHECK(complete("hitchwright presets show x --kind dr") == std::vector<std::string>{"driveline"});
    CHECK(complete("hitchwright draw x --view p") == std::vector<std::string>{"plan"});
}

TEST_CASE("completion: every option of every command is in the script, in both shells", "[cli]") {
    for (const char* name : {"bash", "zsh"}) {
        const Run script = run({"completion", name});
        REQUIRE(script.code == 0);
        for (const CommandSpec& command : command_specs()) {
            CAPTURE(std::string(command.name));
            CHECK(contains(script.out, std::string(command.name)));
            for (const std::string_view option : command.options) CHECK(contains(script.out, std::string(option)));
        }
    }
    CHECK(run({"completion", "bash"}).out.find("bashcompinit") == std::string::npos);
    CHECK(run({"completion", "zsh"}).out.starts_with("autoload"));
}

TEST_CASE("completion: an unknown shell is refused with those there are", "[cli]") {
    const Run result = run({"completion", "nosuch"});
    CHECK(result.code == 2);
    CHECK(contains(result.err, "bash, zsh"));
    CHECK(run({"completion"}).code == 2);
}

TEST_CASE("manual: every command and option is in it, and no text is taken for a request", "[cli]") {
    const std::string page = run({"manual"}).out;
    const auto escaped = [](std::string_view text) {
        std::string result;
        for (const char c : text) result += c == '-' ? std::string("\\-") : std::string(1, c);
        return result;
    };
    for (const CommandSpec& command : command_specs()) {
        if (!is_group(command)) CHECK(contains(page, ".SS \"hitchwright " + escaped(command.name)));
        for (const OwnMeaning& own : command.meanings) {
            CAPTURE(std::string(own.meaning));
            CHECK(contains(page, escaped(own.meaning)));
        }
    }
    for (const OptionSpec& option : option_specs()) CHECK(contains(page, "\\fB" + escaped(option.name) + "\\fR"));
    for (const std::string& line : split_lines(page)) {
        CAPTURE(line);
        CHECK(line.find_first_of("\t\r") == std::string::npos);
        if (!line.starts_with('.')) continue;
        const std::string request = line.substr(1, line.find(' ') - 1);
        CHECK((request == "TH" || request == "SH" || request == "SS" || request == "PP" || request == "TP" ||
               request == "EX" || request == "EE"));
    }
}
