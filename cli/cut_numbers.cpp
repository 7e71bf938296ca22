#include "cli/cut_numbers.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

// What is possible, as for the same values in a file (setup_fields.h).
constexpr LengthRange closed_range{0.2, 4.0};
constexpr LengthRange tube_range{0.03, 3.0};
constexpr LengthRange travel_range{0.1, 6.0};

constexpr std::array<std::string_view, 7> number_options = {
    "--closed", "--tractor-tube", "--implement-tube", "--overlap", "--shortest", "--longest", "--between"};

void require(OptionReader& reader, const Arguments& arguments) {
    for (const std::string_view option : {"--closed", "--shortest", "--longest"}) {
        if (!arguments.has(option))
            reader.add_problem(
                {std::string(option),
                 fmt::format("this length is missing; without a SETUP it is needed: {}", find_option(option)->meaning),
                 {}});
    }
    if (!arguments.has("--tractor-tube") && !arguments.has("--implement-tube") && !arguments.has("--overlap")) {
        reader.add_problem({{},
                            "the tubes are missing; needed: --tractor-tube and --implement-tube, or --overlap of the "
                            "shaft pushed fully home",
                            {}});
    }
}

// What the halves cannot be, said with the options that were typed.
void check_shaft(OptionReader& reader, const HalvesReadings& shaft) {
    const auto add = [&reader](const char* option, const char* message) { reader.add_problem({option, message, {}}); };
    switch (make_halves(shaft).status) {
        case HalvesStatus::ok:
            return;
        case HalvesStatus::tube_longer_than_shaft:
            return add("--closed",
                       "a tube is longer than the closed shaft it is part of; measure both again, between the same "
                       "kind of points");
        case HalvesStatus::overlap_longer_than_tube:
            return add("--overlap", "the overlap of the closed shaft cannot be longer than one of its tubes");
        case HalvesStatus::overlap_disagrees:
            return add("--overlap",
                       "the overlap of the closed shaft disagrees with the tubes: pushed fully home it is as long as "
                       "the shorter tube; leave one of them off, or measure again");
        default:
            return add("--closed", "no shaft has these lengths; measure again");
    }
}

}  // namespace

bool has_cut_numbers(const Arguments& arguments) {
    return std::any_of(number_options.begin(), number_options.end(),
                       [&](std::string_view option) { return arguments.has(option); });
}

CutNumbers read_cut_numbers(OptionReader& reader, const Arguments& arguments, UnitSystem units) {
    CutNumbers numbers;
    require(reader, arguments);
    numbers.shaft.closed_length = reader.length("--closed", units, closed_range).value_or(0.0);
    numbers.shaft.tube_a = reader.length("--tractor-tube", units, tube_range);
    numbers.shaft.tube_b = reader.length("--implement-tube", units, tube_range);
    numbers.shaft.overlap_closed = reader.length("--overlap", units, tube_range);
    numbers.travel.shortest = reader.length("--shortest", units, travel_range).value_or(0.0);
    numbers.travel.longest = reader.length("--longest", units, travel_range).value_or(0.0);
    numbers.reference_typed = arguments.has("--between");
    numbers.reference = reader.choice<LengthReference>("--between",
                                                       {{"joint_centres", LengthReference::joint_centres},
                                                        {"locking_grooves", LengthReference::locking_grooves},
                                                        {"shaft_ends", LengthReference::shaft_ends}},
                                                       LengthReference::joint_centres);
    if (!reader.ok()) return numbers;
    check_shaft(reader, numbers.shaft);
    if (numbers.travel.shortest > numbers.travel.longest) {
        reader.add_problem({"--shortest",
                            fmt::format("\"{}\" is longer than --longest \"{}\": the two may be exchanged",
                                        arguments.value("--shortest"), arguments.value("--longest")),
                            {}});
    }
    return numbers;
}

CutCase make_cut_case(const CutNumbers& numbers, const RuleSet& rules, const Mark& mark) {
    const AssumedHalves halves = make_halves(numbers.shaft);
    CutCase result;
    result.halves = halves.halves;
    result.assumption = halves.assumption;
    result.reference = numbers.reference;
    result.travel = numbers.travel;
    result.limits = make_cut_limits(rules);
    result.plan = plan_cut(result.halves, result.travel, result.limits, mark);
    result.rule_set = rules.name;
    result.gap_rule = rules.gap_required;
    const double share = result.limits.overlap_fraction * std::max(result.halves.tube_a, result.halves.tube_b);
    result.overlap_rule = share > result.limits.overlap_least ? rules.overlap_fraction : rules.overlap_least;
    return result;
}

std::string format_reference_note(const CutNumbers& numbers) {
    if (!numbers.reference_typed) {
        return "Taken as measured between the joint centres, all three lengths alike; if not, say so with --between. "
               "Lengths taken between unlike points differ by several inches.";
    }
    if (numbers.reference == LengthReference::joint_centres) return {};
    return fmt::format(
        "All three lengths between {}: while the joints are straight the cut is the same as between joint centres. "
        "Bent joints make the distance between {} shorter than a straight shaft of the same length: with the points 2 "
        "3/4 in outside the joint centres by up to 3/8 in at 20 deg and 1 in at 35 deg. The gap is then larger than "
        "computed, the overlap smaller. Where the joints are bent at the longest point, leave that much more overlap, "
        "or measure between joint centres.",
        reference_name(numbers.reference), reference_name(numbers.reference));
}

}  // namespace hitchwright
