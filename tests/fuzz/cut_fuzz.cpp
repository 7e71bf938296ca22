// `cut` from numbers typed on the command line: each line "OPTION VALUE" is an option of it (--closed 31 in).
//
// The answer is judged by the arithmetic of two tubes alone: what a cut leaves is worked out here from the lengths that
// were typed, and held against the limits of the rules.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/cut_numbers.h"
#include "cli/run_cli.h"
#include "presets/rules_reader.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;

namespace {

/// What rounding costs in sums of a few metres, and what a limit is met by (cut_tolerance), in m.
constexpr double slack = 2e-9;

std::vector<std::string> split_options(std::string_view input) {
    constexpr std::string_view options[] = {"--closed", "--tractor-tube", "--implement-tube", "--overlap", "--shortest", "--longest",
                                            "--reading", "--between", "--units", "--mark", "--rules"};
    std::vector<std::string> args{"cut"};
    for (std::size_t lines = 0; !input.empty() && lines < 40; ++lines) {
        const std::string_view line = input.substr(0, input.find('\n'));
        input.remove_prefix(std::min(line.size() + 1, input.size()));
        const std::size_t blank = line.find(' ');
        if (blank == std::string_view::npos) continue;
        // Rules by their names only: a path would read the disk.
        if (line.starts_with("--rules") && line.find_first_of("/.") != std::string_view::npos) continue;
        if (std::find(std::begin(options), std::end(options), line.substr(0, blank)) == std::end(options)) continue;
        args.emplace_back(line.substr(0, blank));
        args.emplace_back(line.substr(blank + 1));
    }
    return args;
}

/// Two halves and what is left of them, by sums and differences alone.
struct Halves {
    double root = 0.0, a = 0.0, b = 0.0;
    double gap(double shortest) const { return shortest - root - std::max(a, b); }
    double overlap(double longest) const { return root + a + b - longest; }
};

Halves cut_off(const CutCase& c, double from_a, double from_b) {
    return {c.halves.closed_length - std::max(c.halves.tube_a, c.halves.tube_b), c.halves.tube_a - from_a, c.halves.tube_b - from_b};
}

bool keeps_limits(const Halves& h, const CutCase& c) {
    const double needed = std::max(c.limits.overlap_least, c.limits.overlap_fraction * std::max(h.a, h.b));
    return h.gap(c.travel.shortest) >= c.limits.gap_required - slack && h.overlap(c.travel.longest) >= needed - slack;
}

// No cut of a grid over all there is keeps the limits with room to spare.
void check_no_cut_works(const CutCase& c, const std::string& subject) {
    constexpr int steps = 24;
    for (int i = 0; i <= steps; ++i) {
        for (int j = 0; j <= steps; ++j) {
            Halves h = cut_off(c, c.halves.tube_a * i / (steps + 1), c.halves.tube_b * j / (steps + 1));
            // Room to spare: both ends of the travel a little kinder to the shaft than they are.
            CutCase kinder = c;
            kinder.travel.shortest -= 1e-6;
            kinder.travel.longest += 1e-6;
            require(!keeps_limits(h, kinder), "where no cut is said to work none of a grid does", subject);
        }
    }
}

void check_plan(const CutCase& c, const std::string& subject) {
    const CutPlan& plan = c.plan;
    require(is_answered(plan), "numbers that were read have an answer", subject);
    const Halves whole = cut_off(c, 0.0, 0.0);
    require(std::fabs(plan.uncut.gap - whole.gap(c.travel.shortest)) <= slack, "the gap of the uncut shaft", subject);
    require(std::fabs(plan.uncut.overlap - whole.overlap(c.travel.longest)) <= slack, "the overlap of the uncut shaft", subject);
    if (plan.answer == CutAnswer::no_cut_works) {
        require(plan.obstacle != CutObstacle::none, "where no cut works it is said why", subject);
        return check_no_cut_works(c, subject);
    }
    const Halves after = cut_off(c, plan.recommended.a, plan.recommended.b);
    require(plan.recommended.a >= 0.0 && plan.recommended.b >= 0.0, "nothing is added to a shaft", subject);
    require(after.a > 0.0 && after.b > 0.0, "a cut leaves something of both tubes", subject);
    require(keeps_limits(after, c), "what is recommended keeps gap and overlap", subject);
    require(std::fabs(plan.after.gap - after.gap(c.travel.shortest)) <= slack, "the gap afterwards", subject);
    require(std::fabs(plan.after.overlap - after.overlap(c.travel.longest)) <= slack, "the overlap afterwards", subject);
    require((plan.answer == CutAnswer::no_cut_needed) == keeps_limits(whole, c) || plan.answer != CutAnswer::no_cut_needed,
            "no cut is needed only where the limits are kept as it is", subject);
    require(plan.answer != CutAnswer::no_cut_needed || (plan.recommended.a == 0.0 && plan.recommended.b == 0.0), "no cut is no cut", subject);
    if (plan.equal_possible) {
        for (const double equal : {plan.equal_least, plan.equal_most})
            require(keeps_limits(cut_off(c, equal, equal), c), "the least and the most off each half keep gap and overlap", subject);
    }
}

void check_answer(const std::vector<std::string>& args, const CutCase& c, const Library& library, const std::string& subject) {
    std::vector<std::string> json_args = args;
    json_args.insert(json_args.end(), {"--format", "json"});
    std::istringstream in;
    std::ostringstream out, err;
    const Outcome outcome = answer_command(json_args, library, {in, out, err});
    const auto* answer = std::get_if<Answer>(&outcome);
    require(answer != nullptr, "numbers that were read are answered", subject);
    const auto json = nlohmann::json::parse(answer->text, nullptr, false);
    require(json.is_object(), "the answer is JSON", answer->text);
    const bool undecided = answer->code == exit_code::not_decided;
    require(undecided || answer->code == find_exit_code(c.plan.answer), "the exit code is that of the answer", subject);
    require(!undecided || c.gap_band > 0.0 || c.overlap_band > 0.0, "lengths without an error are decided", subject);
}

}  // namespace

HITCHWRIGHT_FUZZ_LINES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Library library{std::string()};
    const std::string subject(fuzz::as_text(data, size));
    const std::vector<std::string> args = split_options(subject);
    const SplitCommandLine split = split_command_line(args);
    if (!split.problems.empty() || !has_cut_numbers(split.arguments) || !split.arguments.names.empty()) return 0;
    OptionReader reader(split.arguments);
    const CommonValues common = read_common(reader, split.arguments, {Form::text, Form::json, Form::csv});
    const CutNumbers numbers = read_cut_numbers(reader, split.arguments, common.units);
    for (const UsageProblem& problem : reader.problems()) {
        require(!problem.message.empty() && !has_control_characters(problem.message, true), "a problem of an option is one printable sentence", subject);
    }
    if (!reader.ok()) return 0;
    const LoadedRules rules = load_rules(common.rules.empty() ? general_rules : common.rules, library);
    if (!rules.ok()) return 0;
    const CutCase c = make_cut_case(numbers, rules.rules, common.mark);
    fuzz::note_answer(std::to_string(static_cast<int>(c.plan.answer)) + std::to_string(static_cast<int>(c.plan.obstacle)));
    check_plan(c, subject);
    check_answer(args, c, library, subject);
    return 0;
}
