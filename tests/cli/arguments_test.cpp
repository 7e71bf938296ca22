// Command lines that are wrong: each gets the right exit code and a sentence that names the thing.

#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

struct Wrong {
    std::vector<std::string> args;
    int code;
    std::vector<std::string> said;  ///< each must be in the message
};

const std::string demo = "utility-cutter-fits";

std::vector<Wrong> wrong_lines() {
    const std::string long_word(3000, 'x');
    return {
        {{}, 2, {"a command is missing", "fit, cut, sweep"}},
        {{""}, 2, {"there is no command \"\""}},
        {{"ft"}, 2, {"\"ft\"", "Nearest: \"fit\""}},
        {{"Fit", demo}, 2, {"\"Fit\"", "Nearest: \"fit\""}},
        {{long_word}, 2, {"there is no command"}},
        {{"--"}, 2, {"a command is missing"}},
        {{"-"}, 2, {"there is no command \"-\""}},
        {{"-x"}, 2, {"\"-x\""}},
        {{"--fit"}, 2, {"\"--fit\""}},
        {{"/h"}, 2, {"\"/h\""}},
        {{"fit"}, 2, {"SETUP is missing", "hitchwright fit --help"}},
        {{"fit", demo, "second"}, 2, {"\"second\"", "one name too many"}},
        {{"fit", demo, "--unit", "mm"}, 2, {"\"--unit\"", "Nearest: \"--units\""}},
        {{"fit", demo, "--explan"}, 2, {"\"--explan\"", "Nearest: \"--explain\""}},
        {{"fit", demo, "--units"}, 2, {"--units", "UNIT is missing"}},
        {{"fit", demo, "--units", "inches"}, 2, {"--units", "\"inches\"", "in, mm"}},
        {{"fit", demo, "--units="}, 2, {"--units", "nothing behind"}},
        {{"fit", demo, "--units", ""}, 2, {"--units", "\"\" was read", "in, mm"}},
        {{"fit", demo, "--units", "in", "--units", "mm"}, 2, {"--units", "given 2 times"}},
        {{"fit", demo, "--format", "xml"}, 2, {"--format", "\"xml\"", "text, json, csv"}},
        {{"fit", demo, "--format", "[json,csv]"}, 2, {"\"[json,csv]\""}},
        {{"fit", demo, "--format", "{}"}, 2, {"\"{}\""}},
        {{"fit", demo, "--format", "csv", "--explain"}, 2, {"--explain", "CSV"}},
        {{"fit", demo, "--explain=yes"}, 2, {"--explain", "takes no value"}},
        {{"fit", demo, "--mark", "abc"}, 2, {"--mark", "\"abc\""}},
        {{"fit", demo, "--mark", "0"}, 2, {"--mark", "\"0\"", "allowed: from"}},
        {{"fit", demo, "--mark", "-1mm"}, 2, {"--mark", "\"-1mm\""}},
        {{"fit", demo, "--mark", "0.3in"}, 2, {"--mark", "\"0.3in\"", "sixteenths of an inch"}},
        {{"fit", demo, "--mark", "1/32in"}, 2, {"--mark", "\"1/32in\""}},
        {{"fit", demo, "--mark", "nan"}, 2, {"--mark", "\"nan\"", "finite"}},
        {{"fit", demo, "--mark", "1e300"}, 2, {"--mark", "\"1e300\""}},
        {{"fit", demo, "--mark", "1/0in"}, 2, {"--mark", "zero below the line"}},
        {{"fit", demo, "--mark", "1mm +- 1mm"}, 2, {"--mark", "+-"}},
        {{"fit", demo, "--mark", "1,5mm"}, 2, {"--mark", "comma"}},
        {{"fit", demo, "--rules", ""}, 2, {"--rules", "empty name"}},
        {{"fit", demo, "--steps", "5"}, 2, {"--steps", "does not belong to \"fit\""}},
        {{"fit", demo, "-o", "x.svg"}, 2, {"--output", "does not belong to \"fit\""}},
        {{"fit", demo, "--closed", "43in"}, 2, {"--closed", "does not belong"}},
        {{"fit", demo, "--help=x"}, 2, {"--help", "takes no value"}},
        {{"sweep", demo, "--steps", "1"}, 2, {"--steps", "\"1\"", "2 to 1001"}},
        {{"sweep", demo, "--steps", "1002"}, 2, {"--steps", "\"1002\""}},
        {{"sweep", demo, "--steps", "99999999999999999999"}, 2, {"--steps", "2 to 1001"}},
        {{"sweep", demo, "--steps", "3.5"}, 2, {"--steps", "\"3.5\""}},
        {{"sweep", demo, "--steps", "-5"}, 2, {"--steps", "\"-5\""}},
        {{"sweep", demo, "--steps", " 5"}, 2, {"--steps"}},
        {{"draw", demo}, 2, {"--output", "missing", ".svg, .pdf, .png or .html"}},
        {{"draw", demo, "-o"}, 2, {"-o", "FILE is missing"}},
        {{"draw", demo, "-o", "picture"}, 2, {"--output", "\"picture\"", ".svg"}},
        {{"draw", demo, "-o", "picture.jpg"}, 2, {"\"picture.jpg\"", ".png"}},
        {{"draw", demo, "-o=x.svg"}, 2, {"-o", "without \"=\""}},
        {{"draw", demo, "-o", "x.svg", "--paper", "a3"}, 2, {"--paper", "\"a3\"", "a4, letter"}},
        {{"draw", demo, "-o", "x.svg", "--format", "csv"}, 2, {"--format", "\"csv\"", "text, json"}},
        {{"presets"}, 2, {"a command is missing behind \"presets\"", "list, show, copy"}},
        {{"presets", "lst"}, 2, {"\"presets lst\"", "Nearest: \"list\""}},
        {{"presets", "list", "tractr"}, 2, {"\"tractr\"", "Nearest: \"tractor\""}},
        {{"presets", "list", "tractor", "x"}, 2, {"\"x\"", "one name too many"}},
        {{"presets", "list", "--units", "mm"}, 2, {"--units", "does not belong to \"presets list\""}},
        {{"presets", "show"}, 2, {"NAME is missing"}},
        {{"presets", "show", "compact", "--kind", "tractors?"}, 2, {"--kind", "\"tractors?\""}},
        {{"presets", "show", "nosuch"}, 3, {"nosuch", "no preset of that name"}},
        {{"presets", "show", "compct"}, 3, {"compct", "nearest: compact"}},
        {{"presets", "copy"}, 2, {"NAME is missing"}},
        {{"presets", "copy", "compact", "--to", ""}, 2, {"--to", "empty name"}},
        {{"presets", "copy", "compact", "--to", "/no/such/folder"}, 4, {"/no/such/folder"}},
        {{"rules"}, 2, {"behind \"rules\"", "list, show"}},
        {{"rules", "show"}, 2, {"NAME is missing"}},
        {{"rules", "show", "genral"}, 3, {"genral", "nearest: general"}},
        {{"version", "x"}, 2, {"\"x\"", "takes none"}},
        {{"version", "--format", "csv"}, 2, {"--format"}},
        {{"help", "nosuch"}, 2, {"\"nosuch\""}},
        {{"help", "presets", "lst"}, 2, {"\"presets lst\"", "Nearest: \"presets list\""}},
        {{"cut"}, 2, {"what to cut is missing", "--closed"}},
        {{"cut", demo, "--closed", "43in"}, 2, {"both a SETUP", demo}},
        {{"cut", "--closed", "43in"}, 2, {"--shortest", "--longest", "the tubes are missing"}},
        {{"cut", "--between", "grooves"}, 2, {"--between", "Nearest: \"locking_grooves\""}},
        {{"fit", "nosuch"}, 3, {"nosuch", "no set-up of that name"}},
        {{"fit", "utility-cutter-fit"}, 3, {"nearest: utility-cutter-fits"}},
        {{"fit", demo, "--rules", "genral"}, 3, {"genral", "nearest: general"}},
        {{"fit", demo, "--set", "nonsense"}, 3, {"--set", "nonsense"}},
        {{"fit", demo, "--set", "=5"}, 3, {"--set"}},
        {{"fit", demo, "--set", "choices.lift_stp=5in"}, 3, {"lift_stp", "nearest", "lift_stop"}},
        {{"fit", demo, "--set", "choices.lift_stop=hans"}, 3, {"choices.lift_stop", "hans"}},
        {{"fit", demo, "--set", "choices.lift_stop=500in"}, 3, {"choices.lift_stop", "500in"}},
        {{"fit", demo, "--set", "driveline.use=shaft-48"}, 3, {"shaft-48", "nearest: shaft-"}},
        {{"fit", demo, "--set"}, 2, {"--set", "KEY=VALUE is missing"}},
    };
}

}  // namespace

TEST_CASE("command line: what is wrong is named, with what is allowed, and the exit code tells the kind", "[cli]") {
    const WorkingFolder folder;
    const std::vector<Wrong> lines = wrong_lines();
    REQUIRE(lines.size() > 40);
    for (const Wrong& wrong : lines) {
        CAPTURE(show(wrong.args));
        const Run result = run(wrong.args);
        CAPTURE(result.err);
        CHECK(result.code == wrong.code);
        CHECK(result.out.empty());
        CHECK(result.err.starts_with("hitchwright: "));
        CHECK(contains(result.err, "--help") == (wrong.code == 2));
        for (const std::string& part : wrong.said) {
            CAPTURE(part);
            CHECK(contains(unwrap(result.err), part));
        }
        for (const std::string& line : split_lines(result.err)) CHECK(line.size() <= 80);
    }
    CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_CASE("command line: nothing typed can steer a terminal or end the program", "[cli]") {
    const std::vector<std::string> nasty = {"\x1b[31mred",
                                            "\xff\xfe",
                                            "a\nb",
                                            "\t",
                                            "%s%n",
                                            "${HOME}",
                                            std::string("\xe2\x80\xae") + "abc",
                                            "../../../etc/passwd",
                                            "-",
                                            "--",
                                            "---",
                                            "++",
                                            "{}",
                                            "[]",
                                            "[a,b]",
                                            "=",
                                            "a=b"};
    for (const std::string& word : nasty) {
        for (const std::vector<std::string>& args :
             std::vector<std::vector<std::string>>{{word},
                                                   {"fit", word},
                                                   {"fit", demo, word},
                                                   {"fit", demo, "--set", word},
                                                   {"fit", demo, "--units", word},
                                                   {"cut", "--closed", word},
                                                   {"presets", word},
                                                   {"presets", "list", word},
                                                   {"presets", "show", word},
                                                   {"rules", "show", word},
                                                   {"help", word},
                                                   {"--" + word},
                                                   {"fit", demo, "--format", "json", word}}) {
            CAPTURE(show(args));
            const Run result = run(args);
            CHECK((result.code == 2 || result.code == 3 || (result.code == 0 && word == "--")));
            CHECK_FALSE(contains(result.err, "\x1b"));
            CHECK_FALSE(contains(result.err, "\xff"));
            CHECK_FALSE(contains(result.err, "\xe2\x80\xae"));
            CHECK_FALSE(contains(result.err, "error of the program"));
        }
    }
}

TEST_CASE("command line: options may stand anywhere, with a blank or an equals sign", "[cli][metamorphic]") {
    const Run plain = run({"fit", demo, "--units", "mm"});
    CHECK(run({"--units", "mm", "fit", demo}).out == plain.out);
    CHECK(run({"fit", "--units=mm", demo}).out == plain.out);
    CHECK(run({"--units=mm", "fit", demo}).out == plain.out);
    CHECK(run({"fit", "--units", "mm", "--", demo}).out == plain.out);
    CHECK_FALSE(plain.out.empty());
    CHECK(run({"presets", "--format", "json", "list", "rules"}).out ==
          run({"presets", "list", "rules", "--format", "json"}).out);
}

TEST_CASE("command line: a name that looks like a command or an option is taken as a name in its place", "[cli]") {
    const WorkingFolder folder;
    CHECK(contains(unwrap(run({"fit", "cut"}).err), "cut: there is no set-up of that name"));
    CHECK(contains(unwrap(run({"presets", "show", "list"}).err), "list: there is no preset of that name"));
    write_file("-odd.toml", "");
    CHECK(contains(run({"fit", "--", "-odd.toml"}).err, "-odd.toml"));
    CHECK(run({"fit", "--", "-odd.toml"}).code == 3);
}

TEST_CASE("command line: several wrong options are named in one go", "[cli]") {
    const Run result = run({"sweep", demo, "--units", "cm", "--steps", "many", "--format", "yaml", "--mark", "1mm"});
    CHECK(result.code == 2);
    CHECK(contains(result.err, "--mark"));
    const Run values = run({"sweep", demo, "--units", "cm", "--steps", "many", "--format", "yaml"});
    CHECK(values.code == 2);
    for (const char* option : {"--units", "--steps", "--format"}) CHECK(contains(values.err, option));
}

TEST_CASE("help: of each command and of the program, in 80 columns, with examples and exit codes", "[cli]") {
    for (const std::vector<std::string>& command : std::vector<std::vector<std::string>>{{"fit"},
                                                                                         {"cut"},
                                                                                         {"sweep"},
                                                                                         {"draw"},
                                                                                         {"presets", "list"},
                                                                                         {"presets", "show"},
                                                                                         {"presets", "copy"},
                                                                                         {"rules", "list"},
                                                                                         {"rules", "show"},
                                                                                         {"version"}}) {
        std::vector<std::string> args = command;
        args.push_back("--help");
        CAPTURE(show(args));
        const Run result = run(args);
        CHECK(result.code == 0);
        CHECK(result.err.empty());
        CHECK(contains(result.out, "Examples:\n"));
        CHECK(contains(result.out, "Exit codes: 0 "));
        CHECK(contains(result.out, "--format"));
        for (const std::string& line : split_lines(result.out)) CHECK(line.size() <= 80);
        std::vector<std::string> help = command;
        help.insert(help.begin(), "help");
        CHECK(run(help).out == result.out);
        args.back() = "-h";
        CHECK(run(args).out == result.out);
    }
    const Run program = run({"--help"});
    CHECK(program.code == 0);
    CHECK(run({"help"}).out == program.out);
    for (const char* word : {"fit SETUP", "cut [SETUP]", "sweep", "draw", "presets copy", "rules show", "version"})
        CHECK(contains(program.out, word));
}
