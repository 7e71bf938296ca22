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

constexpr LengthRange height_range{-0.5, 3.0};
/// Usual error of a tape to the floor and from groove to groove (rule: "Measuring", docs/references.md), m.
constexpr double usual_error = metres_per_inch / 8.0;

constexpr std::array<std::string_view, 8> number_options = {
    "--closed", "--tractor-tube", "--implement-tube", "--overlap", "--shortest", "--longest", "--reading", "--between"};

void require(OptionReader& reader, const Arguments& arguments) {
    const bool direct = arguments.has("--reading");
    for (const std::string_view option : {"--closed", "--shortest", "--longest"}) {
        const bool end = option != "--closed";
        if (direct && end && arguments.has(option))
            reader.add_problem({std::string(option), "this length comes from the readings when --reading is typed; leave one of them off", {}});
        if (!arguments.has(option) && !(direct && end))
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

// Why readings at several heights give no shortest and longest length.
void refuse_readings(OptionReader& reader, DirectStatus status) {
    const auto add = [&reader](const char* message) { reader.add_problem({"--reading", message, {}}); };
    switch (status) {
        case DirectStatus::too_few:
            return add("three readings or more at different heights are needed: the lowest, a middle and the highest");
        case DirectStatus::no_middle:
            return add("no reading lies about the middle of the heights; take one there");
        case DirectStatus::range_too_small:
            return add("the heights lie less than 2 in apart; read at the lowest and the highest the lift goes");
        case DirectStatus::ok:
            return;
        default:
            return add("no shaft has these lengths; measure again");
    }
}

void read_direct(OptionReader& reader, UnitSystem units, CutNumbers& numbers) {
    std::vector<DirectPoint> points;
    for (const auto& [height, length] : reader.length_pairs("--reading", units, height_range, travel_range))
        points.push_back({height, length, usual_error, usual_error});
    if (!reader.ok()) return;
    std::stable_sort(points.begin(), points.end(), [](const DirectPoint& a, const DirectPoint& b) { return a.height < b.height; });
    numbers.direct = fit_direct_points(points);
    refuse_readings(reader, numbers.direct->status);
    numbers.travel.shortest = numbers.direct->shortest.length;
    numbers.travel.longest = numbers.direct->longest.length;
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
    if (arguments.has("--reading")) read_direct(reader, units, numbers);
    numbers.travel.shortest = reader.length("--shortest", units, travel_range).value_or(numbers.travel.shortest);
    numbers.travel.longest = reader.length("--longest", units, travel_range).value_or(numbers.travel.longest);
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
    result.source = TravelSource::typed;
    if (numbers.direct) {
        result.source = TravelSource::direct_readings;
        result.height_at_shortest = numbers.direct->shortest.height;
        result.height_at_longest = numbers.direct->longest.height;
        result.gap_band = numbers.direct->shortest.error;
        result.overlap_band = numbers.direct->longest.error;
        result.contradicted = numbers.direct->rough;
    }
    result.limits = make_cut_limits(rules);
    result.plan = plan_cut(result.halves, result.travel, result.limits, mark);
    result.rule_set = rules.name;
    result.gap_rule = rules.gap_required;
    const double share = result.limits.overlap_fraction * std::max(result.halves.tube_a, result.halves.tube_b);
    result.overlap_rule = share > result.limits.overlap_least ? rules.overlap_fraction : rules.overlap_least;
    return result;
}

std::string format_reference_note(const CutNumbers& numbers) {
    const std::string direct = numbers.direct ? format_direct_note(*numbers.direct) + " " : std::string();
    if (!numbers.reference_typed) {
        return direct + "Taken as measured between the joint centres, all lengths alike; if not, say so with --between. "
               "Lengths taken between unlike points differ by several inches.";
    }
    if (numbers.reference == LengthReference::joint_centres) return direct;
    return direct + fmt::format(
        "All lengths between {}: while the joints are straight the cut is the same as between joint centres. "
        "Bent joints make the distance between {} shorter than a straight shaft of the same length: with the points 2 "
        "3/4 in outside the joint centres by up to 3/8 in at 20 deg and 1 in at 35 deg. The gap is then larger than "
        "computed, the overlap smaller. Where the joints are bent at the longest point, leave that much more overlap, "
        "or measure between joint centres.",
        reference_name(numbers.reference), reference_name(numbers.reference));
}

}  // namespace hitchwright
