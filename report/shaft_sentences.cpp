// Sentences about length, overlap, cut, guards and evenness of the shaft; see finding_sentences.h.
#include <fmt/format.h>

#include <algorithm>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

/// "At ball height 8 in", at the beginning of a sentence.
std::string begin_where(const Finding& f, const SafeWords& w) {
    std::string text = format_where(f, w);
    if (!text.empty()) text.front() = 'A';
    return text;
}

/// The error band against the margin, when the finding is undecided because of it.
std::string format_band(const Finding& f, const SafeWords& w) {
    if (f.band <= 0.0) return {};
    if (f.severity == Severity::unknown) {
        const std::string where = format_where(f, w);
        return fmt::format(
            " The readings can be off by enough to move it {} either way (95 %): neither yes nor no can be said. A "
            "direct reading, shaft to shaft{}{}, settles it.",
            w.need(f.band), where.empty() ? "" : " ", where);
    }
    return fmt::format(" The readings may move it by {} (95 %).", w.need(f.band));
}

std::string format_shortest(const Finding& f, const SafeWords& w) {
    if (!has_term(f, "S_min")) return begin_where(f, w) + ".";
    return fmt::format("Shortest {}: {} between joint centres; the shaft closes to {}.", format_where(f, w),
                       w.at_most(find_term(f, "S_min")), w.at_least(find_term(f, "S_0")));
}

Sentences say_gap(const Finding& f, const SafeWords& w) {
    Sentences s;
    if (f.value < 0.0) {
        s.headline = fmt::format("Shaft bottoms out: {} too long at its shortest point", w.need(-f.value));
        s.detail = format_shortest(f, w);
        if (f.limit > 0.0) s.detail += fmt::format(" {} of gap must be left besides.", w.need(f.limit));
    } else {
        const ShownPair p = w.have_need(f.value, f.limit);
        const std::string margin = f.margin < 0.0 ? fmt::format(", {} short", p.difference) : "";
        const std::string needed = f.limit > 0.0 ? fmt::format(", {} needed", p.limit) : "";
        s.headline = fmt::format("Gap at the shortest point: {} left{}{}", p.value, needed, margin);
        s.detail = format_shortest(f, w);
        if (f.severity == Severity::watch) {
            s.detail += fmt::format(" A cut would aim for {}, to allow for what a tape misses.",
                                    w.need(find_term(f, "gap_aimed")));
        }
    }
    s.detail += format_band(f, w);
    return s;
}

/// " 6 1/2 in is one third of the 19 1/2 in tube.", from the finding's own terms, when that share decides.
std::string format_reason(const Finding& f, const std::string& needed, const SafeWords& w) {
    const double tube = std::max(find_term(f, "t_A"), find_term(f, "t_B")), share = find_term(f, "f");
    if (tube <= 0.0 || share * tube < find_term(f, "O_least")) return {};
    return fmt::format(" {} is {} of the {} tube.", needed, format_share(share), w.place(tube));
}

Sentences say_overlap(const Finding& f, const SafeWords& w, const FindingContext& context) {
    Sentences s;
    const std::string longest = has_term(f, "S_max")
                                    ? fmt::format("Longest {}: {} between joint centres.", format_where(f, w),
                                                  w.at_least(find_term(f, "S_max")))
                                    : begin_where(f, w) + ".";
    if (f.value < 0.0) {
        s.headline = fmt::format("Shaft comes apart: {} too short at its longest point", w.need(-f.value));
        s.detail = fmt::format("{} {} of overlap must be left besides.{}", longest, w.need(f.limit),
                               format_reason(f, w.need(f.limit), w));
    } else {
        const ShownPair p = w.have_need(f.value, f.limit);
        s.headline = fmt::format("Overlap at the longest point: {} left, {} needed{}", p.value, p.limit,
                                 f.margin < 0.0 ? fmt::format(", {} short", p.difference) : "");
        s.detail = longest + format_reason(f, p.limit, w);
    }
    if (f.margin < 0.0 && f.severity != Severity::unknown && !has_term(f, "heights_unknown")) {
        const std::string heights = format_heights(f.heights, w);
        s.detail += heights.empty() ? " Nowhere in the travel is there enough."
                                    : fmt::format(" Enough at ball heights {} only.", heights);
    }
    if (has_term(f, "tubes_assumed")) {
        s.detail += " A tube was not measured but assumed: measure both free tubes, root to end, before you rely on this.";
    }
    if (f.severity == Severity::watch && context.cut && !context.cut->plan.uncut.overlap_aim_reached) {
        s.detail += fmt::format(" {} of the tube would be better.",
                                capitalized(format_share(context.cut->limits.overlap_fraction_aimed)));
    }
    s.detail += format_band(f, w);
    return s;
}

Sentences say_overlap_in_work(const Finding& f, const SafeWords& w) {
    if (f.value < 0.0) {
        return {fmt::format("Shaft comes apart in work: {} too short", w.need(-f.value)),
                fmt::format("{}.", begin_where(f, w))};
    }
    const ShownPair p = w.have_need(f.value, f.limit);
    return {fmt::format("Overlap in work: {} left, {} needed{}", p.value, p.limit,
                        f.margin < 0.0 ? fmt::format(", {} short", p.difference) : ""),
            fmt::format("{}. Needed: {} of the longer tube in the working band.", begin_where(f, w),
                        format_share(find_term(f, "f")))};
}

Sentences say_cut(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    if (!context.cut) return {"Cut the shaft", fmt::format("At least {} from the longer half.", w.at_least(f.value))};
    const CutPlan& p = context.cut->plan;
    const char* const what = f.severity == Severity::unknown ? "By these readings, cut " : "Cut ";
    Sentences s{what + format_cut(p.recommended, p.recommended_step, w.units),
                format_what_cut_leaves(*context.cut, w)};
    if (p.answer == CutAnswer::cut_short_of_aim) {
        s.detail +=
            fmt::format(" The gap aimed for, {}, would cost too much overlap.", w.need(context.cut->limits.gap_aimed));
    }
    const CutCase& c = *context.cut;
    if (c.gap_band && p.after.gap - c.limits.gap_required < *c.gap_band - cut_tolerance) {
        s.detail +=
            fmt::format(" The readings may move that gap by {}: more than it has to spare.", w.need(*c.gap_band));
    }
    if (p.answer == CutAnswer::cut_between_marks)
        s.detail += " No mark of the tape lies between the least and the most: keep to the millimetres.";
    if (f.severity == Severity::unknown) {
        s.detail += fmt::format(" What the cut leaves has {} to spare, and the readings may move it by {} (95 %): "
                                "measure closer before cutting.",
                                w.have(f.margin), w.need(f.band));
    }
    return s;
}

Sentences say_no_cut(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    const std::string band = f.severity == Severity::unknown ? format_band(f, w) : std::string();
    if (context.cut) return {"No cut of this shaft works", format_cut_obstacle(context.cut->plan, w) + band};
    return {"No cut of this shaft works",
            fmt::format("{} of overlap are lacking after the least cut.{}", w.need(f.value), band)};
}

Sentences say_guard(const Finding& f, const SafeWords& w) {
    if (f.kind == FindingKind::guard_gap) {
        if (f.value < 0.0) {
            return {fmt::format("Guard tubes meet {} before the shaft is at its shortest", w.need(-f.value)),
                    fmt::format("{}. {}", begin_where(f, w),
                                f.other == "cured_by_cut" ? "The cut of both guard tubes puts it right."
                                                          : "Shorten both guard tubes; keep their overlap.")};
        }
        return {fmt::format("Guard tubes: {} left before they meet", w.have(f.value)),
                fmt::format("{}.", begin_where(f, w))};
    }
    const char* const when = f.other == "after_cut" ? "After the cut: g" : "G";
    const std::string where = fmt::format("{}.", begin_where(f, w));
    if (f.value <= 0.0)
        return {fmt::format("{}uard tubes {} apart at the longest point, shaft bare", when, w.need(-f.value)), where};
    const ShownPair p = w.have_need(f.value, f.limit);
    return {fmt::format("{}uard tubes overlap {} at the longest point, {} needed", when, p.value, p.limit), where};
}

Sentences say_ripple(const Finding& f) {
    Sentences s{fmt::format("Uneven rotation in work {}", format_percent(f.value, Rounding::up)), ""};
    if (f.has_limit) s.headline += fmt::format(", {} wanted at most", format_percent(f.limit, Rounding::down));
    if (f.severity == Severity::watch)
        s.detail = has_term(f, "wide_angle")
                       ? "Fastest less slowest speed in one revolution. The wide-angle joint turns evenly: the plain joint at "
                         "the other end is to run straighter."
                       : "Fastest less slowest speed in one revolution. Make the two joint angles more alike, and check that "
                         "the inner yokes stand in one plane.";
    if (f.has_attitude) {  // drawn
        s.detail += s.detail.empty() ? "" : " ";
        s.detail += "Straight ahead on level ground.";
        if (has_term(f, "turn")) s.detail += fmt::format(" In the level turn up to {}.", format_percent(find_term(f, "turn"), Rounding::up));
    }
    return s;
}

}  // namespace

Sentences say_shaft(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::gap_at_shortest:
            return say_gap(f, w);
        case FindingKind::overlap_at_longest:
        case FindingKind::separation:
            return say_overlap(f, w, context);
        case FindingKind::overlap_in_work:
            return say_overlap_in_work(f, w);
        case FindingKind::cut:
            return say_cut(f, context);
        case FindingKind::no_cut_works:
            return say_no_cut(f, context);
        case FindingKind::guard_gap:
        case FindingKind::guard_overlap:
            return say_guard(f, w);
        case FindingKind::non_uniformity:
            return say_ripple(f);
        default:
            return {};
    }
}

}  // namespace hitchwright
