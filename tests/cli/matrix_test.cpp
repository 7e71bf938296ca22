// matrix: every tractor with every implement and shaft; kept, resumed, stopped.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <csignal>
#include <cstdlib>
#include <string>
#include <thread>
#include <tuple>
#include <vector>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tests/cli/run.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const std::vector<std::string> small = {"matrix", "--tractors", "compact", "--implements", "tiller-5,box-blade-5", "--drivelines", "shaft-28", "--drivelines", "shaft-31"};

Run matrix(std::vector<std::string> args, const std::vector<std::string>& more = {}) {
    args.insert(args.end(), more.begin(), more.end());
    return run(args);
}

Json table(const std::vector<std::string>& args, const std::vector<std::string>& more = {}, int code = 0) {
    std::vector<std::string> all = args;
    all.insert(all.end(), more.begin(), more.end());
    const Run result = matrix(all, {"--format", "json"});
    CAPTURE(result.err);
    CHECK(result.code == code);
    return Json::parse(result.out);
}

std::string name_row(const Json& row) {
    std::string name;
    for (const char* key : {"tractor", "implement", "driveline"}) name += (name.empty() ? "" : "+") + (row[key].is_null() ? "-" : row[key].get<std::string>());
    return name;
}

std::vector<std::string> name_rows(const Json& json) {
    std::vector<std::string> names;
    for (const Json& row : json["rows"]) names.push_back(name_row(row));
    return names;
}

/// A folder of machines: two tractors, three implements, two shafts, with names of our own.
void write_machines() {
    std::filesystem::create_directories("yard/more");
    const std::vector<std::pair<std::string, std::string>> files = {{"compact", "a-tractor"}, {"utility", "b-tractor"}, {"tiller-5", "tiller"}, {"box-blade-5", "blade"}, {"shaft-28", "short"}, {"shaft-31", "long"}};
    for (const auto& [preset, name] : files) {
        REQUIRE(run({"presets", "copy", preset, "--to", "yard"}).code == 0);
        std::filesystem::rename("yard/" + preset + ".toml", "yard/" + name + ".toml");
    }
}

const std::vector<std::string> yard = {"matrix", "--tractors", "yard", "--implements", "yard", "--drivelines", "yard"};

void replace_in(const std::string& file, const std::string& what, const std::string& with) {
    std::string text = read_file(file);
    const std::size_t at = text.find(what);
    REQUIRE(at != std::string::npos);
    write_file(file, text.replace(at, what.size(), with));
}

/// The program with arguments, its output thrown away.
pid_t start(std::vector<std::string> args) {
    const pid_t pid = fork();
    REQUIRE(pid >= 0);
    if (pid != 0) return pid;
    const int nowhere = open("/dev/null", O_RDWR);
    for (const int end : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) dup2(nowhere, end);
    alarm(300);  // never hangs a run of the tests
    args.insert(args.begin(), "hitchwright");
    std::vector<char*> words;
    for (std::string& arg : args) words.push_back(arg.data());
    words.push_back(nullptr);
    execv(HITCHWRIGHT_PROGRAM, words.data());
    _exit(127);
}

int wait_for(pid_t pid) {
    int status = 0;
    REQUIRE(waitpid(pid, &status, 0) == pid);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

/// Waits until the program has kept a row, or has ended.
void wait_for_row(pid_t pid, const std::string& file) {
    std::error_code error;
    siginfo_t ended{};
    while (!(std::filesystem::file_size(file, error) > 0 && !error) && waitid(P_PID, static_cast<id_t>(pid), &ended, WEXITED | WNOHANG | WNOWAIT) == 0 && ended.si_pid == 0)
        std::this_thread::yield();
}

}  // namespace

TEST_CASE("matrix: a row for every combination, judged as fit judges it", "[cli]") {
    const Json json = table(small);
    CHECK(json["complete"] == true);
    CHECK(json["total"] == 3);
    // A blade has no input: one row, and no shaft.
    REQUIRE(name_rows(json) == std::vector<std::string>{"compact+tiller-5+shaft-28", "compact+tiller-5+shaft-31", "compact+box-blade-5+-"});
    const WorkingFolder folder;
    for (const Json& row : json["rows"]) {
        CAPTURE(row.dump());
        const std::string shaft = row["driveline"].is_null() ? std::string("none") : row["driveline"].get<std::string>();
        write_file("pair.toml", "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = \"" + row["implement"].get<std::string>() + "\"\n[driveline]\nuse = \"" + shaft +
                                    "\"\n[choices]\nupper_link_pin = \"" + row["upper_link_pin"].get<std::string>() + "\"\nmast_pin = \"" + row["mast_pin"].get<std::string>() + "\"\n");
        std::vector<std::string> fit = {"fit", "pair.toml", "--format", "json"};
        if (!row["lift_rod_hole"].is_null()) fit.insert(fit.end(), {"--set", "choices.lift_rod_hole=" + row["lift_rod_hole"].get<std::string>()});
        const Json judged = Json::parse(run(fit).out);
        CHECK(row["answer"] == judged["verdict"]);
        CHECK(row["decided_by"] == judged["findings"][0]["kind"]);
        CHECK(judged["findings"][0]["text"].get<std::string>().starts_with(row["text"].get<std::string>()));
        CHECK(row["steps"] == judged["steps"]);
        CHECK(row["upper_link_mm"] == judged["linkage"]["upper_link"]["length_mm"]);
        if (shaft != "none") CHECK(row["cut_answer"] == judged["cut"]["answer"]);
        // The holes are those that "holes" puts first.
        const Json holes = Json::parse(run({"holes", "pair.toml", "--format", "json"}).out);
        CHECK(holes["combinations"][0]["tractor_hole"] == row["upper_link_pin"]);
        CHECK(holes["combinations"][0]["mast_hole"] == row["mast_pin"]);
    }
}

TEST_CASE("matrix: forms, columns and cautions", "[cli]") {
    const Run text = matrix(small);
    CHECK(text.code == 0);
    for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
    const Json json = table(small);
    for (const Json& caution : json["cautions"]) CHECK(contains(unwrap(text.out), caution["text"]));
    CHECK(json["cautions"].size() > 5);
    check_documented(json.dump(), "hitchwright.matrix");
    const std::vector<std::string> csv = split_lines(matrix(small, {"--format", "csv"}).out);
    REQUIRE(csv.size() == 4);
    CHECK(csv[0].starts_with("tractor,implement,driveline,answer,decided_by,text,steps,cautions,upper_link_pin,mast_pin,lift_rod_hole,drawbar_pin,upper_link_in,"));
    CHECK(csv[1].starts_with("compact,tiller-5,shaft-28,"));
    CHECK(contains(split_lines(matrix(small, {"--format", "csv", "--units", "mm"}).out)[0], ",upper_link_mm,"));
}

TEST_CASE("matrix: a row names all that is to be done, and no cut where none makes it fit", "[cli]") {
    int with_conditions = 0, without_cut = 0;
    for (const char* name : {"compact-tiller-bottoms-out", "utility-cutter-fits", "utility-cutter-wrong-hole", "utility-drawn-cutter-fits", "utility-drawn-cutter-short"}) {
        CAPTURE(name);
        const Json judged = Json::parse(run({"fit", name, "--format", "json"}).out);
        const Json row = table({"matrix", name})["rows"][0];
        const std::string text = unwrap(matrix({"matrix", name}).out), csv = matrix({"matrix", name}, {"--format", "csv"}).out;
        CHECK(row["steps"] == judged["steps"]);
        for (const Json& step : judged["steps"]) {
            CHECK(contains(text, unwrap(step.get<std::string>())));
            CHECK(contains(csv, step.get<std::string>()));
        }
        with_conditions += row["answer"] == "fits" && !row["steps"].empty() ? 1 : 0;
        if (row["answer"] != "must_not_run" && row["answer"] != "too_close_to_call") continue;
        ++without_cut;
        CHECK(row["cut_tractor_half_mm"].is_null());
        CHECK(row["cut_implement_half_mm"].is_null());
    }
    CHECK(with_conditions + without_cut > 0);
}

TEST_CASE("matrix: pairs that are not worth trying have one row with the reason, --all studies them", "[cli]") {
    const std::vector<std::string> args = {"matrix", "--tractors", "row-crop", "--implements", "tiller-5", "--drivelines", "shaft-28,shaft-31"};
    const Json json = table(args);
    REQUIRE(json["rows"].size() == 1);
    CHECK(json["rows"][0]["answer"] == "not_tried");
    CHECK(json["rows"][0]["decided_by"] == "category");
    CHECK(json["counts"]["not_tried"] == 1);
    CHECK(table(args, {"--all"})["rows"].size() == 2);
}

TEST_CASE("matrix: with a set-up what no option names is its own, and what belongs to another machine does not hold", "[cli]") {
    const Json own = table({"matrix", "compact-tiller-bottoms-out"});
    REQUIRE(own["rows"].size() == 1);
    const Json fit = Json::parse(run({"fit", "compact-tiller-bottoms-out", "--format", "json"}).out);
    CHECK(own["rows"][0]["answer"] == fit["verdict"]);
    CHECK(own["rows"][0]["gap_mm"] == fit["cut"]["uncut"]["gap_mm"]);
    // Its cuts were those of its shaft; --set holds for all.
    const std::vector<std::string> cut = {"--set", "choices.cut_tractor_half=3.625in", "--set", "choices.cut_implement_half=3.625in"};
    const Json whole = table({"matrix", "compact-tiller-bottoms-out", "--drivelines", "shaft-31"});
    CHECK(whole["rows"][0]["gap_mm"] == own["rows"][0]["gap_mm"]);
    CHECK(table({"matrix", "compact-tiller-bottoms-out", "--drivelines", "shaft-31"}, cut)["rows"][0]["gap_mm"] != own["rows"][0]["gap_mm"]);
    CHECK(table({"matrix", "utility-drawn-cutter-fits"})["rows"][0]["drawbar_pin"] == "middle");
    const Json drawn = table({"matrix", "--tractors", "utility", "--implements", "drawn-cutter-10", "--drivelines", "shaft-31"});
    const Json positions = Json::parse(run({"drawbar", "utility-drawn-cutter-fits", "--format", "json"}).out);
    CHECK(drawn["rows"][0]["drawbar_pin"].is_string());
    CHECK(positions["schema"] == "hitchwright.drawbar");
}

TEST_CASE("matrix: a --set that names a machine, a key that is none and rules that are none end it before a row is made", "[cli]") {
    const WorkingFolder folder;
    for (const char* table : {"tractor", "implement", "driveline"}) {
        const Run result = matrix(small, {"--set", std::string(table) + ".use=utility"});
        CHECK(result.code == 2);
        CHECK(contains(unwrap(result.err), std::string("name it with --") + table + "s"));
    }
    write_file("bad.toml", "kind = \"rules\"\nversion = 1\nunit = \"in\"\nname = \"x\"\nnonsense = 3\n");
    for (const auto& [option, value, says] : std::vector<std::array<std::string, 3>>{{"--set", "choices.lift_stp=3in", "choices.lift_stop"},
                                                                                    {"--set", "nosuch.key=1", "there is no such key"},
                                                                                    {"--set", "nonsense", "there is no ="},
                                                                                    {"--set", "rules=nosuch", "no rule set of that name"},
                                                                                    {"--rules", "nosuch", "no rule set of that name"},
                                                                                    {"--rules", "bad.toml", "nonsense"}}) {
        CAPTURE(option, value);
        for (const std::vector<std::string>& args : {small, std::vector<std::string>{"matrix", "compact-tiller-bottoms-out"}, std::vector<std::string>{"batch"}}) {
            const Run result = matrix(args, {option, value});
            CHECK(result.code == 2);
            CHECK(result.out.empty());
            CHECK(contains(unwrap(result.err), says));
        }
    }
    CHECK(matrix(small, {"--set", "tractor.pto.stub_x=11in", "--set", "driveline.note=x"}).code == 0);
}

TEST_CASE("matrix: folders, broken files and the order, by any number of jobs", "[cli]") {
    const WorkingFolder folder;
    write_machines();
    const Json whole = table(yard, {"--jobs", "1"});
    CHECK(whole["total"].get<int>() >= 3);
    CHECK(whole["rows"].size() == whole["total"]);
    write_file("yard/broken.toml", "kind = \"implement\"\nversion = 1\nunit = \"in\"\nname = \"x\"\nheigth = 3\n");
    write_file("yard/worse.toml", "kind = \n");
    write_file("yard/readings.log.toml", "kind = \"log\"\n");
    const Json json = table(yard, {"--jobs", "1"}, 3);
    std::vector<std::string> names = name_rows(json);
    const std::vector<std::string> before = name_rows(whole);
    REQUIRE(names.size() == before.size() + 4);  // a file that cannot be read at all may be any of the three
    CHECK(std::vector<std::string>(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(before.size())) == before);
    for (std::size_t i = 0; i < before.size(); ++i) CHECK(json["rows"][i] == whole["rows"][i]);
    CHECK(json["counts"]["not_read"] == 4);
    CHECK(contains(json.dump(), "heigth"));
    for (const char* jobs : {"2", "5"}) CHECK(table(yard, {"--jobs", jobs}, 3) == json);
    CHECK(matrix(yard, {"--jobs", "3"}).out == matrix(yard, {"--jobs", "1"}).out);
    // A name that is not there is a row as well, a wrong --set or an empty folder stops all.
    CHECK(table({"matrix", "--tractors", "compcat", "--implements", "tiller-5"}, {}, 3)["rows"].size() == 1);
    CHECK(contains(table({"matrix", "--tractors", "yard/more", "--implements", "tiller-5"}, {}, 3)["rows"][0]["text"], "there is no tractor in this folder"));
    CHECK(matrix(small, {"--resume"}).code == 2);
    CHECK(matrix({"matrix", "nosuch"}).code == 3);
}

TEST_CASE("matrix: links in a folder that lead in a circle or nowhere are rows with a problem", "[cli]") {
    const WorkingFolder folder;
    write_machines();
    const std::size_t before = table(yard)["rows"].size();
    std::filesystem::create_symlink("circle.toml", "yard/circle.toml");
    std::filesystem::create_symlink("nowhere", "yard/gone.toml");
    const Json json = table(yard, {}, 3);
    CHECK(json["rows"].size() == before + 6);  // each may be any of the three kinds
    CHECK(json["counts"]["not_read"] == 6);
    CHECK(table({"matrix", "--tractors", "yard/circle.toml", "--implements", "tiller-5"}, {}, 3)["counts"]["not_read"] == 1);
}

TEST_CASE("matrix: a name that a spreadsheet would compute is text in CSV", "[cli]") {
    const WorkingFolder folder;
    write_machines();
    for (const char* name : {"=1+2", "@sum", "+cmd", "-2(3)"}) std::filesystem::copy_file("yard/a-tractor.toml", std::string("yard/") + name + ".toml");
    const std::string csv = matrix({"matrix", "--tractors", "yard", "--implements", "yard/blade.toml"}, {"--format", "csv"}).out;
    for (const char* begin : {"\n'=1+2,", "\n'@sum,", "\n'+cmd,", "\n'-2(3),", "\na-tractor,"}) CHECK(contains(csv, begin));
}

TEST_CASE("matrix: --resume makes only what has changed, and the result is that of one run", "[cli]") {
    const WorkingFolder folder;
    write_machines();
    const auto write = [&](const char* file, const std::vector<std::string>& more) {
        std::vector<std::string> args = {"-o", file, "--format", "json"};
        args.insert(args.end(), more.begin(), more.end());
        const Run result = matrix(yard, args);
        CAPTURE(result.err);
        REQUIRE(result.code == 0);
        return Json::parse(result.out);
    };
    const int rows = write("pairs.json", {})["rows"];
    CHECK(write("pairs.json", {"--resume"})["kept"] == rows);
    CHECK(write("pairs.json", {})["kept"] == 0);
    const Json first = Json::parse(read_file("pairs.json"));
    // Another text of a shaft: its rows are made anew, no others.
    replace_in("yard/short.toml", "name = ", "# looked at once more\nname = ");
    const int with_short = static_cast<int>(std::count_if(first["rows"].begin(), first["rows"].end(), [](const Json& r) { return r["driveline"] == "short"; }));
    REQUIRE(with_short > 0);
    CHECK(write("pairs.json", {"--resume"})["kept"] == rows - with_short);
    write("fresh.json", {});
    CHECK(read_file("pairs.json") == read_file("fresh.json"));
    // Another option is another answer.
    CHECK(write("pairs.json", {"--resume", "--rules", "close"})["kept"] == 0);
    write("fresh.json", {"--rules", "close"});
    CHECK(read_file("pairs.json") == read_file("fresh.json"));
    // A torn last line, and lines that are none, are passed over.
    std::string kept = read_file("pairs.json.rows");
    write_file("pairs.json.rows", "{}\nnonsense\n" + kept.substr(0, kept.size() - 100));
    CHECK(write("pairs.json", {"--resume", "--rules", "close"})["kept"] == rows - 1);
    CHECK(read_file("pairs.json") == read_file("fresh.json"));
    CHECK(split_lines(read_file("pairs.json.rows")).size() == static_cast<std::size_t>(rows));
}

TEST_CASE("matrix: rows of machines that are not named this time stay kept, and without --resume they are put aside", "[cli]") {
    const WorkingFolder folder;
    const auto kept = [](const std::vector<std::string>& args, const std::vector<std::string>& more) {
        std::vector<std::string> all = {"-o", "pairs.json", "--format", "json"};
        all.insert(all.end(), more.begin(), more.end());
        return Json::parse(matrix(args, all).out)["kept"].get<int>();
    };
    const std::vector<std::string> fewer = {"matrix", "--tractors", "compact", "--implements", "box-blade-5"};
    CHECK(kept(small, {"--resume"}) == 0);
    CHECK(kept(fewer, {"--resume"}) == 1);
    CHECK(Json::parse(read_file("pairs.json"))["rows"].size() == 1);
    CHECK(kept(small, {"--resume"}) == 3);
    const std::string rows = read_file("pairs.json.rows");
    CHECK(kept(fewer, {}) == 0);
    CHECK(read_file("pairs.json.rows.old") == rows);
    const Run again = matrix(fewer, {"-o", "pairs.json"});
    CHECK(contains(unwrap(again.err), "the rows of an earlier run are now in pairs.json.rows.old"));
}

TEST_CASE("matrix: rows that were judged by other rules, of other files or not tried are not taken by --resume", "[cli]") {
    const WorkingFolder folder;
    const auto count_kept = [](const std::vector<std::string>& args, const std::vector<std::string>& more = {}) {
        const Run result = matrix(args, [&] {
            std::vector<std::string> all = {"-o", "pairs.json", "--format", "json", "--resume"};
            all.insert(all.end(), more.begin(), more.end());
            return all;
        }());
        CAPTURE(result.err);
        REQUIRE(result.code == 0);
        return Json::parse(result.out)["kept"].get<int>();
    };
    const std::string rules = "kind = \"rules\"\nversion = 1\nunit = \"in\"\nname = \"ours\"\n";
    write_file("ours.toml", rules);
    write_file("own.toml", "kind = \"setup\"\nversion = 1\nunit = \"in\"\nrules = \"./ours.toml\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = \"tiller-5\"\n[driveline]\nuse = \"shaft-31\"\n");
    const std::vector<std::string> own = {"matrix", "own.toml"};
    for (const auto& [args, more, rows] : std::vector<std::tuple<std::vector<std::string>, std::vector<std::string>, int>>{{small, {"--rules", "./ours.toml"}, 3}, {small, {"--set", "rules=./ours.toml"}, 3}, {own, {}, 1}}) {
        CAPTURE(args, more);
        std::filesystem::remove("pairs.json.rows");
        write_file("ours.toml", rules);
        CHECK(count_kept(args, more) == 0);
        CHECK(count_kept(args, more) == rows);
        write_file("ours.toml", rules + "# looked at once more\n");
        CHECK(count_kept(args, more) == 0);
    }
    // A pair that was not tried is not one that was.
    std::filesystem::remove("pairs.json.rows");
    const std::vector<std::string> far = {"matrix", "--tractors", "row-crop", "--implements", "box-blade-5"};
    CHECK(count_kept(far) == 0);
    CHECK(table(far)["rows"][0]["answer"] == "not_tried");
    CHECK(count_kept(far) == 1);
    CHECK(count_kept(far, {"--all"}) == 0);
    CHECK(Json::parse(read_file("pairs.json"))["rows"] == table(far, {"--all"})["rows"]);
}

TEST_CASE("matrix: --set is applied before a pair is asked whether it is worth trying, and is each row's own", "[cli]") {
    const std::vector<std::string> far = {"matrix", "--tractors", "row-crop", "--implements", "tiller-5", "--drivelines", "shaft-28"};
    CHECK(table(far)["rows"][0]["decided_by"] == "category");
    CHECK(table(far, {"--set", "tractor.hitch.category=1"})["rows"][0]["decided_by"] != "category");
    // An item of one tractor only: the other's row says so, whichever comes first.
    for (const char* tractors : {"compact,utility", "utility,compact"}) {
        const Json json = table({"matrix", "--tractors", tractors, "--implements", "box-blade-5"}, {"--set", "tractor.upper_link_pin[4].x=11in"}, 3);
        for (const Json& row : json["rows"]) CHECK((row["answer"] == "not_read") == (row["tractor"] == "compact"));
    }
    // What is set of a shaft is not about an implement without an input.
    const Json shafts = table(small, {"--set", "driveline.note=ours"});
    CHECK(shafts["counts"]["not_read"] == 0);
}

TEST_CASE("matrix: killed or interrupted, what is done is kept and the rest can be done later", "[cli]") {
    const WorkingFolder folder;
    write_machines();
    std::vector<std::string> args = yard;
    args.insert(args.end(), {"--all", "--format", "csv", "-o", "pairs.csv", "--jobs", "2"});
    std::vector<std::string> fresh = yard;
    fresh.insert(fresh.end(), {"--all", "--format", "csv"});
    const std::string whole = run(fresh).out;
    std::vector<std::string> resumed = args;
    resumed.push_back("--resume");
    for (const int signal : {SIGKILL, SIGINT}) {
        CAPTURE(signal);
        std::filesystem::remove("pairs.csv");
        std::filesystem::remove("pairs.csv.rows");
        const pid_t pid = start(args);
        wait_for_row(pid, "pairs.csv.rows");
        REQUIRE(kill(pid, signal) == 0);
        const int code = wait_for(pid);
        // It may have been done before the signal came.
        CHECK((code == 0 || code == (signal == SIGKILL ? -SIGKILL : 130)));
        CHECK(std::filesystem::exists("pairs.csv") == (code == 0));
        CHECK(std::filesystem::file_size("pairs.csv.rows") > 0);
        CHECK(run(resumed).code == 0);
        CHECK(read_file("pairs.csv") == whole);
    }
}

TEST_CASE("matrix: a file that cannot be written is said before anything is computed", "[cli]") {
    const WorkingFolder folder;
    write_file("file", "");
    const Run result = matrix(small, {"-o", "file/below.csv"});
    CHECK(result.code == 4);
    CHECK(contains(unwrap(result.err), "cannot write 'file/below.csv.rows'"));
    const Run missing = matrix(small, {"-o", "nowhere/pairs.csv"});
    CHECK(missing.code == 4);
}
