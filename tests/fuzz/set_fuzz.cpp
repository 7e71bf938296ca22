// `--set`: each line of the input is one KEY=VALUE over a set-up that is built in; the length of the first picks which.
//
// Every problem says which key; the same said twice is the same once, and what has no problem is a set-up of finite
// readings in their ranges, which is judged: the whole answer is JSON by another library, each of its numbers one.
#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include "geometry/analysis.h"
#include "geometry/visit_readings.h"
#include "presets/load_setup.h"
#include "presets/overrides.h"
#include "presets/setup_values.h"
#include "report/json_line.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;

namespace {

constexpr std::string_view bases[] = {"compact-tiller-bottoms-out", "utility-drawn-cutter-fits", "compact-rear-blade-tilted",
                                      "sub-compact-cutter-front-light", "utility-cutter-sheet"};

std::vector<std::string> split_lines(std::string_view input) {
    std::vector<std::string> lines;
    while (!input.empty() && lines.size() < 30) {
        const std::size_t end = std::min(input.find('\n'), input.size());
        lines.emplace_back(input.substr(0, end));
        input.remove_prefix(std::min(end + 1, input.size()));
    }
    return lines;
}

// A path would read the disk.
bool names_path(const std::string& set) { return set.find('/') != std::string::npos && (set.find("use") != std::string::npos || set.starts_with("rules")); }

void check_key(const std::string& set) {
    const auto split = split_key_value(set);
    if (!split) return;
    std::string key;
    for (const KeyPart& part : split->parts) {
        key += (key.empty() ? "" : ".") + part.name;
        if (part.item) key += "[" + *part.item + "]";
    }
    require(key == split->key, "the parts of a key are the key", set);
    require(split->parts.size() <= most_override_depth, "a key is no deeper than allowed", set);
}

void check_problems(const std::vector<Problem>& problems, const std::string& subject) {
    for (const Problem& problem : problems) {
        fuzz::require_sound(problem, subject, false);
        const bool nothing_typed = subject.starts_with('\n') || subject.find("\n\n") != std::string::npos;
        require(!problem.key.empty() || !problem.read.empty() || nothing_typed, "a problem names the key, or what was read", format_problem(problem));
    }
}

void check_readings(Setup setup, const std::string& subject) {
    visit_readings(setup, [&subject](const std::string&, const Reading& r, const FieldSpec& spec) {
        if (!r.known) return;
        require(std::isfinite(r.tolerance) && r.tolerance >= 0.0, "an error is finite, zero or more", subject);
        require(r.value >= spec.least && r.value <= spec.most, "a reading is in its range", subject);
    });
}

// The writer puts a reason in the place of a number that is none.
bool has_no_number(const nlohmann::json& json) {
    if (json.is_string()) return json == "not a finite number";
    return json.is_structured() && std::any_of(json.begin(), json.end(), has_no_number);
}

void check_analysis(const Setup& setup, const std::string& subject) {
    const Analysis analysis = analyze(setup, sixteenth_inch_mark, BandEffort::second_order);
    const std::string answer = format_json_line(make_fit_json(setup, analysis, UnitSystem::inch));
    const auto json = nlohmann::json::parse(answer, nullptr, false);
    require(json.is_object() && json.contains("verdict"), "the answer is JSON with a verdict", subject);
    require(!has_no_number(json), "every number of the answer is finite", subject);
}

}  // namespace

HITCHWRIGHT_FUZZ_LINES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Library library{std::string()};
    const std::string subject(fuzz::as_text(data, size));
    std::vector<std::string> sets = split_lines(subject);
    if (sets.empty() || std::any_of(sets.begin(), sets.end(), names_path)) return -1;
    for (const std::string& set : sets) check_key(set);
    const std::string_view base = bases[sets.front().size() % std::size(bases)];
    const LoadedSetup loaded = load_setup(base, library, {sets, {}, {}});
    check_problems(loaded.problems, subject);
    std::vector<std::string> twice = sets;
    twice.insert(twice.end(), sets.begin(), sets.end());
    const LoadedSetup again = load_setup(base, library, {twice, {}, {}});
    require(again.ok() == loaded.ok(), "said twice it is as right as once", subject);
    if (!loaded.ok()) return 0;
    require(compare_values(loaded.setup, again.setup).empty(), "said twice it is the same as once", subject);
    check_readings(loaded.setup, subject);
    check_analysis(loaded.setup, subject);
    return 0;
}
