// new for implements on the drawbar: options, a dialogue that listens, what the file says, and what fit makes of it.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <set>
#include <sstream>
#include <streambuf>
#include <string>
#include <vector>

#include "cli/interview.h"
#include "presets/load_setup.h"
#include "presets/setup_draft.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Parts of what only the three-point linkage has; none may stand in a drawn file or be asked for.
const std::vector<std::string> linkage_words = {
    "lower_link", "upper_link", "lift_arm", "lift_rod", "ball_height",    "ball_reading",   "mast_pin",  "cab_line",
    "coupler",    "lift_stop",  "bushing",  "category", "out_of_the_way", "direct_reading", "lower pins"};

/// A person at the keyboard: reads the question behind the last prompt, and answers it.
class Person : public std::streambuf {
public:
    using Answers = std::vector<std::pair<std::string, std::string>>;

    Person(std::ostringstream& screen, Answers answers) : screen_(screen), left_(std::move(answers)) {}

    Answers left() const { return left_; }
    std::vector<std::string> needed_open;  ///< questions with a * that found no answer
    std::size_t asked = 0;

protected:
    int_type underflow() override {
        const std::string all = screen_.str(), question = unwrap(all.substr(seen_));
        seen_ = all.size();
        typed_ = find_answer(question) + "\n";
        ++asked;
        setg(typed_.data(), typed_.data(), typed_.data() + typed_.size());
        return traits_type::to_int_type(typed_.front());
    }

private:
    // Each answer is given once, in the order of the list for questions that are alike.
    std::string find_answer(const std::string& question) {
        const bool marked = question.find(" * >") != std::string::npos;
        for (auto at = left_.begin(); at != left_.end(); ++at) {
            if (question.find(at->first) == std::string::npos) continue;
            const std::string answer = at->second;
            left_.erase(at);
            return answer;
        }
        if (marked) needed_open.push_back(question);
        return {};
    }

    std::ostringstream& screen_;
    Answers left_;
    std::size_t seen_ = 0;
    std::string typed_;
};

/// The readings of the demo that fits, in the words of the questions: what is needed, and names of items.
Person::Answers needed_answers() {
    return {{"mounted or drawn?", "drawn"},
            {"hub centre and the end of the PTO stub", "14"},
            {"floor to the centre of the PTO stub", "25 1/4"},
            {"floor to the top of the drawbar at the pin", "17"},
            {"next position of the drawbar's pin", "hole 1"},
            {"position hole 1: straight edge", "14"},
            {"centre of the hitch pin to the end of the input", "25 1/4"},
            {"to the centre of the input shaft's end", "3.25"},
            {"between which points", "joint_centres"},
            {"pushed fully home", "28 in"},
            {"free tube of the tractor half", "20"},
            {"tractor end: end of the machine's shaft", "1"},
            {"implement end: end of the machine's shaft", "1"}};
}

struct Talk {
    InterviewResult result;
    std::string screen;
    Person::Answers left;
    std::vector<std::string> needed_open;
    std::size_t asked = 0;
};

Talk talk(Person::Answers answers, SetupDraft draft = {}, const KnownAnswers& known = {},
          const std::string& folder = {}) {
    std::ostringstream screen;
    Person person(screen, std::move(answers));
    std::istream in(&person);
    Talk t;
    t.result = hold_interview(in, screen, std::move(draft), known, Library{}, folder);
    t.screen = screen.str();
    t.left = person.left();
    t.needed_open = person.needed_open;
    t.asked = person.asked;
    return t;
}

Setup load(const std::string& path) {
    const LoadedSetup loaded = load_setup("./" + path, Library{});
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(format_problem(p));
    CHECK(loaded.ok());
    return loaded.setup;
}

nlohmann::json fit(const std::string& path, int& code) {
    const Run run_fit = run({"fit", path, "--format", "json"});
    code = run_fit.code;
    CAPTURE(run_fit.err);
    return nlohmann::json::parse(run_fit.out);
}

}  // namespace

TEST_CASE("new: a drawn implement measured from nothing: the questions marked needed are enough for a verdict",
          "[cli]") {
    const WorkingFolder folder;
    const Talk t = talk(needed_answers());
    CHECK(t.left.empty());
    CHECK(t.needed_open.empty());
    CHECK_FALSE(t.result.ended_early);
    for (const std::string& word : linkage_words) {
        CAPTURE(word);
        CHECK_FALSE(contains(t.screen, word));
    }
    // What a person types is not echoed here: a prompt and the next question stand in one line.
    for (const std::string& line : split_lines(t.screen))
        CHECK(line.substr(line.starts_with("  > ") ? 4 : 0).size() <= 80);
    write_file("mine.toml", format_setup_draft(t.result.draft));
    const Setup setup = load("mine.toml");
    CHECK(setup.implement.attachment == Attachment::drawn);
    CHECK(setup.rules.key == "drawn-machine");
    REQUIRE(setup.tractor.drawbar_pins.size() == 1);
    CHECK(std::fabs(setup.tractor.drawbar_pins[0].length.value - 14 * 0.0254) < 1e-12);
    CHECK(std::fabs(setup.implement.pic.x.value - 25.25 * 0.0254) < 1e-12);
    int code = -1;
    const nlohmann::json answer = fit("mine.toml", code);
    CHECK(answer.at("verdict") != "not_known");
    CHECK((code == 0 || code == 1));
    // Nothing else is missing on the card, and the drawbar's positions can be ranked.
    CHECK(contains(run({"measure", "mine.toml"}).out, "Every reading an answer depends on has a value"));
    const int drawbar = run({"drawbar", "mine.toml"}).code;
    CHECK((drawbar == 0 || drawbar == 1));
    // Each of them counts: without it the verdict is not known. (Joint offsets have an assumed value with a wide
    // error.)
    for (const char* key : {"tractor.pto.stub_x", "tractor.pto.stub_z", "tractor.drawbar.top_height", "implement.pic.x",
                            "implement.pic.z", "driveline.shaft.closed_length", "driveline.shaft.tractor_tube"}) {
        CAPTURE(key);
        const Run without = run({"fit", "mine.toml", "--set", std::string(key) + "="});
        CHECK(without.code == 5);
        CHECK(contains(without.out, key));
    }
}

TEST_CASE("new: the needed keys of a drawn file, typed into it, give a verdict", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "--kind", "drawn-pto", "-o", "a.toml"}).code == 0);
    std::string text = read_file("a.toml");
    for (const std::string& word : linkage_words) {
        CAPTURE(word);
        CHECK_FALSE(contains(text, word));
    }
    for (const std::string& line : split_lines(text)) CHECK(line.size() <= 110);
    const std::map<std::string, std::string> values = {
        {"stub_x", "14"},        {"stub_z", "25.25"},    {"top_height", "17"},
        {"x", "25.25"},          {"z", "3.25"},          {"reference", "\"joint_centres\""},
        {"closed_length", "28"}, {"tractor_tube", "20"}, {"offset", "1"}};
    std::string filled;
    bool marked = false;
    std::size_t typed = 0;
    for (const std::string& line : split_lines(text)) {
        const bool key_line = line.starts_with("# ") && line.ends_with(" =");
        const auto value = key_line ? values.find(line.substr(2, line.size() - 4)) : values.end();
        // Blocks of lists stay comments; only the drawbar's is written by hand below.
        const bool in_block = contains(filled, "[[") && filled.rfind("# [[") > filled.rfind("\n[") &&
                              filled.rfind("# [[") != std::string::npos;
        if (marked && key_line && !in_block && value != values.end()) {
            filled += value->first + " = " + value->second + "\n";
            ++typed;
        } else {
            filled += line + "\n";
        }
        marked = line.ends_with("NEEDED");
    }
    CHECK(typed == 10);
    filled += "\n[[tractor.drawbar_pin]]\nname = \"only\"\nlength = 14\n";
    write_file("b.toml", filled);
    int code = -1;
    CHECK(fit("b.toml", code).at("verdict") != "not_known");
    CHECK((code == 0 || code == 1));
}

TEST_CASE("new: drawn presets are fit for a verdict once the position of the pin is chosen", "[cli]") {
    const WorkingFolder folder;
    std::size_t tried = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(HITCHWRIGHT_SOURCE_DIR) + "/presets/implements/drawn")) {
        const std::string name = entry.path().stem().string(), file = name + ".toml";
        CAPTURE(name);
        const Run made =
            run({"new", "--tractor", "utility", "--implement", name, "--driveline", "shaft-31", "-o", file});
        REQUIRE(made.code == 0);
        CHECK(contains(made.out, "hitchwright drawbar " + file));
        const std::string text = read_file(file);
        for (const std::string& word : linkage_words) {
            CAPTURE(word);
            CHECK_FALSE(contains(text, word));
        }
        CHECK(contains(text, "rules = \"drawn-machine\""));
        const std::size_t pin = text.find("\n# drawbar_pin =\n");
        REQUIRE(pin != std::string::npos);
        CHECK(text.substr(0, pin).ends_with("NEEDED"));
        int code = -1;
        const Run open = run({"fit", file});
        CHECK((open.code == 5 || open.code == 1));  // 1: the speeds of PTO and implement differ
        CHECK(contains(unwrap(open.out), "Name one of the positions there are: --set choices.drawbar_pin=NAME"));
        write_file("chosen.toml", text.substr(0, pin) + "\ndrawbar_pin = \"middle\"\n" + text.substr(pin + 17));
        const nlohmann::json answer = fit("chosen.toml", code);
        CHECK((code == 0 || code == 1 || answer.at("verdict") == "too_close_to_call"));
        ++tried;
    }
    CHECK(tried >= 8);
}

TEST_CASE("new: a dialogue with a drawn preset asks for the choices of a drawn job and names the positions there are",
          "[cli]") {
    SetupDraft draft;
    draft.tractor = "utility";
    const Talk t = talk({{"Which implement", "round-baler"},
                         {"Which driveline", "shaft-31"},
                         {"ditch or ridge", "yes"},
                         {"is hitched in", "middle"},
                         {"depth of the ditch", "12"},
                         {"slope of its sides", "20"}},
                        draft, {true, true, true, false, false});
    CHECK(t.left.empty());
    CHECK(t.needed_open.empty());
    CHECK(contains(unwrap(t.screen), "hitched in (short, middle, long)"));
    CHECK_FALSE(contains(t.screen, "Is it carried"));
    CHECK_FALSE(contains(t.screen, "ball height"));
    CHECK(t.result.draft.drawn);
    const LoadedSetup loaded = load_setup_draft(t.result.draft, Library{}, {});
    REQUIRE(loaded.ok());
    CHECK(loaded.setup.choices.drawn.drawbar_pin == "middle");
    CHECK(std::fabs(loaded.setup.choices.drawn.ditch.depth.value - 12 * 0.0254) < 1e-12);
    CHECK(loaded.setup.has_driveline);
}

TEST_CASE("new: front axle and ditch are asked for when there is a ditch, a bearing when there is one", "[cli]") {
    Person::Answers answers = needed_answers();
    const Talk without = talk(answers);
    for (const char* part : {"front hub", "depth of the ditch", "Tractor: front axle", "joint of the fixed shaft"})
        CHECK_FALSE(contains(unwrap(without.screen), part));
    const Person::Answers more = {{"bearing on the tongue, with", "yes"},
                                  {"ditch or ridge", "yes"},
                                  {"front end of the bearing's shaft, behind", "12"},
                                  {"above the middle of the hitch joint", "5"},
                                  {"joint of the fixed shaft", "1"},
                                  {"floor to rear hub", "29"},
                                  {"right rear tyre", "62"},
                                  {"floor to front hub", "18"},
                                  {"right front tyre", "58"},
                                  {"front axle rocks", "20"},
                                  {"front hub to rear hub", "85"},
                                  {"next wheel or skid", "wheels"},
                                  {"hitch pin to the axle", "130"},
                                  {"joint to the axle's centre", "-4 3/4"},
                                  {"half the distance between the left", "50"},
                                  {"depth of the ditch", "14"},
                                  {"slope of its sides", "25"}};
    answers.insert(answers.end(), more.begin(), more.end());
    const Talk with = talk(answers);
    CHECK(with.left.empty());
    CHECK(with.needed_open.empty());
    const WorkingFolder folder;
    write_file("mine.toml", format_setup_draft(with.result.draft));
    CHECK(load("mine.toml").implement.drawn.steady_bearing.fitted);
    const int code = run({"ditch", "mine.toml"}).code;
    CHECK((code == 0 || code == 1));
    // Each of the needed ones counts for the ditch.
    for (const char* key :
         {"tractor.tyre.front_pivot_height", "tractor.mass.wheelbase", "implement.ground_contact[wheels].half_track"}) {
        CAPTURE(key);
        const Run open = run({"ditch", "mine.toml", "--set", std::string(key) + "="});
        CHECK(open.code == 5);
        CHECK(contains(open.out, key));
    }
}

TEST_CASE("new: a position that the drawbar does not have is asked for again, with those it has", "[cli]") {
    const WorkingFolder folder;
    const Run result = run({"new", "--ask", "--name", "x", "--units", "in", "--tractor", "utility", "--implement",
                            "round-baler", "--driveline", "shaft-31", "-o", "a.toml"},
                           {false, {}, "no\n\n?\nmiddl\nmiddle\n"});
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(
        unwrap(result.err),
        "\"middl\" was read: the drawbar has no position of that name; allowed: short, middle, long; nearest: middle"));
    CHECK(contains(result.err, "  allowed: (short, middle, long)\n"));
    CHECK(load("a.toml").choices.drawn.drawbar_pin == "middle");
}

TEST_CASE("new: --kind and --implement that contradict each other are refused, and no file is left", "[cli]") {
    const WorkingFolder folder;
    const struct {
        std::vector<std::string> args;
        int code;
        const char* says;
    } cases[] = {
        {{"new", "--kind", "drawn"}, 2, "drawn-pto"},
        {{"new", "--kind", ""}, 2, "mounted-blade, drawn-pto"},
        {{"new", "--kind", "drawn-pto\x1b[31m"}, 2, "drawn-pto"},
        {{"new", "--kind", "\xff\xfe"}, 2, "drawn-pto"},
        {{"new", "--kind", "drawn-pto", "--kind", "mounted-pto"}, 2, "once is allowed"},
        {{"new", "--kind", "mounted-pto", "--implement", "round-baler"}, 2, "give --kind or --implement"},
        {{"new", "--kind", "drawn-pto", "--implement", "tiller-5"}, 2, "give --kind or --implement"},
        {{"new", "--kind", "drawn-pto", "--driveline", "none"}, 2, "allowed with this --kind"},
        {{"new", "--kind", "mounted-blade", "--driveline", "shaft-31"}, 2, "mounted-blade has no shaft"},
        {{"new", "--kind", "drawn-pto", "--tractor", "utilty"}, 3, "utility"},
        {{"new", "--implement", "round-bailer"}, 3, "round-baler"},
    };
    for (const auto& c : cases) {
        CAPTURE(show(c.args));
        const Run result = run(c.args);
        CHECK(result.code == c.code);
        CHECK(result.out.empty());
        CHECK(result.err.find('\x1b') == std::string::npos);
        CHECK(contains(unwrap(result.err), c.says));
    }
    CHECK(std::filesystem::is_empty("."));
}

TEST_CASE("new: --kind says what a measured implement is", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "--kind", "mounted-pto", "-o", "pto.toml"}).code == 0);
    REQUIRE(run({"new", "-o", "plain.toml"}).code == 0);
    CHECK(read_file("pto.toml") == read_file("plain.toml"));
    REQUIRE(run({"new", "--kind", "mounted-blade", "-o", "blade.toml"}).code == 0);
    REQUIRE(run({"new", "--implement", "measured", "--driveline", "none", "-o", "none.toml"}).code == 0);
    CHECK(read_file("blade.toml") == read_file("none.toml"));
    REQUIRE(run({"new", "--kind", "drawn-pto", "--implement", "measured", "--rules", "general", "--units", "mm", "-o",
                 "drawn.toml"})
                .code == 0);
    const Setup drawn = load("drawn.toml");
    CHECK(drawn.implement.attachment == Attachment::drawn);
    CHECK((drawn.implement.pic.fitted && drawn.has_driveline));
    CHECK(drawn.rules.key == "general");
    // In a dialogue it settles how the implement is hitched and driven.
    const Run asked =
        run({"new", "--kind", "drawn-pto", "--ask", "-o", "asked.toml"}, {false, {}, "rig\nin\n\n\nno\nno\n29\n"});
    CHECK(asked.code == 0);
    for (const char* question : {"Is it carried", "Is the implement driven", "Which implement"})
        CHECK_FALSE(contains(asked.err, question));
    CHECK(std::fabs(load("asked.toml").tractor.tyre.rear_radius.value - 29 * 0.0254) < 1e-12);
    CHECK(load("asked.toml").implement.attachment == Attachment::drawn);
}

TEST_CASE("new: every key of a drawn card stands in the drawn file, and each is read there", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "--kind", "drawn-pto", "-o", "mine.toml"}).code == 0);
    const std::string text = read_file("mine.toml");
    std::size_t found = 0;
    const nlohmann::json card = nlohmann::json::parse(run({"measure", "mine.toml", "--format", "json"}).out);
    for (const nlohmann::json& reading : card.at("readings")) {
        const std::string key = reading.at("key");
        CAPTURE(key);
        const std::string open = "# " + key.substr(key.rfind('.') + 1) + " =";
        CHECK((contains(text, open + "\n") || contains(text, open + "  # ")));
        ++found;
    }
    CHECK(found > 60);
    // A bearing is a block of its own, ready to be switched on by taking the # away.
    CHECK(contains(text, "\n# [implement.steady_bearing]\n"));
}

TEST_CASE("new: a drawn dialogue survives rubbish, control characters and an end anywhere", "[cli][random]") {
    const std::vector<std::string> words = {"",
                                            "1",
                                            "21",
                                            "nan",
                                            "-1e300",
                                            "3/0",
                                            "yes",
                                            "no",
                                            "?",
                                            "<",
                                            "\x1b[2J",
                                            "\xff\xfe",
                                            "drawn",
                                            "mounted",
                                            "12in",
                                            "540, 1000",
                                            "joint_centres",
                                            "ball",
                                            "clevis",
                                            "wide_angle",
                                            "middle",
                                            "\"",
                                            "\\",
                                            "]]",
                                            "= 3",
                                            "#",
                                            "a\tb",
                                            std::string(5000, 'x'),
                                            "14 1/2 +- 1/8",
                                            "-3",
                                            "25 deg",
                                            "1000 lb",
                                            "round-baler",
                                            "utility",
                                            "none"};
    const unsigned seed = 4711;
    CAPTURE(seed);
    std::mt19937 random(seed);
    for (int trial = 0; trial < 12; ++trial) {
        const WorkingFolder folder;
        std::string input =
            trial % 2 == 0 ? "rig\nin\n\n\ndrawn\nyes\n\nyes\nyes\n" : "rig\nmm\nutility\nround-baler\nshaft-31\nyes\n";
        const std::size_t lines = 5 + random() % 70;
        for (std::size_t i = 0; i < lines; ++i) input += words[random() % words.size()] + "\n";
        if (trial % 3 == 0) input.resize(input.size() - 1);
        CAPTURE(trial, input);
        const Run result = run({"new", "--ask", "-o", "mine.toml"}, {false, {}, input});
        CHECK(result.code == 0);
        CHECK(result.err.find('\x1b') == std::string::npos);
        CHECK(load("mine.toml").implement.attachment == Attachment::drawn);
        const int code = run({"fit", "mine.toml"}).code;
        CHECK((code == 0 || code == 1 || code == 5));
    }
}
