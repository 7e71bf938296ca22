// batch: a set-up a line in, an answer a line out, whatever is in the lines.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <csignal>
#include <cstdlib>
#include <string>
#include <vector>

#include <sys/wait.h>
#include <unistd.h>

#include "tests/cli/run.h"
#include "tests/cli/shell.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Run batch(const std::string& input, std::vector<std::string> args = {}) {
    args.insert(args.begin(), "batch");
    World world;
    world.input = input;
    return run(args, world);
}

std::vector<Json> parse_lines(const std::string& text) {
    std::vector<Json> all;
    for (const std::string& line : split_lines(text)) all.push_back(Json::parse(line));
    return all;
}

/// The answer to one line.
Json answer(const std::string& line, const std::vector<std::string>& args = {}) {
    const std::vector<Json> all = parse_lines(batch(line + "\n", args).out);
    REQUIRE(all.size() == 1);
    return all.front();
}

const std::string tiller_line =
    R"({"unit": "in", "origin": "preset", "name": "Compact tractor and tiller: the shaft bottoms out", "rules": "general",)"
    R"( "note": "example, not real machines; measure yours. Way out: cut both halves, --set choices.cut_tractor_half=3.625in --set choices.cut_implement_half=3.625in",)"
    R"( "tractor": {"use": "compact"}, "implement": {"use": "tiller-5"}, "driveline": {"use": "shaft-31"},)"
    R"( "choices": {"upper_link_pin": "2", "mast_pin": "1", "working_band_low": 12, "working_band_high": "1'10\"", "lift_stop": 27}})";

/// A line that is wrong, with what its first error says.
struct Wrong {
    std::string line, says;
};

std::vector<Wrong> wrong_lines() {
    std::string deep(2000, '[');
    return {{"", "there is nothing in it"},
            {"   \r", "there is nothing in it"},
            {"{", "a key in double quotes is missing"},
            {R"({"id" 5})", "the : behind a key is missing"},
            {R"({"id": 5)", "a } or a , is missing"},
            {R"({"id": 5} x)", "something stands behind the value"},
            {R"({"id": NaN})", "this is no value"},
            {R"({"id": Infinity})", "this is no value"},
            {R"({"id": 01})", "this is no value"},
            {R"({"id": "\ud800"})", "a \\u stands for no character"},
            {R"({"id": "\x"})", "a backslash in a text"},
            {"{\"id\": \"a\tb\"}", "a text holds a control character"},
            {std::string("{\"id\": 1\0}", 10), "a } or a , is missing"},
            {"{\"id\": \"\xff\"}", "this is not UTF-8 text"},
            {R"({"id": )" + deep, "the nesting is too deep"},
            {"[1, 2]", "a line is one object"},
            {"17", "a line is one object"},
            {R"({"setup": 17})", "this is no name"},
            {R"({"setup": "no-such-set-up"})", "there is no set-up of that name"},
            {R"({"setup": "/no/such/file.toml"})", "there is no such file"},
            {R"({"setup": "compact-box-blade", "sett": {}})", "this stands beside \"setup\""},
            {R"({"setup": "compact-box-blade", "set": 3})", "this is no object"},
            {R"({"setup": "compact-box-blade", "set": {"choices.lift_stop": [1]}})", "this is not one value"},
            {R"({"setup": "compact-box-blade", "set": {"choices.lift_stp": 1}})", "there is no such key"},
            {R"({"setup": "compact-box-blade", "rules": "no-such-rules"})", "there is no rule set of that name"},
            {"{}", "this table is missing"},
            {R"({"tractor": {"use": "compact"}, "tractor": {"use": "utility"}, "implement": {"use": "tiller-5"}})", "this name was given before"},
            {R"({"tractor": {"use": null}, "implement": {"use": "tiller-5"}})", "null is no value"},
            {R"({"tractor": {"use": "compact", "pto": {"stub_x": 1e999}}, "implement": {"use": "tiller-5"}, "unit": "mm"})", "not a finite number"},
            {R"({"kind": "tractor", "name": "x"})", "a file of kind setup is wanted here"},
            {R"({"id": ")" + std::string(2000000, 'x') + "\"}", "the line is too long"}};
}

}  // namespace

TEST_CASE("batch: one answer a line, in the order of the lines, the same by any number of jobs", "[cli]") {
    std::string input;
    int count = 0;
    for (int round = 0; round < 3; ++round) {
        for (const char* name : {"compact-box-blade", "compact-tiller-bottoms-out", "utility-drawn-cutter-short"}) {
            input += "{\"id\": " + std::to_string(count + 1) + ", \"setup\": \"" + name + "\"}\n{\"id\": [\"bad\", " + std::to_string(count + 2) + "]}\n";
            count += 2;
        }
    }
    const Run one = batch(input, {"--jobs", "1"});
    CHECK(one.code == 0);
    CHECK(unwrap(one.err) == "hitchwright: 9 of 18 lines without a verdict: \"errors\" of the answer says why.");
    const std::vector<Json> answers = parse_lines(one.out);
    REQUIRE(answers.size() == 18);
    for (std::size_t i = 0; i < answers.size(); ++i) {
        CHECK(answers[i]["line"] == i + 1);
        CHECK(answers[i]["id"] == (i % 2 == 0 ? Json(i + 1) : Json::array({"bad", i + 1})));
        CHECK(answers[i].contains("verdict") == (i % 2 == 0));
        CHECK(answers[i].contains("errors") == (i % 2 == 1));
    }
    CHECK(answers[2]["verdict"] == "fits_after_change");
    for (const char* jobs : {"2", "4", "7"}) CHECK(batch(input, {"--jobs", jobs}).out == one.out);
    CHECK(batch(input, {"--strict"}).code == 3);
    CHECK(batch("", {"--strict"}).out.empty());
}

TEST_CASE("batch: the full answer is that of fit, by name and typed into the line", "[cli]") {
    const Json fit = Json::parse(run({"fit", "compact-tiller-bottoms-out", "--format", "json"}).out);
    CHECK(answer(R"({"setup": "compact-tiller-bottoms-out"})", {"--full"})["fit"] == fit);
    Json typed = answer(tiller_line, {"--full"})["fit"];
    CHECK(typed["setup"]["key"] == "");
    typed["setup"]["key"] = fit["setup"]["key"];
    CHECK(typed == fit);
    const Json set = Json::parse(run({"fit", "compact-tiller-bottoms-out", "--set", "choices.lift_stop=26in", "--set", "choices.mast_pin=", "--rules", "close", "--units", "mm", "--format", "json"}).out);
    CHECK(answer(R"({"setup": "compact-tiller-bottoms-out", "set": {"choices.lift_stop": "26in", "choices.mast_pin": null}, "rules": "close"})", {"--full", "--units", "mm"})["fit"] == set);
    // Options stand for all lines; what a line says itself goes before them.
    CHECK(answer(R"({"setup": "compact-tiller-bottoms-out", "set": {"choices.mast_pin": null}})", {"--full", "--units", "mm", "--set", "choices.lift_stop=26in", "--rules", "close"})["fit"] == set);
    CHECK(answer(R"({"setup": "compact-tiller-bottoms-out", "set": {"choices.lift_stop": "26in", "choices.mast_pin": null}, "rules": "close"})",
                 {"--full", "--units", "mm", "--set", "choices.lift_stop=20in", "--rules", "general"})["fit"] == set);
}

TEST_CASE("batch: the brief answer has the numbers, findings and cautions of the full one", "[cli]") {
    const Json fit = Json::parse(run({"fit", "compact-tiller-bottoms-out", "--format", "json"}).out);
    const Json brief = answer(R"({"setup": "compact-tiller-bottoms-out"})");
    for (const char* key : {"verdict", "text", "steps"}) CHECK(brief[key] == fit[key]);
    CHECK(brief["numbers"]["gap_mm"] == fit["cut"]["uncut"]["gap_mm"]);
    CHECK(brief["numbers"]["cut_answer"] == fit["cut"]["answer"]);
    CHECK(brief["numbers"]["upper_link_mm"] == fit["linkage"]["upper_link"]["length_mm"]);
    std::vector<std::string> words, named;
    for (const Json& f : fit["findings"]) {
        if (f["severity"] != "good") words.push_back(f["kind"]);
    }
    for (const Json& f : brief["findings"]) named.push_back(f["kind"]);
    CHECK(named == words);
    REQUIRE(brief["cautions"].size() == fit["cautions"].size());
    for (std::size_t i = 0; i < fit["cautions"].size(); ++i) CHECK(brief["cautions"][i] == fit["cautions"][i]["word"]);
}

TEST_CASE("batch: a bad line has all its errors and stops nothing", "[cli]") {
    const WorkingFolder folder;
    std::string input;
    const std::vector<Wrong> wrong = wrong_lines();
    for (const Wrong& w : wrong) input += w.line + "\n{\"setup\": \"compact-box-blade\"}\n";
    const Run result = batch(input, {"--jobs", "3"});
    CHECK(result.code == 0);
    const std::vector<Json> answers = parse_lines(result.out);
    REQUIRE(answers.size() == 2 * wrong.size());
    for (std::size_t i = 0; i < wrong.size(); ++i) {
        CAPTURE(wrong[i].line.substr(0, 100), answers[2 * i].dump().substr(0, 400));
        CHECK(answers[2 * i]["line"] == 2 * i + 1);
        REQUIRE(answers[2 * i].contains("errors"));
        CHECK(contains(answers[2 * i]["errors"][0]["message"].get<std::string>(), wrong[i].says));
        CHECK(answers[2 * i + 1]["verdict"] == answers[1]["verdict"]);
    }
}

TEST_CASE("batch: keys, ranges and sentences are those of a file", "[cli]") {
    const WorkingFolder folder;
    write_file("wrong.toml",
               "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compct\"\n[implement]\nuse = \"tiller-5\"\nmast_pin = 4\n"
               "[choices]\nlift_stp = 27\nworking_band_low = \"12 miles\"\nlift_stop = 900\npto_speed_rpm = 5.5\n");
    const Json file = Json::parse(run({"fit", "wrong.toml", "--format", "json"}).out);
    const Json line = answer(
        R"({"unit": "in", "tractor": {"use": "compct"}, "implement": {"use": "tiller-5", "mast_pin": 4},)"
        R"( "choices": {"lift_stp": 27, "working_band_low": "12 miles", "lift_stop": 900, "pto_speed_rpm": 5.5}})");
    REQUIRE(file["problems"].size() >= 5);
    REQUIRE(line["errors"].size() == file["problems"].size());
    std::vector<Json> a, b;
    for (Json p : file["problems"]) {
        p.erase("file"), p.erase("line"), p.erase("column");
        a.push_back(p);
    }
    for (Json p : line["errors"]) {
        CHECK(p["file"] == "standard input");
        CHECK(p["line"] == 1);
        CHECK(p["column"].is_number());
        p.erase("file"), p.erase("line"), p.erase("column");
        b.push_back(p);
    }
    std::sort(a.begin(), a.end());
    std::sort(b.begin(), b.end());
    CHECK(a == b);
}

TEST_CASE("batch: an id comes back as it is", "[cli]") {
    for (const char* id : {"null", "true", "-0", "12345678901234567890123456789", "1e999", "1.50", R"("a\"\\\u0000\u202e")", R"({"a":[1,{"b":null}],"c":"\ud83d\ude9c"})"}) {
        const std::string text = batch(std::string("{\"setup\": \"compact-box-blade\", \"id\": ") + id + "}\n").out;
        CHECK(text.starts_with(std::string("{\"line\":1,\"id\":") + id + ",\"name\":"));
    }
    // Also where the line is broken behind it.
    CHECK(batch("{\"id\": \"\xc3\xa9\", \"setup\": oh}\n").out.starts_with(R"({"line":1,"id":"\u00e9","errors":[)"));
}

TEST_CASE("batch: docs/json.md has every key", "[cli]") {
    const auto check = [](const Json& json, const std::string& shape) {
        std::set<std::string> written, documented;
        collect(json, "", written);
        expand(read_shapes(), shape, "", documented);
        CHECK(difference(written, documented) == std::set<std::string>{});
        CHECK(difference(documented, written) == std::set<std::string>{});
    };
    Json brief = answer(R"({"id": 1, "setup": "compact-tiller-bottoms-out"})");
    check(brief, "batch");
    check(answer("{}"), "batch, a line with errors");
}

TEST_CASE("batch: a wrong command line and a help are as with every command", "[cli]") {
    CHECK(batch("", {"--jobs", "0"}).code == 2);
    CHECK(batch("", {"--jobs", "many"}).code == 2);
    CHECK(batch("", {"setups.jsonl"}).code == 2);
    CHECK(batch("", {"--format", "text"}).code == 2);
}

#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
TEST_CASE("batch: memory does not grow with the number of lines", "[cli]") {
    // 200000 lines with ids of 500 characters: answers of 140 MB, with 40 MB to work in.
    const WorkingFolder folder;
    const std::string id(500, 'x');
    CHECK(shell("ulimit -d 40000; yes '{\"id\": \"" + id + "\", \"setup\": 1}' | head -n 200000 | \"$HW\" batch --jobs 2 2>err | tail -n 1 >out; exit ${PIPESTATUS[2]}") == 0);
    CHECK(Json::parse(read_file("out"))["line"] == 200000);
}
#endif

TEST_CASE("batch: a closed pipe ends it without a word, and not as if all were well", "[cli]") {
    const WorkingFolder folder;
    for (const char* jobs : {"1", "3"}) {
        CHECK(shell(std::string("yes '{\"setup\": 1}' | \"$HW\" batch --jobs ") + jobs + " 2>err | head -n 3 >out; exit ${PIPESTATUS[1]}") == 4);
        CHECK(split_lines(read_file("out")).size() == 3);
        CHECK(read_file("err").empty());
    }
    CHECK(shell("echo '{}' | \"$HW\" batch >/dev/full 2>err") == 4);
    CHECK(contains(read_file("err"), "the output could not be written"));
}

TEST_CASE("batch: GNU parallel runs it, and the answers are those of one run", "[cli]") {
    const WorkingFolder folder;
    std::string input;
    for (int i = 0; i < 40; ++i) input += "{\"id\": " + std::to_string(i) + ", \"setup\": \"" + (i % 8 == 0 ? "compact-box-blade" : "no-such") + "\"}\n";
    write_file("in", input);
    REQUIRE(shell("command -v parallel >/dev/null") == 0);  // package parallel, .ci/setup.sh
    REQUIRE(shell("HOME=$PWD parallel --will-cite --keep-order --jobs 2 --pipe -N 7 '\"$HW\" batch --jobs 1' <in >many 2>err") == 0);
    const std::vector<Json> many = parse_lines(read_file("many")), one = parse_lines(batch(input).out);
    REQUIRE(many.size() == one.size());
    for (std::size_t i = 0; i < one.size(); ++i) {
        CHECK(many[i]["line"] == i % 7 + 1);  // of its own part of the input: the id is what tells lines apart
        Json a = many[i], b = one[i];
        for (Json* json : {&a, &b}) {
            json->erase("line");
            if (json->contains("errors")) (*json)["errors"][0].erase("line");
        }
        CHECK(a == b);
    }
}

namespace {

/// The program with pipes on input and output.
class BatchChild {
public:
    BatchChild() {
        std::array<int, 2> to{}, from{}, errors{};
        REQUIRE(pipe(to.data()) == 0);
        REQUIRE(pipe(from.data()) == 0);
        REQUIRE(pipe(errors.data()) == 0);
        pid_ = fork();
        REQUIRE(pid_ >= 0);
        if (pid_ == 0) {
            dup2(to[0], STDIN_FILENO);
            dup2(from[1], STDOUT_FILENO);
            dup2(errors[1], STDERR_FILENO);
            alarm(120);  // never hangs a run of the tests
            for (const int end : {to[0], to[1], from[0], from[1], errors[0], errors[1]}) close(end);
            execl(HITCHWRIGHT_PROGRAM, "hitchwright", "batch", "--jobs", "2", static_cast<char*>(nullptr));
            _exit(127);
        }
        close(to[0]);
        close(from[1]);
        close(errors[1]);
        in_ = to[1];
        out_ = from[0];
        err_ = errors[0];
    }
    ~BatchChild() {
        close(in_);
        close(out_);
        close(err_);
    }
    BatchChild(const BatchChild&) = delete;
    BatchChild& operator=(const BatchChild&) = delete;

    void type(const std::string& text) const { REQUIRE(write(in_, text.data(), text.size()) == static_cast<ssize_t>(text.size())); }
    std::string read_line() const { return read_line_of(out_); }
    std::string read_error() const { return read_line_of(err_); }
    void interrupt() const { REQUIRE(kill(pid_, SIGINT) == 0); }
    int end() const {
        int status = 0;
        REQUIRE(waitpid(pid_, &status, 0) == pid_);
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }

private:
    static std::string read_line_of(int end) {
        std::string line;
        for (char c = 0; read(end, &c, 1) == 1 && c != '\n';) line += c;
        return line;
    }
    pid_t pid_ = -1;
    int in_ = -1, out_ = -1, err_ = -1;
};

}  // namespace

TEST_CASE("batch: each answer leaves as soon as it is there, and Ctrl-C ends it between lines", "[cli]") {
    const BatchChild child;
    for (int i = 1; i <= 5; ++i) {
        child.type("{\"setup\": \"compact-box-blade\"}\n");
        CHECK(Json::parse(child.read_line())["line"] == i);  // though the input stays open
    }
    child.type("{\"setup\"");
    child.interrupt();
    CHECK(child.read_line().empty());
    CHECK(child.end() == 130);
}

TEST_CASE("batch: the answer to a line that is wrong throughout stays short", "[cli]") {
    std::string line = "{\"id\": 1, \"setup\": \"compact-box-blade\", \"set\": {";
    for (int i = 0; i < 1000; ++i) line += (i == 0 ? "\"k" : ", \"k") + std::to_string(i) + "\": [1]";
    const Json many = answer(line + "}}");
    CHECK(many["errors"].size() == 50);
    CHECK(many["more_errors"].get<int>() >= 950);
    const Json large = answer(R"({"setup": "compact-box-blade", "set": {"choices.lift_stop": [")" + std::string(500000, 'x') + "\"]}}");
    CHECK(large["errors"][0]["read"].get<std::string>().size() == 203);
    const Json wide = answer(R"({"setup": "compact-box-blade", ")" + std::string(500000, 'k') + "\": 1}");
    CHECK(wide.dump().size() < 3000);
    CHECK_FALSE(answer("{}").contains("more_errors"));
}

TEST_CASE("batch: the first Ctrl-C says what is awaited, the second ends it at once", "[cli]") {
    const BatchChild child;
    // Nobody reads the answers: once the pipe is full, writing them never ends.
    for (int i = 0; i < 200; ++i) child.type("{\"setup\": \"compact-tiller-bottoms-out\"}\n");
    CHECK(Json::parse(child.read_line())["line"] == 1);
    child.interrupt();
    CHECK(contains(child.read_error(), "Ctrl-C once more ends at once"));
    child.interrupt();
    CHECK(child.end() == 130);
}

TEST_CASE("batch: an input that cannot be read is an error, not the end of the input", "[cli]") {
    const WorkingFolder folder;
    CHECK(shell("\"$HW\" batch < . > out 2> err") == 4);
    CHECK(contains(read_file("err"), "the input cannot be read"));
    CHECK(shell("\"$HW\" batch <&- > out 2> err") == 4);
    CHECK(contains(read_file("err"), "the input cannot be read"));
    CHECK(shell("\"$HW\" batch < /dev/null > out 2> err") == 0);
}
