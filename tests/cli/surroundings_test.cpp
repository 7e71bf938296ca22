// Surroundings a program does not choose: locale, home folder, streams that are closed or go away.
#include <catch2/catch.hpp>

#include <array>
#include <clocale>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <string>
#include <vector>

#include "tests/cli/faults.h"
#include "tests/cli/shell.h"

using namespace hitchwright::test;

namespace {

/// Makes the locale "comma" below the working folder: a decimal comma, a point between thousands. Of own sources, since a
/// machine may have none.
void make_comma_locale() {
    std::string map = "<code_set_name> OWN\n<escape_char> \\\n<mb_cur_min> 1\n<mb_cur_max> 1\nCHARMAP\n";
    for (unsigned code = 0; code < 128; ++code) {
        std::array<char, 32> line{};
        std::snprintf(line.data(), line.size(), "<U%04X> \\x%02x own\n", code, code);
        map += line.data();
    }
    write_file("map", map + "END CHARMAP\n");
    write_file("source", "comment_char %\nescape_char /\nLC_NUMERIC\ndecimal_point \",\"\nthousands_sep \".\"\ngrouping 3;3\nEND LC_NUMERIC\n");
    std::filesystem::create_directory("locales");
    // It complains of what is not in the source and makes the locale all the same.
    shell("localedef -c -f ./map -i ./source ./locales/comma >made 2>&1");
}

const std::vector<std::string> answers = {
    "fit a.toml --explain",
    "fit a.toml --units mm --format json",
    "fit a.toml --set tractor.pto.stub_x=11.25 --set 'choices.lift_stop=26 1/2 in' --trust",
    "cut a.toml --format json",
    "cut --closed 28.5 --overlap 9.25 --shortest 27.75 --longest 31.5",
    "sweep a.toml --steps 5 --format csv",
    "sheet a.toml --units mm",
    "holes a.toml",
    "measure a.toml",
    "matrix --tractors compact --implements tiller-5 --format csv",
    "record a.toml choices.lift_stop=26.5 --after 0.5h --dry-run",
};

std::vector<std::string> split(const std::string& line) { return split_line(line); }

}  // namespace

TEST_CASE("locale: a decimal comma changes no byte of what the program says and writes", "[cli]") {
    const WorkingFolder folder;
    start_folder();
    make_comma_locale();
    const std::string comma = "export LOCPATH=\"$PWD/locales\" LC_ALL=comma LANG=comma; ";
    REQUIRE(shell(comma + "[ \"$(bash -c 'printf %.1f 1,5')\" = 1,5 ]") == 0);
    for (const std::string& line : answers) {
        CAPTURE(line);
        const int code = shell("\"$HW\" " + line + " >out 2>err");
        CHECK(code <= 1);
        CHECK(shell(comma + "\"$HW\" " + line + " >out_comma 2>err_comma") == code);
        CHECK(read_file("out") == read_file("out_comma"));
        CHECK(read_file("err") == read_file("err_comma"));
    }
    CHECK(shell("echo '{\"setup\": \"a.toml\", \"set\": {\"choices.lift_stop\": 26.5}}' >in; \"$HW\" batch --full <in >out && " + comma + "\"$HW\" batch --full <in >out_comma; cmp out out_comma") == 0);
    for (const char* picture : {"p.svg", "p.pdf", "p.png"}) {
        CAPTURE(picture);
        CHECK(shell("export SOURCE_DATE_EPOCH=1; \"$HW\" draw a.toml -o one-" + std::string(picture) + " >out && " + comma + "\"$HW\" draw a.toml -o two-" + picture + " >out; cmp one-" + picture + " two-" + picture) == 0);
    }
}

TEST_CASE("locale: nor does one that a program around the library has set", "[cli]") {
    const WorkingFolder folder;
    start_folder();
    make_comma_locale();
    std::vector<Run> plain;
    for (const std::string& line : answers) plain.push_back(run(split(line)));
    const std::string before = std::setlocale(LC_ALL, nullptr);
    setenv("LOCPATH", (folder.path() / "locales").c_str(), 1);
    REQUIRE(std::setlocale(LC_ALL, "comma") != nullptr);
    std::array<char, 16> number{};
    std::snprintf(number.data(), number.size(), "%.1f", 1.5);
    std::vector<Run> comma;
    for (const std::string& line : answers) comma.push_back(run(split(line)));
    std::setlocale(LC_ALL, before.c_str());
    unsetenv("LOCPATH");
    CHECK(std::string(number.data()) == "1,5");
    for (std::size_t i = 0; i < answers.size(); ++i) {
        CAPTURE(answers[i], comma[i].err);
        CHECK(plain[i].code <= 1);
        CHECK(plain[i].code == comma[i].code);
        CHECK(plain[i].out == comma[i].out);
        CHECK(plain[i].err == comma[i].err);
    }
}

TEST_CASE("home: without one, or with one that is none, every answer is the same", "[cli]") {
    const WorkingFolder folder;
    start_folder();
    const std::string plain = "env -u XDG_DATA_HOME -u HITCHWRIGHT_PRESETS -u HOME";
    const std::vector<std::string> lines = {"fit utility-cutter-fits", "presets show compact", "rules list", "fit nosuch"};
    for (const std::string& line : lines) {
        const int code = shell(plain + " \"$HW\" " + line + " >out 2>err");
        for (const std::string home : {"HOME=", "HOME=/proc/nowhere", "HOME=nowhere", "HOME=/dev/null", "HOME=a.toml", "HOME=/", "XDG_DATA_HOME=nowhere", "XDG_DATA_HOME=/dev/null",
                                       "XDG_DATA_HOME=/proc/self", "HITCHWRIGHT_PRESETS=/dev/null", "HITCHWRIGHT_PRESETS=a.toml", "HITCHWRIGHT_PRESETS=$(printf %05000d 0)"}) {
            CAPTURE(line, home);
            CHECK(shell(plain + " \"" + home + "\" \"$HW\" " + line + " >out_home 2>err_home") == code);
            CHECK(read_file("out") == read_file("out_home"));
            CHECK(read_file("err") == read_file("err_home"));
        }
    }
    // New files go where one is, not home.
    CHECK(shell(plain + " HOME=/proc/nowhere \"$HW\" presets copy utility >out 2>err") == 0);
    CHECK(std::filesystem::exists("utility.toml"));
}

TEST_CASE("streams: who reads only the first line gets it, and nobody complains", "[cli]") {
    const WorkingFolder folder;
    start_folder();
    std::vector<std::string> lines = answers;
    lines.insert(lines.end(), {"presets list", "manual", "completion bash", "--help", "record a.toml --log", "sweep a.toml --steps 1001"});
    for (const std::string& line : lines) {
        CAPTURE(line);
        const int code = shell("\"$HW\" " + line + " >whole 2>err");
        CHECK(shell("\"$HW\" " + line + " 2>err | head -n 1 >first; exit ${PIPESTATUS[0]}") == code);
        CHECK(read_file("first") == split_lines(read_file("whole")).at(0) + "\n");
        CHECK(read_file("err").empty());
    }
    for (const char* jobs : {"1", "2"}) {
        CHECK(shell(std::string("yes '{\"setup\": \"a.toml\"}' | \"$HW\" batch --jobs ") + jobs + " 2>err | head -n 1 >first; exit ${PIPESTATUS[1]}") == 4);
        CHECK(contains(read_file("first"), "\"line\":1"));
        CHECK(read_file("err").empty());
    }
}

TEST_CASE("streams: a file that is being written does not become the error stream that was closed", "[cli]") {
    const WorkingFolder folder;
    start_folder();
    std::filesystem::remove("m.csv.rows");
    const std::string line = "matrix --tractors compact --implements tiller-5,box-blade-5 --jobs 1 -o m.csv --format csv";
    // Ctrl-C while the rows are being kept: the sentence for it has no stream to go to.
    CHECK(shell("exec env " + with_fault("write", 2, "before", SIGINT) + " \"$HW\" " + line + " >out 2>&-") == 130);
    const auto rows = split_lines(read_file("m.csv.rows"));
    CHECK(rows.size() >= 2);
    for (const std::string& row : rows) CHECK((row.starts_with('{') && row.ends_with('}')));
    CHECK(shell("\"$HW\" fit a.toml <&- >out 2>err") == 1);
    CHECK(shell("\"$HW\" batch <&- >out 2>err") == 4);
    CHECK(contains(read_file("err"), "the input cannot be read: Bad file descriptor"));
    CHECK(shell("\"$HW\" draw a.toml -o p.svg >&- 2>&- <&-") == 4);
    CHECK(read_file("p.svg").ends_with("</svg>\n"));
}
