#include "tests/cli/faults.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <system_error>

#include <unistd.h>

namespace hitchwright::test {

namespace fs = std::filesystem;

const std::vector<Writer>& writers() {
    static const std::vector<Writer> all = {
        {"record a.toml choices.lift_stop=26", {"a.log.toml", "a.toml"}, true},
        {"record a.toml choices.lift_stop=26 --without-log", {"a.toml"}, true},
        {"record a.toml choices.lift_stop=26 --recheck", {"a.log.toml"}, true, 1},
        {"draw a.toml -o p.svg", {"p.svg"}, true},
        {"draw a.toml -o p.pdf", {"p.pdf"}, true},
        {"draw a.toml -o p.png", {"p.png"}, true},
        {"measure a.toml -o card.pdf", {"card.pdf"}, true},
        {"sheet a.toml -o sheet.pdf", {"sheet.pdf"}, true},
        {"sheet a.toml -o sheet.html", {"sheet.html"}, true},
        {"sheet a.toml --worksheet -o sheet.pdf", {"sheet.pdf"}, true},
        {"matrix --tractors compact --implements box-blade-5 --jobs 1 -o m.csv --format csv", {"m.csv.rows", "m.csv"}, true},
        {"new --tractor compact --implement tiller-5 -o n.toml", {"n.toml"}},
        {"presets copy compact", {"compact.toml"}},
        {"code --read - --to there <whole_code.txt", {"there/setup.toml", "there/compact.toml", "there/tiller-5.toml", "there/shaft-31.toml"}},
        {"code --read - --to there <code.txt", {"there/setup.toml"}},
    };
    return all;
}

std::vector<Writer> ways_to_save() {
    std::vector<Writer> ways;
    std::copy_if(writers().begin(), writers().end(), std::back_inserter(ways), [](const Writer& w) { return !contains(w.line, ".pdf") && !contains(w.line, ".png"); });
    return ways;
}

namespace {

void write_code_of(const std::string& setup, const std::string& file) {
    const Run code = run({"code", setup, "--format", "json"});
    CAPTURE(code.err, code.out);
    REQUIRE(code.code == 0);
    const std::string key = "\"code\": \"";
    const std::size_t begin = code.out.find(key) + key.size();
    write_file(file, code.out.substr(begin, code.out.find('"', begin) - begin));
}

std::map<std::string, std::string> make_start() {
    REQUIRE(run({"presets", "copy", "compact-tiller-bottoms-out"}).code == 0);
    fs::rename("compact-tiller-bottoms-out.toml", "a.toml");
    write_code_of("a.toml", "code.txt");
    // One with machines in files of their own.
    for (const char* machine : {"compact", "tiller-5", "shaft-31"}) REQUIRE(run({"presets", "copy", machine}).code == 0);
    write_file("b.toml", "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"./compact.toml\"\n[implement]\nuse = \"./tiller-5.toml\"\n"
                         "[driveline]\nuse = \"./shaft-31.toml\"\n[choices]\nmast_pin = \"1\"\nupper_link_pin = \"2\"\n");
    write_code_of("b.toml", "whole_code.txt");
    for (const char* file : {"b.toml", "compact.toml", "tiller-5.toml", "shaft-31.toml"}) fs::remove(file);
    REQUIRE(run({"record", "a.toml", "choices.lift_stop=25", "--date", "2026-03-01"}).code == 0);
    for (const Writer& writer : writers()) {
        if (!writer.replaces || writer.line.starts_with("record")) continue;
        for (const std::string& file : writer.files) write_file(file, "old\n");
    }
    return read_folder();
}

}  // namespace

void start_folder() {
    for (const auto& entry : fs::directory_iterator(".")) fs::remove_all(entry.path());
    static const std::map<std::string, std::string> start = make_start();
    for (const auto& [name, text] : start) write_file(name, text);
    fs::create_directory("there");
}

std::map<std::string, std::string> read_folder() {
    std::map<std::string, std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator(".")) {
        if (!entry.is_regular_file()) continue;
        files[entry.path().lexically_relative(".").string()] = read_file(entry.path());
    }
    files.erase("said");
    return files;
}

std::string preload_hook() {
    // LD_PRELOAD ends a name at a blank, which the folder of the build may have: by way of a link that has none.
    struct Link {
        fs::path path = fs::temp_directory_path() / ("fault_hook." + std::to_string(::getpid()) + ".so");
        Link() {
            remove();  // of a run with the same number that was killed
            fs::create_symlink(HITCHWRIGHT_FAULT_HOOK, path);
        }
        ~Link() { remove(); }
        void remove() const {
            std::error_code ignored;
            fs::remove(path, ignored);
        }
    };
    static const Link link;
    return "LD_PRELOAD=" + link.path.string();
}

std::string with_fault(const std::string& call, int number, const std::string& what, int value) {
    // The sanitizer wants to be loaded first.
    return "ASAN_OPTIONS=verify_asan_link_order=0:$ASAN_OPTIONS " + preload_hook() + " HITCHWRIGHT_FAULT='" + call + " " +
           std::to_string(number) + " " + what + " " + std::to_string(value) + "'";
}

std::string read_said() { return unwrap(read_file("said")); }

bool has_part() {
    const auto files = read_folder();
    return std::any_of(files.begin(), files.end(), [](const auto& f) { return contains(f.first, ".part"); });
}

}  // namespace hitchwright::test
