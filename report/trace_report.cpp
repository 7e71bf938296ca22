// See trace_report.h.
#include "report/trace_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/caution_text.h"
#include "report/fit_report.h"
#include "report/safe_words.h"
#include "report/trace_sentences.h"

namespace hitchwright {
namespace {

constexpr std::size_t shown_causes = 6;
std::string format_causes(const Setup& s, const TraceStudy& t, const TextStyle& style, bool all) {
    if (t.causes.empty()) return {};
    std::string text = "\nSingle changes that give what is seen, most plausible first\n";
    const std::size_t shown = all ? t.causes.size() : std::min(shown_causes, t.causes.size());
    double rest = 1.0;
    for (std::size_t i = 0; i < shown; ++i) {
        rest -= t.causes[i].share;
        text += format_labelled(fmt::format("{:>3} {:>9}  ", i + 1, say_share(t.causes[i].share)),
                                say_cause_line(s, t.causes[i], style.units), style.width, 0, 15);
    }
    if (shown < t.causes.size())
        text += format_paragraph(fmt::format("and {} more that would give it too, together {}: --all.",
                                             t.causes.size() - shown, say_share(std::max(0.0, rest))),
                                 style.width, 4, 4);
    return text;
}

std::string format_cannot(const Setup& s, const TraceStudy& t, const TextStyle& style, bool all) {
    if (t.cannot.empty()) return {};
    if (!all)
        return format_paragraph(
            fmt::format("{} cannot give it, whatever their size: --all.",
                        format_count(t.cannot.size(), t.causes.empty() ? "change" : "other change")),
            style.width, 0, 0);
    std::string text = "\nChanges that cannot give it, the nearest first\n", still;
    for (const CauseFit& f : t.cannot) {
        if (!f.matters && f.closes) {
            still += (still.empty() ? "" : ", ") +
                     (is_by_amount(f.cause.kind) ? printable_text(f.cause.key, 70) : say_cause(f, style.units));
            continue;
        }
        text += format_labelled("  ", say_what_is_out(f, style.units) + ": " + say_cannot(s, t, f, style.units) + ".",
                                style.width, 0, 4);
    }
    if (!still.empty())
        text += "\nChanges that move nothing of what was seen\n" + format_paragraph(still + ".", style.width, 2, 4);
    return text;
}

/// Slips among the foremost causes: seen at a glance, without a tape.
std::string format_looks(const TraceStudy& t, const TextStyle& style) {
    std::string looks;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, t.causes.size()); ++i) {
        const CauseFit& f = t.causes[i];
        if (!is_by_amount(f.cause.kind) && f.share >= 0.05)
            looks += (looks.empty() ? "" : "; ") + say_cause(f, style.units);
    }
    return looks.empty()
               ? looks
               : "\nLook first, before any tape: is it so?\n" + format_paragraph(looks + ".", style.width, 2, 2);
}

std::string format_rest(const Setup& s, const TraceStudy& t, const TextStyle& style) {
    std::string text;
    for (const SeenNotUsed& n : t.not_used)
        text += format_labelled(
            "  ",
            fmt::format("\"{}\" is not reckoned: {}.",
                        printable_text(n.seen.words.empty() ? say_seen(s, n.seen, style.units) : n.seen.words, 60),
                        printable_text(n.reason, 120)),
            style.width, 0, 4);
    for (const CauseNotTried& n : t.not_tried)
        text += format_labelled("  ",
                                fmt::format("{} not tried: {} is not known.",
                                            n.kind == CauseKind::rear_tyre    ? "Rear tyres"
                                            : n.kind == CauseKind::front_tyre ? "Front tyres"
                                                                              : "Other points of the shaft",
                                            printable_text(n.key, 60)),
                                style.width, 0, 4);
    for (const ComplaintLine& l : t.lines)
        text += format_labelled(
            "  ",
            fmt::format("A line of the specifications names this complaint: {}{}.", printable_text(l.line, 60),
                        l.how_far.empty() ? "" : ", off by " + printable_text(l.how_far, 40)),
            style.width, 0, 4);
    return text;
}

}  // namespace

std::string format_trace_report(const Setup& s, const TraceStudy& t, const TextStyle& style, bool all) {
    std::string text =
        format_machines(s, style) + "\n" + format_paragraph(say_answer(t, style.units), style.width, 0, 0);
    if (is_known(t)) text += "\nSeen at the machine\n";
    for (const SeenRow& row : t.rows.rows)
        text += format_labelled("  ", say_row(s, t, row, style.units), style.width, 0, 4);
    text += format_causes(s, t, style, all);
    text += format_cannot(s, t, style, all);
    text += format_looks(t, style);
    if (t.next)
        text += "\nRead next, to tell 1 from 2\n" + format_paragraph(say_next(s, t, style.units), style.width, 2, 2);
    const std::string rest = format_rest(s, t, style);
    if (!rest.empty()) text += "\nNot in it\n" + rest;
    if (!t.causes.empty())
        text += "\n" + format_paragraph(
                           "One change at a time is looked for. The order comes from how well a change gives what is "
                           "seen, how far out "
                           "it would be against its usual error, and how often such a thing turns out to be the cause: "
                           "weights by judgement, grade P, no source.",
                           style.width, 0, 0);
    text += "\nCautions\n";
    for (const Caution c : list_trace_cautions()) text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    return text;
}

}  // namespace hitchwright
