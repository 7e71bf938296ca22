// See specification_line.h.
#include "geometry/specification_line.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(SpecificationLine);

namespace {

/// A typed limit stays itself after a trip through SI: less than this share of it (of 1 SI unit at least) is no
/// difference.
constexpr double share_ignored = 1e-9;
/// A count of turns this near to an eighth is that eighth.
constexpr double turn_ignored = 1e-6;
/// More turns or holes than anybody would make: the figures do not belong together.
constexpr double most_steps = 10000.0;

bool has_figure(const SpecificationLine& l) { return l.nominal.known || l.at_least.known || l.at_most.known; }
bool has_band(const SpecificationLine& l) { return l.at_least.known || l.at_most.known; }

bool is_number(const Reading& r) {
    return !r.known || (std::isfinite(r.value) && std::isfinite(r.tolerance) && r.tolerance >= 0.0);
}

/// Wider than any rounding of the figures of this line, narrower than any reading.
double find_slack(const SpecificationLine& l) {
    double size = l.quantity == Dimension::length ? 1.0 : 0.0;
    for (const Reading* r : {&l.nominal, &l.at_least, &l.at_most, &l.measured}) {
        if (r->known) size = std::max({size, std::fabs(r->value), r->tolerance});
    }
    return share_ignored * size;
}

void set_limits(LineResult& r) {
    const SpecificationLine& l = r.line;
    if (has_band(l)) {
        if (l.at_least.known) r.low = l.at_least.value;
        if (l.at_most.known) r.high = l.at_most.value;
    } else {
        r.low = l.nominal.value - l.nominal.tolerance;
        r.high = l.nominal.value + l.nominal.tolerance;
        r.bare = !(l.nominal.tolerance > 0.0);
    }
    if (l.nominal.known)
        r.aim = l.nominal.value;
    else if (r.low && r.high)
        r.aim = 0.5 * (*r.low + *r.high);
    else
        r.aim = r.low ? *r.low : *r.high;
}

bool is_within(const LineResult& r, double value, double slack) {
    return (!r.low || value >= *r.low - slack) && (!r.high || value <= *r.high + slack);
}

void judge(LineResult& r, double slack) {
    const double value = r.line.measured.value, error = r.line.measured.tolerance;
    r.off = value - *r.aim;
    if (r.low && value < *r.low - slack)
        r.side = LineSide::below, r.beyond = *r.low - value;
    else if (r.high && value > *r.high + slack)
        r.side = LineSide::above, r.beyond = value - *r.high;
    else if (std::fabs(*r.off) > slack)
        r.side = *r.off > 0.0 ? LineSide::above : LineSide::below;
    if (r.bare) {
        // Nothing is permitted, so that only a difference the reading can show is one.
        r.verdict = r.beyond <= error + slack ? LineVerdict::in : LineVerdict::out;
        return;
    }
    const auto straddles = [&](const std::optional<double>& limit) {
        return limit && std::fabs(value - *limit) < error - slack;
    };
    if (straddles(r.low) || straddles(r.high))
        r.verdict = LineVerdict::too_close;
    else
        r.verdict = r.beyond > 0.0 ? LineVerdict::out : LineVerdict::in;
}

/// `exact` steps rounded to whole ones; an aim that is a limit itself is reached, not approached.
double round_steps(const LineResult& r, double exact) {
    const bool only_limit = !r.line.nominal.known && !(r.low && r.high);
    if (!only_limit) return std::round(exact);
    return r.low ? std::ceil(exact - turn_ignored) : std::floor(exact + turn_ignored);
}

void set_turns(LineResult& r, double slack) {
    const double advance = r.line.advance_per_turn.value;
    const double exact = *r.correction / advance;
    if (!(advance > 0.0) || !(std::fabs(exact) <= most_steps)) return;
    LineTurns t;
    t.exact = exact;
    const double eighths = std::round(exact * 8.0);
    t.rounded = std::fabs(exact * 8.0 - eighths) < turn_ignored ? eighths / 8.0 : round_steps(r, exact * 4.0) / 4.0;
    t.after = r.line.measured.value + t.rounded * advance;
    t.within = is_within(r, t.after, slack);
    if (r.line.lengthens != TurnSense::unknown && t.rounded != 0.0) {
        const bool same = (t.rounded > 0.0) == (r.line.lengthens == TurnSense::clockwise);
        t.sense = same ? TurnSense::clockwise : TurnSense::counterclockwise;
    }
    r.turns = t;
}

void set_holes(LineResult& r, double slack) {
    const double spacing = r.line.hole_spacing.value;
    const double exact = *r.correction / spacing;
    if (!(spacing > 0.0) || !(std::fabs(exact) <= most_steps)) return;
    LineHoles h;
    h.count = static_cast<int>(round_steps(r, exact));
    h.after = r.line.measured.value + h.count * spacing;
    h.within = is_within(r, h.after, slack);
    r.holes = h;
}

/// What hurts first: the place of a verdict in the list.
int find_rank(const LineResult& r) {
    if (r.verdict == LineVerdict::out) return r.line.stops_work ? 0 : 1;
    if (r.verdict == LineVerdict::too_close) return 2;
    return r.verdict == LineVerdict::not_measured ? 3 : 4;
}

/// How far beyond the band, in widths of it; of a figure or a single limit, in shares of that.
double find_weight(const LineResult& r) {
    if (!r.aim) return 0.0;
    const double width = r.low && r.high && *r.high > *r.low ? 0.5 * (*r.high - *r.low) : std::fabs(*r.aim);
    return width > 0.0 ? r.beyond / width : r.beyond;
}

}  // namespace

LineFault find_fault(const SpecificationLine& l) {
    if (l.name.empty()) return LineFault::no_name;
    if (!has_figure(l) && l.specification.empty()) return LineFault::asks_for_nothing;
    for (const Reading* r : {&l.nominal, &l.at_least, &l.at_most, &l.measured, &l.advance_per_turn, &l.hole_spacing}) {
        if (!is_number(*r)) return LineFault::not_a_number;
    }
    if (l.at_least.known && l.at_most.known && l.at_least.value > l.at_most.value) return LineFault::band_upside_down;
    if (has_band(l) && l.nominal.known && l.nominal.tolerance > 0.0) return LineFault::band_and_deviation;
    if ((l.at_least.known && l.at_least.tolerance > 0.0) || (l.at_most.known && l.at_most.tolerance > 0.0))
        return LineFault::limit_with_deviation;
    const bool below = l.nominal.known && l.at_least.known && l.nominal.value < l.at_least.value;
    const bool above = l.nominal.known && l.at_most.known && l.nominal.value > l.at_most.value;
    if (below || above) return LineFault::nominal_outside_band;
    if (!has_figure(l) && l.measured.known) return LineFault::measured_words;
    if (has_figure(l) && l.as_specified != YesNo::unknown) return LineFault::figure_answered_in_words;
    const bool adjusts = l.advance_per_turn.known || l.hole_spacing.known;
    if (adjusts && (!has_figure(l) || l.quantity != Dimension::length)) return LineFault::adjuster_of_no_length;
    return LineFault::none;
}

LineResult check_line(const SpecificationLine& line) {
    LineResult r;
    r.line = line;
    r.fault = find_fault(line);
    r.words = !has_figure(line);
    if (r.fault != LineFault::none) return r;
    if (r.words) {
        if (line.as_specified == YesNo::yes) r.verdict = LineVerdict::in;
        if (line.as_specified == YesNo::no) r.verdict = LineVerdict::out;
        return r;
    }
    set_limits(r);
    if (!line.measured.known) return r;
    const double slack = find_slack(line);
    judge(r, slack);
    if (r.verdict == LineVerdict::in || std::fabs(*r.off) <= slack) return r;
    r.correction = -*r.off;
    if (line.advance_per_turn.known) set_turns(r, slack);
    if (line.hole_spacing.known) set_holes(r, slack);
    return r;
}

void sort_lines(std::vector<LineResult>& lines) {
    std::stable_sort(lines.begin(), lines.end(), [](const LineResult& a, const LineResult& b) {
        if (find_rank(a) != find_rank(b)) return find_rank(a) < find_rank(b);
        return find_weight(a) > find_weight(b);
    });
}

std::string_view line_verdict_word(LineVerdict verdict) {
    switch (verdict) {
        case LineVerdict::in:
            return "in";
        case LineVerdict::out:
            return "out";
        case LineVerdict::too_close:
            return "too_close_to_call";
        case LineVerdict::not_measured:
            return "not_measured";
    }
    return "not_measured";
}

std::string_view line_side_word(LineSide side) {
    switch (side) {
        case LineSide::on:
            return "on";
        case LineSide::below:
            return "below";
        case LineSide::above:
            return "above";
    }
    return "on";
}

std::string_view line_fault_word(LineFault fault) {
    switch (fault) {
        case LineFault::none:
            return "none";
        case LineFault::no_name:
            return "no_name";
        case LineFault::asks_for_nothing:
            return "asks_for_nothing";
        case LineFault::not_a_number:
            return "not_a_number";
        case LineFault::band_upside_down:
            return "band_upside_down";
        case LineFault::band_and_deviation:
            return "band_and_deviation";
        case LineFault::limit_with_deviation:
            return "limit_with_deviation";
        case LineFault::nominal_outside_band:
            return "nominal_outside_band";
        case LineFault::measured_words:
            return "measured_words";
        case LineFault::figure_answered_in_words:
            return "figure_answered_in_words";
        case LineFault::adjuster_of_no_length:
            return "adjuster_of_no_length";
    }
    return "none";
}

std::string_view turn_sense_word(TurnSense sense) {
    switch (sense) {
        case TurnSense::unknown:
            return "unknown";
        case TurnSense::clockwise:
            return "clockwise";
        case TurnSense::counterclockwise:
            return "counterclockwise";
    }
    return "unknown";
}

}  // namespace hitchwright
