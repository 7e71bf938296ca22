// The runs shown in README.md and docs/commands.md are what the program gives, the files shown in docs/library.md what they are.
//
// Between `<!-- run:COMMAND -->` and `<!-- /run -->` stands the command, its output and its exit code. The test runs it
// and compares. `| head -n N` behind a command shows the first N lines. Between `<!-- file:PATH -->` and `<!-- /file -->` stands
// a file of the project. HITCHWRIGHT_UPDATE_DOCS=1 in the environment writes the blocks anew instead; then look at the difference.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <string>
#include <vector>

#include "cli/command_table.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const std::filesystem::path root = HITCHWRIGHT_SOURCE_DIR;

// Files that the shown commands may name.
void write_companions() {
    REQUIRE(run({"presets", "copy", "compact-tiller-bottoms-out"}).code == 0);
    std::filesystem::rename("compact-tiller-bottoms-out.toml", "my-setup.toml");
    write_file("my-setup.log.toml",
               "kind = \"log\"\nversion = 1\n\n[[entry]]\ndate = \"2026-03-01\"\nby = \"A. Turner\"\nkey = "
               "\"tractor.travel.ball_height_high\"\nvalue = \"33 1/8 in\"\nbefore = \"33\"\nbefore_in = "
               "\"built-in:tractors/compact.toml\"\n\n[[entry]]\ndate = \"2026-03-01\"\nby = \"A. Turner\"\nkey = "
               "\"choices.lift_stop\"\nunit = \"in\"\nvalue = \"27\"\nnote = \"stop moved down for the shaft\"\n\n"
               "[[entry]]\ndate = \"2026-03-02\"\nkind = \"recheck\"\nafter = \"1 h\"\nkey = "
               "\"choices.lift_stop\"\nunit = \"in\"\nvalue = \"26 3/4\"\nbefore = \"27\"\n");
    write_file("my-rules.toml",
               "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"Manual of my shaft\"\ngrade = \"B\"\nsource = "
               "\"manual, page 12\"\ngap_required = \"1 in\"\n");
    write_file("broken.toml",
               "kind = \"setup\"\nversion = 1\nunit = \"in\"\n\n[tractor]\nuse = \"compct\"\n\n[implement]\nuse = "
               "\"tiller-5\"\n\n[choices]\nlift_stp = 27\nmast_pin = \"1\"\nworking_band_low = \"12 miles\"\n");
    std::filesystem::create_directory("my-setups");
    write_file("setups.jsonl",
               "{\"id\": 7, \"setup\": \"compact-tiller-bottoms-out\", \"set\": {\"choices.lift_stop\": \"26 in\"}}\n"
               "{\"id\": \"north\", \"setup\": \"compact-tiler\", \"rules\": 3}\n"
               "{\"id\": 9, \"unit\": \"in\", \"name\": \"Typed in the line\", \"tractor\": {\"use\": \"compact\"}, "
               "\"implement\": {\"use\": \"box-blade-5\"}, \"choices\": {\"upper_link_pin\": \"2\", \"upper_link_length_now\": \"23-1/2\"}}\n");
}

// The command as typed, broken before an option where it would be wider than the page.
std::string format_prompt(const std::string& command) {
    std::string text = "$ ", line;
    for (std::size_t start = 0; start < command.size();) {
        std::size_t end = command.find(" --", start + 1);
        end = std::min(end, command.size());
        const std::string part = command.substr(start, end - start);
        if (!line.empty() && line.size() + part.size() > 76) {
            text += line + " \\\n     ";
            line.clear();
        }
        line += part;
        start = end;
    }
    return text + line + "\n";
}

std::string first_lines(const std::string& text, int count) {
    std::string result;
    for (const std::string& line : split_lines(text)) {
        if (count-- > 0) result += line + "\n";
    }
    return result;
}

std::string format_run(const std::string& command) {
    const std::string head = " | head -n ";
    const std::size_t pipe = command.find(head);
    const Run result = run_line(command.substr(0, pipe), {false, {{"SOURCE_DATE_EPOCH", "1772323200"}}});  // printed 2026-03-01
    std::string shown = result.out + result.err;
    if (pipe != std::string::npos) shown = first_lines(shown, std::stoi(command.substr(pipe + head.size())));
    const std::string of = pipe == std::string::npos ? "" : " (of hitchwright)";
    return "```\n" + format_prompt(command) + shown + "```\n\nExit code " + std::to_string(result.code) + of + ".\n";
}

/// A file of the project as a block of code in its language.
std::string format_file(const std::string& path) {
    const std::filesystem::path name(path);
    const bool cmake = name.filename() == "CMakeLists.txt";
    const std::string language = cmake ? "cmake" : name.extension() == ".txt" ? "" : name.extension().string().substr(1);
    return "```" + language + "\n" + read_file(root / path) + "```\n";
}

struct Block {
    std::string kind, what;  ///< "run" and the command, "file" and the path
    std::size_t begin = 0, end = 0;  ///< of what stands between the marks
};

std::vector<Block> find_blocks(const std::string& text, const std::string& kind) {
    const std::string open = "<!-- " + kind + ":", close = "<!-- /" + kind + " -->";
    std::vector<Block> blocks;
    for (std::size_t at = text.find(open); at != std::string::npos; at = text.find(open, at + 1)) {
        const std::size_t tail = text.find(" -->\n", at), end = text.find(close, at);
        REQUIRE(tail != std::string::npos);
        REQUIRE(end != std::string::npos);
        REQUIRE(tail < end);
        blocks.push_back({kind, text.substr(at + open.size(), tail - at - open.size()), tail + 5, end});
    }
    return blocks;
}

void check_file(const std::filesystem::path& file, const std::string& kind, std::size_t least_blocks) {
    const bool update = std::getenv("HITCHWRIGHT_UPDATE_DOCS") != nullptr;
    std::string text = read_file(root / file);
    const std::vector<Block> blocks = find_blocks(text, kind);
    CHECK(blocks.size() >= least_blocks);
    const WorkingFolder folder;
    write_companions();
    std::vector<std::string> wanted;
    for (const Block& block : blocks) wanted.push_back(block.kind == "run" ? format_run(block.what) : format_file(block.what));
    for (std::size_t i = blocks.size(); i-- > 0;) {
        const Block& block = blocks[i];
        if (update) {
            text.replace(block.begin, block.end - block.begin, wanted[i]);
            continue;
        }
        INFO(file.string() << ": " << block.what
                           << "\nNot current. HITCHWRIGHT_UPDATE_DOCS=1 with this test writes it anew.");
        CHECK(text.substr(block.begin, block.end - block.begin) == wanted[i]);
    }
    if (update) {
        write_file(root / file, text);
        WARN(file.string() << " was written anew");
    }
}

}  // namespace

TEST_CASE("README: the runs shown are current", "[golden][cli]") { check_file("README.md", "run", 2); }

TEST_CASE("docs/commands.md: the runs shown are current", "[golden][cli]") { check_file("docs/commands.md", "run", 18); }

TEST_CASE("docs/library.md: the examples shown are the files that are built and run", "[cli]") {
    check_file("docs/library.md", "file", 8);
}

TEST_CASE("docs/commands.md: each command, option and exit code is there", "[cli]") {
    const std::string text = read_file(root / "docs/commands.md");
    for (const CommandSpec& command : command_specs()) {
        if (is_group(command)) continue;
        CAPTURE(std::string(command.name));
        CHECK(contains(text, "## " + std::string(command.name) + "\n"));
        CHECK((command.name == "help" ||
               contains(text, "<!-- run:hitchwright " + std::string(command.name) + " --help -->")));
    }
    for (const OptionSpec& option : option_specs()) CHECK(contains(text, std::string(option.name)));
    for (const char* code : {"| 0 |", "| 1 |", "| 2 |", "| 3 |", "| 4 |", "| 5 |"}) CHECK(contains(text, code));
}

TEST_CASE("help: the examples run", "[cli]") {
    std::size_t ran = 0;
    for (const CommandSpec& command : command_specs()) {
        const WorkingFolder folder;
        write_companions();
        std::string line;
        for (const std::string& row : split_lines(std::string(command.examples))) {
            const bool goes_on = row.ends_with("\\");
            line += row.substr(0, row.size() - (goes_on ? 1 : 0));
            if (goes_on) continue;
            CAPTURE(line);
            const Run result = run_line(line);
            CAPTURE(result.err);
            CHECK((result.code == 0 || result.code == 1 || result.code == 5));
            // One line of the batch is wrong on purpose.
            if (command.name == "batch") CHECK(contains(result.err, "1 of 3 lines without a verdict"));
            else CHECK(result.err.empty());
            line.clear();
            ++ran;
        }
    }
    CHECK(ran >= 15);
}
