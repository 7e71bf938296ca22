// Three-point side of compatibility.h.
#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/carried_bands.h"
#include "geometry/category.h"
#include "geometry/compatibility.h"

namespace hitchwright {
namespace {

/// A pin this much smaller than its hole is a matching pair (running fit and wear); more wants a bushing. Common
/// practice: hole figures of shop tables exceed pin figures by 0.4 to 0.7 mm, worn ones by about 1 mm.
constexpr double pin_play = 0.0015;
/// The links spread or close by hand this far without harm, common practice.
constexpr double span_play = 0.025;
/// Mast heights within this of the category's are not worth a word.
constexpr double mast_play = 0.040;

const Limit practice{0.0, true, Grade::P, "common practice, no source"};

Finding make(FindingKind kind, Severity severity, const char* subject) {
    Finding f;
    f.kind = kind;
    f.severity = severity;
    f.subject = subject;
    return f;
}

void check_category(const Setup& s, std::vector<Finding>& out) {
    const Category t = s.tractor.hitch.category, i = s.implement.hitch.category;
    if (t == Category::none || i == Category::none) return;
    Finding f = make(FindingKind::category_match, t == i ? Severity::good : Severity::change, "category");
    f.subject = find_category_figures(i).name;
    f.other = find_category_figures(t).name;
    const YesNo tn = s.tractor.hitch.narrow, in = s.implement.hitch.narrow;
    if (t == i && tn != YesNo::unknown && in != YesNo::unknown && tn != in) {
        f.severity = Severity::change;
        f.subject += in == YesNo::yes ? "N" : "";
        f.other += tn == YesNo::yes ? "N" : "";
    }
    f.rule = Limit{0.0, true, Grade::A, "ISO 730: categories of hitches, narrow hitches with the span of the next smaller"};
    // With bushings said to be fitted pins and span are judged one by one.
    const bool bushed = s.choices.lower_bushings == YesNo::yes && s.choices.upper_bushing == YesNo::yes;
    if (f.severity == Severity::change && bushed) f.severity = Severity::watch;
    if (f.severity == Severity::change) f.remedies.push_back({RemedyKind::match_part, 0, 0, "balls, pins or bushings of the right category"});
    out.push_back(f);
}

/// One pin and its hole; `bushed`: the set-up says a bushing is fitted.
struct PinInHole {
    const char* which;
    const Reading& pin;
    const Reading& hole;
    YesNo bushed;
};
PinInHole find_lower_pin(const Setup& s) {
    return {"lower pin", s.implement.hitch.lower_pin_diameter, s.tractor.hitch.lower_ball_bore, s.choices.lower_bushings};
}
PinInHole find_upper_pin(const Setup& s) {
    return {"upper pin", s.implement.hitch.upper_pin_diameter, s.tractor.hitch.upper_pin_diameter, s.choices.upper_bushing};
}

void check_pin(const PinInHole& p, std::vector<Finding>& out) {
    if (!p.pin.known || !p.hole.known) return;
    Finding f = make(FindingKind::pin_match, Severity::good, p.which);
    f.value = p.pin.value;
    f.has_limit = true;
    f.limit = p.hole.value;
    f.margin = p.hole.value - p.pin.value;
    f.rule = practice;
    if (f.margin < 0.0) {
        f.severity = Severity::forbids;
        f.remedies.push_back({RemedyKind::match_part, p.hole.value, 0, "a pin of the hole's size"});
    } else if (f.margin > pin_play && p.bushed != YesNo::yes) {
        f.severity = Severity::change;
        f.remedies.push_back({RemedyKind::bushing, p.pin.value, p.hole.value, p.which});
        f.cautions = {Caution::stop_before_touching};
    }
    out.push_back(f);
}

/// Ball centre to ball centre of the tractor, and of the implement: its span and a ball.
double find_spread(const Setup& s) { return 2.0 * s.tractor.lower_link.half_spread_at_ball.value; }
double find_wanted_spread(const Setup& s, const CategoryFigures& figures) { return s.implement.hitch.shoulder_span.value + figures.ball_width.value; }

void check_span(const Setup& s, std::vector<Finding>& out) {
    const Reading& span = s.implement.hitch.shoulder_span;
    const CategoryFigures figures = find_category_figures(s.tractor.hitch.category);
    if (!span.known || !s.tractor.lower_link.half_spread_at_ball.known || figures.ball_width.value == 0.0) return;
    Finding f = make(FindingKind::span_match, Severity::good, "lower hitch points");
    f.value = find_spread(s);
    f.has_limit = true;
    f.limit = find_wanted_spread(s, figures);
    f.margin = span_play - std::fabs(f.value - f.limit);
    f.rule = practice;
    f.terms = {{"span", span.value, Dimension::length, "shoulder to shoulder of the implement's lower pins"},
               {"ball", figures.ball_width.value, Dimension::length, "width of a ball of that category"},
               {"spread", f.value, Dimension::length, "ball centre to ball centre of the tractor"}};
    if (f.margin < 0.0) {
        f.severity = Severity::change;
        f.remedies.push_back({RemedyKind::match_part, f.limit, 0, "lower links set to the implement's span"});
    }
    out.push_back(f);
}

/// A mast pin that is judged: the one in use.
bool is_judged(const MastPin& p, const Setup& s) { return p.height.known && (p.name == s.choices.mast_pin || s.implement.mast_pins.size() == 1); }

void check_mast(const Setup& s, std::vector<Finding>& out) {
    const Figure mast = find_category_figures(s.implement.hitch.category).mast_height;
    if (mast.value == 0.0) return;
    for (const MastPin& p : s.implement.mast_pins) {
        if (!is_judged(p, s)) continue;
        Finding f = make(FindingKind::mast_match, Severity::good, "mast");
        f.value = p.height.value;
        f.has_limit = true;
        f.limit = mast.value;
        f.margin = mast_play - std::fabs(p.height.value - mast.value);
        f.rule = Limit{mast.value, true, mast.grade, "mast height of the category; older implements are lower"};
        if (f.margin < 0.0) f.severity = Severity::watch;
        out.push_back(f);
    }
}

/// Value less limit of one of these findings.
std::optional<double> find_difference(const Finding& f, const Setup& s) {
    if (f.kind == FindingKind::span_match) return find_spread(s) - find_wanted_spread(s, find_category_figures(s.tractor.hitch.category));
    if (f.kind == FindingKind::pin_match) {
        const PinInHole p = f.subject == find_lower_pin(s).which ? find_lower_pin(s) : find_upper_pin(s);
        return p.pin.value - p.hole.value;
    }
    const auto& pins = s.implement.mast_pins;
    const auto mast = std::find_if(pins.begin(), pins.end(), [&](const MastPin& p) { return is_judged(p, s); });
    return mast == pins.end() ? std::nullopt : std::optional<double>(mast->height.value - f.limit);
}

std::vector<Finding> check_all(const Setup& s) {
    std::vector<Finding> out;
    check_category(s, out);
    check_mast(s, out);
    // A coupler's own pins are in the balls, the implement's are in its hooks.
    if (s.parts.coupler.fitted) return out;
    check_pin(find_lower_pin(s), out);
    check_pin(find_upper_pin(s), out);
    check_span(s, out);
    return out;
}

}  // namespace

std::vector<Finding> check_hitch_match(const ErrorModel& errors) {
    std::vector<Finding> found = check_all(errors.setup());
    carry_differences(errors, found, find_difference, {"tractor.hitch.", "implement.hitch.", "implement.mast_pin", "tractor.lower_link.half_spread"});
    for (Finding& f : found) {
        // A pin that by its readings is bigger than its hole, by less than their errors, may go in: try it. One that is smaller by
        // less is as it should be.
        if (f.kind == FindingKind::pin_match && f.margin < 0.0) doubt_if_close(f, errors);
        if (f.kind == FindingKind::span_match) doubt_if_close(f, errors);
    }
    return found;
}

}  // namespace hitchwright
