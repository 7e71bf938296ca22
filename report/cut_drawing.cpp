// See cut_drawing.h.
#include "report/cut_drawing.h"

#include <fmt/format.h>

#include <algorithm>

#include "geometry/cut_line.h"
#include "report/page_blocks.h"
#include "report/shaft_drawing.h"

namespace hitchwright {
namespace {

constexpr TextFace name_face{2.6, true}, word_face{2.6, false};
constexpr double tube_mm = 4.6, guard_mm = 6.4, inner_share = 0.62, gap_mm = 2.2, margin_mm = 2.0, overhang_mm = 1.6;

/// One of the four parts.
struct Part {
    std::string name;
    double length = 0.0, cut = 0.0;  ///< m
    bool from_left = true, guard = false, known = true;
    double across_mm = tube_mm;
};

std::vector<Part> list_parts(const CutPicture& p) {
    const bool guard = p.guard.has_value();
    return {{"Tube of the tractor half", p.whole.tube_a, p.cut.a, true, false, true, tube_mm},
            {"Guard tube of the tractor half", guard ? p.guard->tube_a : p.whole.tube_a, p.cut.a, true, true, guard,
             guard_mm},
            {"Tube of the implement half", p.whole.tube_b, p.cut.b, false, false, true, inner_share * tube_mm},
            {"Guard tube of the implement half", guard ? p.guard->tube_b : p.whole.tube_b, p.cut.b, false, true, guard,
             inner_share * guard_mm}};
}

std::string say_part(const Part& p, const SafeWords& w) {
    const std::string cut =
        p.cut > 0.0 ? fmt::format("cut {} off its free end", w.place(p.cut)) : std::string("not cut");
    if (!p.known) return p.cut > 0.0 ? cut + " (not measured: as much as its tube)" : "not cut (not measured)";
    if (!(p.cut > 0.0)) return fmt::format("{}, {}", w.place(p.length), cut);
    return fmt::format("{}: {}, {} stay", w.place(p.length), cut, w.place(std::max(p.length - p.cut, 0.0)));
}

void add_strip(PagePicture& page, Role role, double left, double right, double middle, double across) {
    const double half = 0.5 * across;
    page.shapes.push_back(
        {role, PagePart::normal,
         PagePath{{{left, middle - half}, {right, middle - half}, {right, middle + half}, {left, middle + half}},
                  true}});
}

/// The strip of a part; `per_metre`: mm on the page.
void add_part(PagePicture& page, const Part& p, double per_metre, const PageRect& area, double middle) {
    const double stays = std::max(p.length - p.cut, 0.0) * per_metre, whole = p.length * per_metre;
    const auto at = [&](double along) {
        return p.from_left ? area.left + margin_mm + along : area.right - margin_mm - along;
    };
    const Role role = p.guard ? Role::guard : p.from_left ? Role::shaft_tractor_half : Role::shaft_implement_half;
    add_strip(page, role, std::min(at(0.0), at(stays)), std::max(at(0.0), at(stays)), middle, p.across_mm);
    if (!(p.cut > 0.0)) return;
    add_strip(page, Role::ghost, std::min(at(stays), at(whole)), std::max(at(stays), at(whole)), middle, p.across_mm);
    const double reach = 0.5 * p.across_mm + overhang_mm;
    page.shapes.push_back(
        {Role::cut, PagePart::normal, PagePath{{{at(stays), middle - reach}, {at(stays), middle + reach}}, false}});
}

double add_text(PagePicture& page, const std::string& text, TextFace face, const PageRect& area, double y, Role role,
                const TextMeasure& measure) {
    return add_text_block(page, make_text_block(text, face, area.width(), measure), {area.left, y}, role, measure);
}

/// A state of the shaft: what it is, and the halves there.
struct State {
    std::string title, words;
    TelescopingHalves halves;
    double length = 0.0;
    CutPair marks;
    bool bad = false;
};

std::string say_gap(const ShaftMargins& m, const CutLimits& l, const SafeWords& w) {
    if (m.gap < -rounding_slack)
        return fmt::format("bottoms out by {}; a gap of {} is needed", w.need(-m.gap), w.need(l.gap_required));
    const ShownPair pair = w.have_need(m.gap, l.gap_required);
    return fmt::format("gap left {}; {} needed", pair.value, pair.limit);
}

std::string say_overlap(double overlap, double needed, const SafeWords& w) {
    if (overlap < -rounding_slack)
        return fmt::format("apart by {}; {} of overlap needed", w.need(-overlap), w.need(needed));
    const ShownPair pair = w.have_need(overlap, needed);
    return fmt::format("overlap {}; {} needed", pair.value, pair.limit);
}

bool lacks(double value, double needed) { return value < needed - rounding_slack; }

std::vector<State> list_states(const CutPicture& p, const SafeWords& w) {
    const TelescopingHalves after = find_cut_halves(p);
    const ShaftMargins was = find_margins(p.whole, p.travel, p.limits), is = find_margins(after, p.travel, p.limits);
    const std::string shortest = fmt::format("Shortest, {}", w.at_most(p.travel.shortest)),
                      longest = fmt::format("Longest, {}", w.at_least(p.travel.longest));
    const bool cut = p.cut.a > 0.0 || p.cut.b > 0.0;
    const auto gap = [&](const ShaftMargins& m) { return lacks(m.gap, p.limits.gap_required); };
    const auto overlap = [&](const ShaftMargins& m) { return lacks(m.overlap, m.overlap_needed); };
    std::vector<State> states{
        {shortest + ", whole", say_gap(was, p.limits, w), p.whole, p.travel.shortest, p.cut, gap(was)}};
    if (cut) states.push_back({shortest + ", cut", say_gap(is, p.limits, w), after, p.travel.shortest, {}, gap(is)});
    states.push_back({longest + ", whole", say_overlap(was.overlap, was.overlap_needed, w), p.whole, p.travel.longest,
                      p.cut, overlap(was)});
    if (cut)
        states.push_back({longest + ", cut",
                          say_overlap(is.overlap, is.overlap_needed, w),
                          after,
                          p.travel.longest,
                          {},
                          overlap(is)});
    return states;
}

/// Guard tubes before and after the cut; nothing where they are not measured.
struct GuardPair {
    GuardResult was, is;
};

std::optional<GuardPair> check_guards(const CutPicture& p) {
    if (!p.guard) return std::nullopt;
    const GuardPair g{check_guard_after_cut(p.whole, *p.guard, {}, p.travel),
                      check_guard_after_cut(p.whole, *p.guard, p.cut, p.travel)};
    return g.was.status == HalvesStatus::ok && g.is.status == HalvesStatus::ok ? std::optional(g) : std::nullopt;
}

bool guards_meet(const GuardResult& g) { return g.gap_at_shortest < -rounding_slack; }

/// Guard tubes that only touch ends at the longest length cover nothing there.
bool guards_too_short(const GuardResult& g, double needed) {
    return g.overlap_at_longest <= rounding_slack || lacks(g.overlap_at_longest, needed);
}

void add_guard_numbers(std::vector<CutNumber>& numbers, const CutPicture& p, const SafeWords& w) {
    const std::optional<GuardPair> g = check_guards(p);
    if (!g) return;
    const auto gap = [&](const GuardResult& r) {
        return guards_meet(r) ? fmt::format("meet by {}", w.need(-r.gap_at_shortest)) : w.have(r.gap_at_shortest);
    };
    const auto overlap = [&](const GuardResult& r) {
        return r.overlap_at_longest < -rounding_slack ? fmt::format("apart by {}", w.need(-r.overlap_at_longest))
                                                      : w.have(r.overlap_at_longest);
    };
    const double needed = p.guard_overlap_needed;
    numbers.push_back({"guard tubes: room at the shortest, they must not meet", gap(g->was), gap(g->is),
                       guards_meet(g->was), guards_meet(g->is)});
    numbers.push_back(
        {"guard tubes: overlap at the longest, " + (needed > 0.0 ? w.need(needed) + " needed" : "no bare gap allowed"),
         overlap(g->was), overlap(g->is), guards_too_short(g->was, needed), guards_too_short(g->is, needed)});
}

void add_state(PagePicture& page, const State& s, double per_metre, double left_end, const PageRect& area,
               double middle) {
    const double metre = 1.0 / per_metre;
    const ShaftLook look{tube_mm * metre, inner_share * tube_mm * metre, true};
    Drawing drawing;
    draw_shaft(drawing, {0.0, 0.0}, {s.length, 0.0}, s.length, s.halves, look);
    draw_cut_marks(drawing, {0.0, 0.0}, {s.length, 0.0}, s.length, s.halves, s.marks, look);
    Placement placement;
    placement.scale_denominator = 1000.0 / per_metre;
    placement.drawing_origin = {left_end, 0.0};
    placement.page_origin = {area.left + margin_mm + tube_mm, middle};
    for (PageShape& shape : place_shapes(drawing, placement)) page.shapes.push_back(std::move(shape));
}

}  // namespace

TelescopingHalves find_cut_halves(const CutPicture& p) {
    const CutHalves after = cut_halves(p.whole, p.cut);
    return after.status == CutStatus::ok ? after.halves : p.whole;
}

std::vector<CutNumber> list_cut_numbers(const CutPicture& p, const SafeWords& w) {
    const ShaftMargins was = find_margins(p.whole, p.travel, p.limits),
                       is = find_margins(find_cut_halves(p), p.travel, p.limits);
    const auto left = [&](double value, const char* lacking) {
        return value < -rounding_slack ? fmt::format("{} by {}", lacking, w.need(-value)) : w.have(value);
    };
    std::vector<CutNumber> numbers{{"closed length", w.need(was.closed_length), w.need(is.closed_length)}};
    numbers.push_back({fmt::format("gap at the shortest, {} needed", w.need(p.limits.gap_required)),
                       left(was.gap, "bottoms out"), left(is.gap, "bottoms out"), lacks(was.gap, p.limits.gap_required),
                       lacks(is.gap, p.limits.gap_required)});
    const auto needed = [&](double a, double b) {
        return w.need(a) == w.need(b) ? w.need(a) : fmt::format("{}, after the cut {}", w.need(a), w.need(b));
    };
    numbers.push_back({fmt::format("overlap at the longest, {} needed", needed(was.overlap_needed, is.overlap_needed)),
                       left(was.overlap, "apart"), left(is.overlap, "apart"), lacks(was.overlap, was.overlap_needed),
                       lacks(is.overlap, is.overlap_needed)});
    if (p.travel.longest_in_work > 0.0 && p.limits.overlap_fraction_in_work > 0.0)
        numbers.push_back(
            {fmt::format("overlap in work, {} needed", needed(was.overlap_in_work_needed, is.overlap_in_work_needed)),
             left(was.overlap_in_work, "apart"), left(is.overlap_in_work, "apart"),
             lacks(was.overlap_in_work, was.overlap_in_work_needed),
             lacks(is.overlap_in_work, is.overlap_in_work_needed)});
    add_guard_numbers(numbers, p, w);
    return numbers;
}

std::string say_guard_trouble(const CutPicture& p, const SafeWords& w) {
    const std::optional<GuardPair> g = check_guards(p);
    if (!g) return {};
    std::string text;
    if (guards_meet(g->is))
        text = fmt::format("The guard tubes meet {} before the shaft is at its shortest, {}.",
                           w.need(-g->is.gap_at_shortest), w.at_most(p.travel.shortest));
    if (!guards_too_short(g->is, p.guard_overlap_needed)) return text;
    if (!text.empty()) text += ' ';
    const double overlap = g->is.overlap_at_longest;
    if (overlap <= rounding_slack)
        return text + fmt::format("The guard tubes are apart by {} at the longest: bare shaft.", w.need(std::max(-overlap, 0.0)));
    const ShownPair pair = w.have_need(overlap, p.guard_overlap_needed);
    return text + fmt::format("The guard tubes overlap {} at the longest; {} needed.", pair.value, pair.limit);
}

double add_cut_parts(PagePicture& page, const CutPicture& p, const SafeWords& w, const PageRect& area,
                     const TextMeasure& measure) {
    const std::vector<Part> parts = list_parts(p);
    double longest = 0.01;
    for (const Part& part : parts) longest = std::max(longest, part.length);
    const double per_metre = (area.width() - 2.0 * margin_mm) / longest;
    double y = area.top;
    for (const Part& part : parts) {
        y = add_text(page, part.name, name_face, area, y, Role::label, measure);
        y = add_text(page, say_part(part, w), word_face, area, y, Role::label, measure) + overhang_mm + 0.6;
        add_part(page, part, per_metre, area, y + 0.5 * part.across_mm);
        y += part.across_mm + overhang_mm + gap_mm;
    }
    return y;
}

double add_cut_states(PagePicture& page, const CutPicture& p, const SafeWords& w, const PageRect& area,
                      const TextMeasure& measure) {
    const std::vector<State> states = list_states(p, w);
    double left = 0.0, right = 0.01;
    for (const State& s : states) {
        const ShaftLayout layout = lay_out_shaft(s.halves, s.length);
        left = std::min(left, layout.implement_end);
        right = std::max({right, s.length, layout.tractor_end});
    }
    const double per_metre = (area.width() - 2.0 * (margin_mm + tube_mm)) / (right - left);
    double y = area.top;
    for (const State& s : states) {
        y = add_text(page, s.title, name_face, area, y, Role::label, measure);
        y = add_text(page, s.bad ? "! " + s.words : s.words, s.bad ? name_face : word_face, area, y, Role::label,
                     measure) +
            overhang_mm + 0.8;
        add_state(page, s, per_metre, left, area, y + 0.6 * tube_mm);
        y += 1.2 * tube_mm + overhang_mm + gap_mm;
    }
    return y;
}

}  // namespace hitchwright
