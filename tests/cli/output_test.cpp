// The forms of an answer: JSON parses, CSV has a header, units agree, lines fit, runs repeat.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstdlib>
#include <locale>
#include <string>
#include <vector>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

// Every command that gives an answer, without --format and --units.
std::vector<std::string> answers() {
    std::vector<std::string> lines = {
        "hitchwright cut --closed 43in --tractor-tube 26in --implement-tube 24in --shortest 38-7/8in --longest 46in",
        "hitchwright cut --closed 43in --overlap 26in --shortest 38-7/8in --longest 60in --between shaft_ends",
        "hitchwright rules list",
        "hitchwright rules show general",
        "hitchwright rules show european-40mm",
        "hitchwright fit utility-cutter-fits --set tractor.pto.stub_x=",
        "hitchwright cut utility-cutter-fits --set tractor.pto.stub_x=",
        "hitchwright lines utility-cutter-sheet",
        "hitchwright lines utility-drawn-cutter-short"};
    for (const std::string& name : demo_setups()) {
        for (const char* command : {"fit", "cut", "sweep"})
            lines.push_back(std::string("hitchwright ") + command + " " + name);
    }
    return lines;
}

const std::vector<std::string> unitless = {"hitchwright presets list", "hitchwright presets list setup",
                                           "hitchwright presets list specification_list"};

// Fields of a line of CSV without line ends inside quotes.
std::vector<std::string> split_csv(const std::string& line) {
    std::vector<std::string> fields(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"')
            quoted = !quoted;
        else if (c == ',' && !quoted)
            fields.emplace_back();
        else
            fields.back() += c;
    }
    return fields;
}

void check_names(const nlohmann::json& json) {
    if (json.is_object()) {
        for (const auto& [key, value] : json.items()) {
            CHECK(key.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string::npos);
            check_names(value);
        }
    } else if (json.is_array()) {
        for (const auto& value : json) check_names(value);
    }
}

// The same without sentences, whose wording follows --units.
nlohmann::json without_text(const nlohmann::json& json) {
    if (json.is_array()) {
        nlohmann::json list = nlohmann::json::array();
        for (const auto& value : json) list.push_back(without_text(value));
        return list;
    }
    if (!json.is_object()) return json;
    nlohmann::json result = nlohmann::json::object();
    for (const auto& [key, value] : json.items()) {
        const bool words =
            key == "text" || key == "steps" || key == "what" || key == "headline" || key == "detail" || key == "note";
        if (!words) result[key] = without_text(value);
    }
    return result;
}

}  // namespace

TEST_CASE("JSON: every command's answer parses and states its schema and version", "[cli]") {
    std::vector<std::string> lines = answers();
    lines.insert(lines.end(), unitless.begin(), unitless.end());
    lines.insert(lines.end(), {"hitchwright version", "hitchwright --version", "hitchwright presets show compact"});
    for (const std::string& line : lines) {
        CAPTURE(line);
        const Run text = run_line(line), result = run_line(line + " --format json");
        CHECK(result.code == text.code);
        CHECK(result.err.empty());
        const nlohmann::json json = nlohmann::json::parse(result.out);
        CHECK(json.at("schema").get<std::string>().starts_with("hitchwright."));
        CHECK(json.at("schema_version") == 1);
        CHECK(json.size() > 2);
        check_names(json);
    }
}

TEST_CASE("JSON: a failure is an object on the output, and a sentence besides", "[cli]") {
    const Run usage = run({"fit", "utility-cutter-fits", "--units", "inch", "--format", "json"});
    CHECK(usage.code == 2);
    const nlohmann::json json = nlohmann::json::parse(usage.out);
    CHECK(json.at("schema") == "hitchwright.failure");
    CHECK(json.at("failure") == "usage");
    CHECK(json.at("exit_code") == 2);
    CHECK(json.at("problems").at(0).at("key") == "--units");
    CHECK(json.at("problems").at(0).at("nearest") == "in");
    CHECK(contains(usage.err, "--units"));
    const Run file = run({"fit", "nosuch", "--format=json"});
    CHECK(file.code == 3);
    CHECK(nlohmann::json::parse(file.out).at("failure") == "bad_file");
    CHECK(nlohmann::json::parse(file.out).at("problems").at(0).at("file") == "nosuch");
    const Run value = run({"fit", "utility-cutter-fits", "--set", "choices.lift_stop=x", "--format", "json"});
    const nlohmann::json problem = nlohmann::json::parse(value.out).at("problems").at(0);
    CHECK(problem.at("key") == "choices.lift_stop");
    CHECK(problem.at("read") == "\"x\"");
    CHECK_FALSE(problem.at("allowed").is_null());
    CHECK(problem.at("line").is_null());
}

TEST_CASE("CSV: a header, and rows with as many fields", "[cli]") {
    std::vector<std::string> lines = answers();
    lines.insert(lines.end(), {unitless[0], unitless[1]});
    for (const std::string& line : lines) {
        CAPTURE(line);
        const Run result = run_line(line + " --format csv");
        CHECK(result.code == run_line(line).code);
        const std::vector<std::string> rows = split_lines(result.out);
        REQUIRE(rows.size() >= 2);
        const std::vector<std::string> header = split_csv(rows.front());
        for (const std::string& name : header)
            CHECK((!name.empty() &&
                   name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string::npos));
        for (const std::string& row : rows) CHECK(split_csv(row).size() == header.size());
    }
}

TEST_CASE("units: inches and millimetres say the same", "[cli][metamorphic]") {
    for (const std::string& line : answers()) {
        CAPTURE(line);
        const Run inch = run_line(line + " --format json --mark 1mm"),
                  mm = run_line(line + " --format json --mark 1mm --units mm");
        if (inch.code == 2) {  // commands without --mark
            CHECK(without_text(nlohmann::json::parse(run_line(line + " --format json").out)) ==
                  without_text(nlohmann::json::parse(run_line(line + " --format json --units mm").out)));
            continue;
        }
        CHECK(inch.code == mm.code);
        CHECK(without_text(nlohmann::json::parse(inch.out)) == without_text(nlohmann::json::parse(mm.out)));
    }
}

TEST_CASE("units: the sweep in inches times 25.4 is the sweep in millimetres", "[cli][metamorphic]") {
    const std::vector<std::string> inch =
        split_lines(run_line("hitchwright sweep compact-tiller-bottoms-out --steps 7 --format csv").out);
    const std::vector<std::string> mm =
        split_lines(run_line("hitchwright sweep compact-tiller-bottoms-out --steps 7 --format csv --units mm").out);
    REQUIRE(inch.size() == 8);
    REQUIRE(mm.size() == 8);
    const std::vector<std::string> names = split_csv(inch.front());
    int compared = 0;
    for (std::size_t row = 1; row < inch.size(); ++row) {
        const std::vector<std::string> a = split_csv(inch[row]), b = split_csv(mm[row]);
        for (std::size_t i = 0; i < names.size(); ++i) {
            if (!names[i].ends_with("_in")) continue;
            CHECK(split_csv(mm.front())[i] == names[i].substr(0, names[i].size() - 3) + "_mm");
            CHECK(std::fabs(std::strtod(a[i].c_str(), nullptr) * 25.4 - std::strtod(b[i].c_str(), nullptr)) < 2e-8);  // 12 digits
            ++compared;
        }
    }
    CHECK(compared >= 7 * 4);
}

TEST_CASE("text: no line is wider than 80 columns, no number is not a number, nothing is left behind", "[cli]") {
    std::vector<std::string> lines = answers();
    lines.insert(lines.end(), unitless.begin(), unitless.end());
    const std::string long_name(70, 'w');
    lines.push_back("hitchwright fit compact-tiller-bottoms-out --set name=" + long_name +
                    " --set tractor.name=" + long_name + " --set tractor.upper_link_pin[2].name=2");
    for (const std::string& line : lines) {
        for (const char* more : {"", " --units mm"}) {
            const bool takes_units = *more == 0 || !contains(line, "presets");
            if (!takes_units) continue;
            CAPTURE(line, more);
            const Run result = run_line(line + more);
            REQUIRE_FALSE(result.out.empty());
            CHECK(result.out.back() == '\n');
            for (const std::string& row : split_lines(result.out)) {
                CAPTURE(row);
                CHECK(row.size() <= 80);
                CHECK((row.empty() || row.back() != ' '));
                CHECK_FALSE(contains(row, "nan"));
                CHECK_FALSE(contains(row, " inf"));
                CHECK_FALSE(contains(row, "\x1b"));
            }
        }
    }
}

TEST_CASE("colour: on a terminal only, and not where NO_COLOR or a dumb terminal says no", "[cli]") {
    const auto colours = [](const World& world) {
        return contains(run({"fit", "compact-flail-separates"}, world).out, "\x1b[");
    };
    CHECK(colours({true, {}}));
    CHECK(colours({true, {{"NO_COLOR", ""}}}));
    CHECK_FALSE(colours({true, {{"NO_COLOR", "1"}}}));
    CHECK_FALSE(colours({true, {{"TERM", "dumb"}}}));
    CHECK_FALSE(colours({false, {}}));
    for (const char* form : {"json", "csv"})
        CHECK_FALSE(contains(run({"fit", "compact-flail-separates", "--format", form}, {true, {}}).out, "\x1b"));
}

TEST_CASE("the locale changes nothing", "[cli][metamorphic]") {
    struct CommaPoint : std::numpunct<char> {
        char do_decimal_point() const override { return ','; }
        char do_thousands_sep() const override { return '.'; }
        std::string do_grouping() const override { return "\3"; }
    };
    const WorkingFolder folder;
    const auto collect = [] {
        std::string text;
        for (const std::string& line : answers()) {
            for (const char* form : {"text", "json", "csv"}) text += run_line(line + " --format " + form).out;
        }
        CHECK(run({"draw", "compact-tiller-bottoms-out", "-o", "x.svg"}).code == 0);
        return text + read_file("x.svg");
    };
    const std::string before = collect();
    const std::locale usual = std::locale::global(std::locale(std::locale::classic(), new CommaPoint));
    const std::string after = collect();
    std::locale::global(usual);
    CHECK(after == before);
}

TEST_CASE("the same command gives the same bytes", "[cli][metamorphic]") {
    const WorkingFolder folder;
    for (const std::string& line : answers()) {
        for (const char* form : {"text", "json", "csv"}) {
            CAPTURE(line, form);
            CHECK(run_line(line + " --format " + form).out == run_line(line + " --format " + form).out);
        }
    }
    for (const char* file : {"a.svg", "a.pdf", "a.png"}) {
        const std::string other = std::string("b") + (file + 1);
        CAPTURE(file);
        REQUIRE(run({"draw", "compact-tiller-bottoms-out", "-o", file}).code == 0);
        REQUIRE(run({"draw", "compact-tiller-bottoms-out", "-o", other}).code == 0);
        CHECK(read_file(file) == read_file(other));
        CHECK_FALSE(contains(read_file(file), "CreationDate"));  // would differ a second later
    }
}
