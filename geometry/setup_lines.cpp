// See setup_lines.h.
#include "geometry/setup_lines.h"

#include <algorithm>
#include <cmath>

#include "geometry/drawbar_figures.h"
#include "geometry/drawn_model.h"

namespace hitchwright {
namespace {

const char* const figures_source = "operator manuals of several makers, figures for the PTO type";

SpecificationLine make_line(const char* name, const char* how, Grade grade) {
    SpecificationLine l;
    l.name = name;
    l.how = how;
    l.source = figures_source;
    l.grade = grade;
    l.generated = true;
    return l;
}

/// The other position of the pin that lies nearer the figure, the nearest first; empty: none.
std::string find_nearer_pin(const Setup& s, const DrawnModel& m, double figure) {
    const double end = m.drawbar_length - s.tractor.drawbar_pins[m.pin].length.value;
    double least = std::fabs(m.drawbar_length - figure);
    std::string name;
    for (const DrawbarPin& pin : s.tractor.drawbar_pins) {
        const double off = std::fabs(pin.length.value + end - figure);
        if (pin.length.known && off < least) least = off, name = pin.name;
    }
    return name;
}

SpecificationLine make_length_line(const Setup& s, const DrawnModel* m, const DrawbarFigures& figures) {
    SpecificationLine l =
        make_line("drawbar length", "PTO end, or the end of an adapter on it, to the centre of the hitch pin, level",
                  figures.length.grade);
    l.nominal = make_reading(figures.length.value, Origin::manual, figures.length_tolerance);
    l.if_below = "the shaft bends more in a turn, runs out of travel, and the tongue comes near the tyres";
    l.if_above = "the shaft runs further apart in a turn, and the load on the drawbar weighs more";
    l.complaint = "the shaft knocks or bottoms in turns; joints of the shaft wear out";
    l.adjuster = "drawbar: another hole, or turned over";
    if (m == nullptr) return l;
    const DrawbarPin& pin = s.tractor.drawbar_pins[m->pin];
    l.measured = make_reading(m->drawbar_length, pin.length.origin, pin.length.tolerance);
    const std::string nearer = find_nearer_pin(s, *m, figures.length.value);
    if (!nearer.empty()) l.adjuster = "pin of the drawbar: position " + nearer + " is nearer the figure";
    return l;
}

SpecificationLine make_height_line(const Setup& s, const DrawnModel* m, const DrawbarFigures& figures) {
    SpecificationLine l = make_line("drawbar height", "floor to the top of the drawbar", figures.top_low.grade);
    l.at_least = make_reading(figures.top_low.value, Origin::manual);
    l.at_most = make_reading(figures.top_high.value, Origin::manual);
    l.if_below = "the implement runs nose down, and joints of the shaft stand at an angle on level ground";
    l.if_above = "the pull acts high and takes weight off the front axle";
    l.complaint = "the machine does not tow level; the front end goes light";
    l.adjuster = "drawbar: turned over, or in its other mount";
    if (m == nullptr) return l;
    const Reading& own = s.tractor.drawbar_pins[m->pin].top_height;
    const Reading& top = own.known ? own : s.tractor.drawbar.top_height;
    const Reading& used = top.known ? top : s.tractor.drawbar.drop;
    const double read = top.known ? top.tolerance : std::hypot(used.tolerance, s.tractor.pto.stub_z.tolerance);
    const double tyres = find_tyre_error(s.tractor, m->tyres, Point(m->driveline.pin.x, m->drawbar_top)).place.y();
    l.measured = make_reading(m->drawbar_top, used.origin, std::hypot(read, tyres));
    return l;
}

SpecificationLine make_drop_line(const Setup& s, const DrawnModel* m, const DrawbarFigures& figures) {
    SpecificationLine l = make_line("PTO above drawbar", "top of the drawbar to the middle of the PTO shaft, plumb",
                                    figures.drop_low.grade);
    l.nominal = make_reading(figures.drop_preferred.value, Origin::manual);
    l.at_least = make_reading(figures.drop_low.value, Origin::manual);
    l.at_most = make_reading(figures.drop_high.value, Origin::manual);
    l.if_below = "the shaft or its guard can come onto the drawbar and the hitch";
    l.if_above = "joints of the shaft stand at an angle on level ground";
    l.complaint = "the guard rubs on the drawbar; the shaft chatters straight ahead";
    l.adjuster = "drawbar: turned over, or in its other mount";
    if (m == nullptr) return l;
    const Reading& own = s.tractor.drawbar_pins[m->pin].top_height;
    const Reading& top = own.known ? own : s.tractor.drawbar.top_height;
    const double error =
        top.known ? std::hypot(top.tolerance, s.tractor.pto.stub_z.tolerance) : s.tractor.drawbar.drop.tolerance;
    l.measured = make_reading(m->pto_above_drawbar, s.tractor.pto.stub_z.origin, error);
    return l;
}

Finding make_finding(const LineResult& r) {
    const SpecificationLine& l = r.line;
    Finding f;
    f.kind = FindingKind::specification_line;
    f.subject = l.name;
    f.dimension = l.quantity;
    f.rule = {0.0, true, l.grade, l.source.empty() ? "specification of the line, no source stated" : l.source};
    f.cautions = {Caution::stop_before_touching, Caution::manual_rules};
    const bool out = r.verdict == LineVerdict::out;
    if (out)
        f.severity = l.stops_work ? Severity::forbids : Severity::condition;
    else
        f.severity = l.stops_work ? Severity::unknown : Severity::watch;
    if (r.words) {
        f.other = "words";
        f.dimension = Dimension::count;
        f.remedies = {{RemedyKind::set_to_specification, 0.0, 0.0, l.specification}};
        return f;
    }
    f.value = l.measured.value;
    f.has_limit = true;
    const bool low_is_nearer = r.low && (!r.high || f.value - *r.low < *r.high - f.value);
    f.limit = low_is_nearer ? *r.low : *r.high;
    f.margin = low_is_nearer ? f.value - f.limit : f.limit - f.value;
    f.other = low_is_nearer ? "below" : "above";
    f.band = f.error.width = f.error.below = f.error.above = l.measured.tolerance;
    f.error.widest = {"specification[" + l.name + "].measured", l.measured.tolerance};
    f.terms = {{l.nominal.known ? "figure" : "aim", *r.aim, l.quantity,
                l.nominal.known ? "what is asked for" : "middle of the band, or its only limit"}};
    if (!out)
        f.remedies.push_back(
            {RemedyKind::measure, l.measured.tolerance, 0.0, "specification[" + l.name + "].measured"});
    if (r.correction) f.remedies.push_back({RemedyKind::set_to_specification, *r.correction, 0.0, l.adjuster});
    if (r.turns && r.turns->rounded != 0.0) {
        // Terms carry the turns: a remedy has no room for a length and a count.
        f.terms.push_back({"turns", r.turns->rounded, Dimension::ratio, "turns of the adjuster, positive: longer"});
        f.terms.push_back({"sense",
                           r.turns->sense == TurnSense::unknown     ? 0.0
                           : r.turns->sense == TurnSense::clockwise ? 1.0
                                                                    : -1.0,
                           Dimension::ratio, "1: clockwise, -1: counterclockwise, 0: not stated"});
    }
    if (r.holes && r.holes->count != 0)
        f.terms.push_back(
            {"holes", static_cast<double>(r.holes->count), Dimension::ratio, "holes to move by, positive: longer"});
    return f;
}

/// How many lines nobody measured, the first of them by name. One that stops work leaves the answer open.
Finding count_not_measured(const std::vector<LineResult>& results) {
    Finding f;
    f.kind = FindingKind::specification_not_measured;
    f.dimension = Dimension::count;
    f.severity = Severity::watch;
    std::string needed;
    for (const LineResult& r : results) {
        if (r.line.generated || r.verdict != LineVerdict::not_measured) continue;
        f.value += 1.0;
        if (f.subject.empty()) f.subject = r.line.name;
        if (r.line.stops_work && needed.empty()) needed = r.line.name;
    }
    if (!needed.empty()) {
        f.severity = Severity::unknown;
        f.subject = needed;
        f.other = "stops_work";
        f.remedies = {{RemedyKind::measure, 0.0, 0.0, "specification[" + needed + "].measured"}};
    }
    f.cautions = {Caution::stop_before_touching};
    return f;
}

}  // namespace

std::vector<SpecificationLine> make_own_lines(const Setup& s) {
    if (s.implement.attachment != Attachment::drawn) return {};
    const DrawbarFigures figures = find_drawbar_figures(s.tractor.pto.type);
    const DrawnModelResult model = make_drawn_model(s);
    const DrawnModel* m = model.hitch_ok && model.model.pin < s.tractor.drawbar_pins.size() ? &model.model : nullptr;
    std::vector<SpecificationLine> lines;
    if (figures.length.value > 0.0) lines.push_back(make_length_line(s, m, figures));
    lines.push_back(make_height_line(s, m, figures));
    lines.push_back(make_drop_line(s, m, figures));
    return lines;
}

std::vector<LineResult> check_lines(const Setup& setup) {
    std::vector<LineResult> results;
    for (const SpecificationLine& line : make_own_lines(setup)) results.push_back(check_line(line));
    for (const SpecificationLine& line : setup.specification) results.push_back(check_line(line));
    return results;
}

std::vector<Finding> check_specification(const Setup& setup) {
    std::vector<Finding> findings;
    std::vector<LineResult> results;
    for (const SpecificationLine& line : setup.specification) results.push_back(check_line(line));
    for (const LineResult& r : results) {
        if (r.verdict == LineVerdict::out || r.verdict == LineVerdict::too_close) findings.push_back(make_finding(r));
    }
    Finding open = count_not_measured(results);
    if (open.value > 0.0) findings.push_back(std::move(open));
    return findings;
}

}  // namespace hitchwright
