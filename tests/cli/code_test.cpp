// `code`: a set-up as a text, and back; the sheet for teaching.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;
using nlohmann::json;

namespace {

std::string code_of(const std::string& setup) {
    const Run run = run_line("hitchwright code " + setup);
    CAPTURE(run.err);
    REQUIRE(run.code == 0);
    return run.out;
}

json fit_of(const std::string& setup) { return json::parse(run_line("hitchwright fit --format json " + setup).out); }

}  // namespace

TEST_CASE("code: every demo comes back as the same set-up, in every number", "[cli][metamorphic]") {
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        const WorkingFolder folder;
        const Run read = run({"code", "--read", code_of(name)});
        CAPTURE(read.err);
        REQUIRE(read.code == 0);
        const json before = fit_of(name), after = fit_of("setup.toml");
        CHECK(before.at("findings") == after.at("findings"));
        CHECK(before.at("verdict") == after.at("verdict"));
    }
}

TEST_CASE("code: carries --set, and the files of one's own that a set-up names", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run_line("hitchwright presets copy compact --to .").code == 0);
    write_file(folder.path() / "mine.toml",
               "kind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"mine # not a comment\"  # a "
               "comment\n[tractor]\nuse = \"compact.toml\"\n"
               "[implement]\nuse = \"tiller-5\"\n[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = "
               "\"2\"\nlift_stop = 27\n");
    const std::string code = code_of("mine.toml --set choices.lift_stop=26in");
    std::filesystem::create_directory(folder.path() / "other");
    const Run read = run({"code", "--read", "-", "--to", "other"}, {false, {}, code});
    CAPTURE(read.err);
    REQUIRE(read.code == 0);
    CHECK(contains(read_file(folder.path() / "other" / "setup.toml"), "mine # not a comment"));
    CHECK(read_file(folder.path() / "other" / "compact.toml").size() > 1000);
    CHECK(fit_of("other/setup.toml").at("findings") == fit_of("mine.toml --set choices.lift_stop=26in").at("findings"));
    // Nothing is overwritten.
    CHECK(run({"code", "--read", code, "--to", "other"}).code == 4);
    CHECK(run({"code", "--read", "HITCHWRIGHT1:NONSENSE"}).code == 3);
    CHECK(run_line("hitchwright code").code == 2);
    CHECK(run({"code", "mine.toml", "--read", code}).code == 2);
    CHECK(run({"code", "nowhere.toml"}).code == 3);
}

TEST_CASE("code: files of one's own that have the name of a built-in one are carried and named apart", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directories("own/rules");
    std::filesystem::create_directories("own/tractors");
    write_file("own/rules/general.toml",
               "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"mine\"\n[gap_required]\nvalue = \"200 "
               "mm\"\ngrade = \"P\"\nsource = \"mine\"\n");
    REQUIRE(run_line("hitchwright presets copy compact --to own/tractors").code == 0);
    const World own{false, {{"HITCHWRIGHT_PRESETS", "own"}}};
    write_file("mine.toml",
               "kind = \"setup\"\nversion = 1\nrules = 'general'\nnote = \"notes about "
               "compact\"\n[tractor]\nuse='compact'\n[implement]\nuse = \"tiller-5\"\n"
               "[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\n");
    const Run code = run_line("hitchwright code mine.toml", own);
    CAPTURE(code.err);
    REQUIRE(code.code == 0);
    std::filesystem::create_directory("other");
    REQUIRE(run({"code", "--read", code.out, "--to", "other"}).code == 0);
    const json before = json::parse(run_line("hitchwright fit mine.toml --format json", own).out);
    const json after = json::parse(run_line("hitchwright fit other/setup.toml --format json").out);
    CHECK(before.at("verdict") == after.at("verdict"));
    CHECK(before.at("findings") == after.at("findings"));
    CHECK(after.at("setup").at("note") == "notes about compact");
}

TEST_CASE("worksheet: answers held back in the sheet, whole in the key, the same for the same seed", "[cli]") {
    const Run one = run_line("hitchwright sheet compact-tiller-bottoms-out --worksheet --seed 5");
    REQUIRE(one.code == 0);
    CHECK(one.out == run_line("hitchwright sheet compact-tiller-bottoms-out --worksheet --seed 5").out);
    CHECK(one.out != run_line("hitchwright sheet compact-tiller-bottoms-out --worksheet --seed 6").out);
    for (const std::string& line : split_lines(one.out)) CHECK(line.size() <= 80);
    const std::size_t key = one.out.find("--- key ---");
    REQUIRE(key != std::string::npos);
    const std::string sheet = one.out.substr(0, key), answers = one.out.substr(key);
    CHECK(contains(answers, "Key: what was set in"));
    CHECK_FALSE(contains(sheet, "Key"));
    CHECK_FALSE(contains(sheet, "bottoms out: "));  // no verdict
    for (const char* answer : {"Why: ", "Thread then left", "At ball height", "Nearest: ", "OUT: "})
        CHECK_FALSE(contains(sheet, answer));
    CHECK(contains(answers, "Thread then left"));
    CHECK(contains(unwrap(sheet), "Keep away from a turning shaft"));
    const WorkingFolder folder;
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out --worksheet -o w.pdf").code == 0);
    CHECK(read_file(folder.path() / "w.pdf").starts_with("%PDF-"));
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out --seed 3").code == 2);
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out --worksheet --seed 0").code == 2);
}

TEST_CASE("sheet: the printed day is that of SOURCE_DATE_EPOCH, and the PDF the same byte for byte", "[cli]") {
    const WorkingFolder folder;
    const World world{false, {{"SOURCE_DATE_EPOCH", "1764000000"}}};
    CHECK(contains(run_line("hitchwright sheet compact-box-blade", world).out, "printed 2025-11-24"));
    REQUIRE(run_line("hitchwright sheet compact-box-blade -o a.pdf", world).code == 0);
    REQUIRE(run_line("hitchwright sheet compact-box-blade -o b.pdf", world).code == 0);
    CHECK(read_file(folder.path() / "a.pdf") == read_file(folder.path() / "b.pdf"));
    CHECK(run_line("hitchwright sheet compact-box-blade", {false, {{"SOURCE_DATE_EPOCH", "soon"}}}).code == 2);
}
