// Drawn machines in a mirror, and all machines scaled: the same verdict, the same findings, numbers scaled.
//
// Mounted machines in a mirror, in a moved frame, and every number of their analysis: tests/validation/whole_analysis_twins_test.cpp.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <tuple>
#include <utility>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/properties/any_setup.h"
#include "tests/properties/check_property.h"

using namespace hitchwright;
using properties::any_setup;
using properties::AnySetup;
using properties::check_property;
using properties::Start;
using properties::Values;

namespace {

template <class F>
void change_readings(Setup& s, const F& change) {
    visit_readings(s, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (r.known) change(key, r, spec);
    });
}

Setup mirror(Setup s) {
    change_readings(s, [&](const std::string& key, Reading& r, const FieldSpec&) {
        const auto ends = [&](const char* end) { return key.ends_with(end); };
        if (ends("stub_y") || ends(".y") || ends("front_y") || ends("rear_y") || ends("plan_angle") || ends("phase_error") || ends(".phase") ||
            ends("working_roll")) {
            r.value = -r.value;
        }
        if (ends("crossing_angle")) r.value = pi - r.value;
    });
    std::swap(s.choices.left_lift_rod_length, s.choices.right_lift_rod_length);
    std::swap(s.choices.left_check_chain_length, s.choices.right_check_chain_length);
    std::swap(s.choices.drawn.turn_left_most, s.choices.drawn.turn_right_most);
    LevellingRod& screw = s.tractor.lift_rod.levelling;
    if (screw != LevellingRod::both) screw = screw == LevellingRod::left ? LevellingRod::right : LevellingRod::left;
    return s;
}

/// Lengths by `factor`. Masses and forces stay, so that every lever keeps its share; a cylinder's force is pressure by area.
double find_scale(Dimension d, double factor) {
    return d == Dimension::length || d == Dimension::length_per_turn ? factor : d == Dimension::pressure ? 1.0 / (factor * factor) : 1.0;
}

Setup scale(Setup s, double factor) {
    change_readings(s, [&](const std::string&, Reading& r, const FieldSpec& spec) {
        const double by = find_scale(spec.dimension, factor);
        r.value *= by;
        r.tolerance *= by;
    });
    RuleSet& u = s.rules;
    for (Limit* l : {&u.gap_required, &u.gap_aimed, &u.overlap_least, &u.clearance, &u.guard_overlap}) l->value *= factor;
    return s;
}

/// A reading that grows with the machine, whose error would leave what there can be: its range is the same at any size, so that the error
/// is not.
bool has_cut_off_error(Setup s) {
    bool cut_off = false;
    change_readings(s, [&](const std::string&, Reading& r, const FieldSpec& spec) {
        const double low = r.value - r.tolerance, high = r.value + r.tolerance;
        if (find_scale(spec.dimension, 2.0) == 1.0) return;
        cut_off = cut_off || (low < spec.least && r.value >= spec.least) || (high > spec.most && r.value <= spec.most);
    });
    return cut_off;
}

/// Each "left" as "right" and the other way round.
std::string exchange_sides(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const bool left = text.compare(i, 4, "left") == 0, right = text.compare(i, 5, "right") == 0;
        out += left ? "right" : right ? "left" : text.substr(i, 1);
        i += left ? 4 : right ? 5 : 1;
    }
    return out;
}

/// Limits in millimetres whatever the size of the machine: of a standard, the play of a pin, how level an eye sees, or how close a search
/// comes; the lift is published 610 mm behind the balls.
bool is_of_one_size(const Finding& f) {
    switch (f.kind) {
        case FindingKind::drawbar_length:
        case FindingKind::drawbar_height:
        case FindingKind::drawbar_drop:
        case FindingKind::lift_capacity:
        case FindingKind::side_level:
        case FindingKind::pin_match:
        case FindingKind::span_match:
        case FindingKind::mast_match:
            return true;
        case FindingKind::side_motion:  // a search that ends, or runs out of boxes, by a closeness in micrometres
            return f.other == "not_bounded";
        default:
            return false;
    }
}

Analysis judge(const Setup& s, double scale = 1.0) { return analyze(s, {scale * millimetre_mark.step}, BandEffort::second_order); }

/// A cut for which no mark is left lies on a whole or a tenth of a millimetre, whatever the size.
bool cuts_between_marks(const Analysis& a) {
    const CutPlan* plan = a.shaft ? &a.shaft->plan : a.drawn ? &a.drawn->plan : nullptr;
    return plan && plan->answer == CutAnswer::cut_between_marks;
}

Analysis without_one_size(Analysis a, bool between_marks) {
    std::erase_if(a.findings, [&](const Finding& f) { return is_of_one_size(f) || (between_marks && f.kind == FindingKind::cut); });
    a.verdict = find_verdict(a.findings);
    return a;
}

using Row = std::tuple<FindingKind, std::string, std::string, Severity, double, double, Dimension, double>;

/// Closeness promised of an extreme over the continuous range; searches of a scaled machine end elsewhere inside it.
double find_promise(Dimension d) { return d == Dimension::length ? 2e-5 : d == Dimension::angle ? to_radians(0.001) : 2e-4; }

std::vector<Row> list_rows(const Analysis& a, bool mirrored, double scale) {
    std::vector<Row> rows;
    for (Finding f : a.findings) {
        // A tongue that meets both tyres with the machine straight, but for rounding: either may be named.
        if (f.kind == FindingKind::turn_limit && std::fabs(f.value) < 1e-12) f.subject = f.subject.substr(0, f.subject.find(':'));
        const double k = f.dimension == Dimension::length ? 1.0 / scale : 1.0;
        rows.emplace_back(f.kind, mirrored ? exchange_sides(f.subject) : f.subject, mirrored ? exchange_sides(f.other) : f.other, f.severity,
                          f.value * k, f.margin * k, f.dimension, f.bound_error * k);
    }
    std::sort(rows.begin(), rows.end());
    return rows;
}

void compare(const Analysis& a, const Analysis& b, bool mirrored, double scale) {
    RC_LOG() << verdict_word(a.verdict) << " and " << verdict_word(b.verdict) << (mirrored ? " mirrored" : " scaled") << "\n";
    RC_ASSERT(a.verdict == b.verdict);
    const std::vector<Row> first = list_rows(a, false, 1.0), second = list_rows(b, mirrored, scale);
    for (const auto* rows : {&first, &second}) {
        if (first.size() == second.size()) break;
        for (const Row& r : *rows) RC_LOG() << finding_word(std::get<0>(r)) << " " << std::get<1>(r) << " " << std::get<2>(r) << "; ";
        RC_LOG() << "\n";
    }
    RC_ASSERT(first.size() == second.size());
    for (std::size_t i = 0; i < first.size(); ++i) {
        const auto& [kind, subject, other, severity, value, margin, dimension, bound_error] = first[i];
        // A range has two extremes. A search that ran out of boxes says how far its bound may be off, and ends elsewhere in the mirror too.
        const double extremes = kind == FindingKind::pitch_range ? 2.0 : 1.0;
        const double promise = extremes * find_promise(dimension), errors = bound_error + std::get<7>(second[i]);
        const bool ran_out = errors > 2.0 * promise;
        const double slack = mirrored && !ran_out ? 1e-6 : promise + errors;
        RC_LOG() << finding_word(kind) << " " << subject << " " << other << ": " << value << " and " << std::get<4>(second[i]) << "\n";
        RC_ASSERT(kind == std::get<0>(second[i]));
        RC_ASSERT(subject == std::get<1>(second[i]));
        RC_ASSERT(other == std::get<2>(second[i]));
        // A tape and a lift arm that differ by an inch are watched, and an inch is an inch at any size.
        if (mirrored || kind != FindingKind::travel_bound || other == "outside") RC_ASSERT(severity == std::get<3>(second[i]));
        RC_ASSERT(std::fabs(value - std::get<4>(second[i])) < slack * std::max(1.0, std::fabs(value)));
        // A mark off both halves takes two of overlap.
        const double of_margin = kind == FindingKind::cut && (!mirrored || ran_out) ? slack + errors : slack;
        RC_ASSERT(std::fabs(margin - std::get<5>(second[i])) < of_margin * std::max(1.0, std::fabs(margin)));
    }
}

bool is_drawn(Start s) { return s == Start::drawn || s == Start::drawn_wide_angle || s == Start::drawn_in_ditch; }

}  // namespace

TEST_CASE("property: a drawn machine in a mirror has left and right exchanged, and nothing else", "[random][metamorphic]") {
    check_property(20, [] {
        const AnySetup any = *rc::gen::suchThat(any_setup(Values::possible), [](const AnySetup& s) { return is_drawn(s.start); });
        const Setup s = any.build();
        compare(judge(s), judge(mirror(s)), true, 1.0);
    });
}

TEST_CASE("property: a machine of twice the size has the same verdict, lengths doubled, angles and loads the same", "[random][metamorphic]") {
    check_property(15, [] {
        const AnySetup any = *any_setup(Values::possible);
        const Setup s = any.build(), twice = scale(s, 2.0);
        RC_PRE(!has_cut_off_error(s) && !has_cut_off_error(twice));
        const Analysis once = judge(s), doubled = judge(twice, 2.0);
        const bool between_marks = cuts_between_marks(once) || cuts_between_marks(doubled);
        compare(without_one_size(once, between_marks), without_one_size(doubled, between_marks), false, 2.0);
    });
}
