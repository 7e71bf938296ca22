// See trace_report.h.
#include "report/trace_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "geometry/setup_lines.h"
#include "report/line_words.h"
#include "report/safe_words.h"
#include "report/trace_sentences.h"

namespace hitchwright {
namespace {

constexpr std::size_t shown_causes = 6;

void add_causes(AnswerBuilder& out, const Setup& s, const TraceStudy& t, bool all) {
    if (t.causes.empty()) return;
    out.gap();
    out.heading("Single changes that give what is seen, most plausible first");
    const std::size_t shown = all ? t.causes.size() : std::min(shown_causes, t.causes.size());
    double rest = 1.0;
    for (std::size_t i = 0; i < shown; ++i) {
        rest -= t.causes[i].share;
        out.item(fmt::format("{:>3} {:>9}  ", i + 1, say_share(t.causes[i].share)),
                 say_cause_line(s, t.causes[i], out.style().units), 0, 15);
    }
    if (shown == t.causes.size()) return;
    const std::string more = fmt::format("and {} more that would give it too, together {}", t.causes.size() - shown,
                                         say_share(std::max(0.0, rest)));
    out.words(more + ": --all.", 4, 4, BlockPlace::terminal);
    out.words(more + ".", 4, 4, BlockPlace::window);
}

void add_cannot(AnswerBuilder& out, const Setup& s, const TraceStudy& t, bool all) {
    if (t.cannot.empty()) return;
    const UnitSystem units = out.style().units;
    if (!all) {
        const std::string count = fmt::format("{} cannot give it, whatever their size",
                                              format_count(t.cannot.size(), t.causes.empty() ? "change" : "other change"));
        out.words(count + ": --all.", 0, 0, BlockPlace::terminal);
        return out.words(count + ".", 0, 0, BlockPlace::window);
    }
    out.gap();
    out.heading("Changes that cannot give it, the nearest first");
    std::string still;
    for (const CauseFit& f : t.cannot) {
        if (!f.matters && f.closes) {
            still += (still.empty() ? "" : ", ") +
                     (is_by_amount(f.cause.kind) ? printable_text(f.cause.key, 70) : say_cause(f, units));
            continue;
        }
        out.item("  ", say_what_is_out(f, units) + ": " + say_cannot(s, t, f, units) + ".", 0, 4);
    }
    if (still.empty()) return;
    out.gap();
    out.heading("Changes that move nothing of what was seen");
    out.words(still + ".", 2, 4);
}

/// Slips among the foremost causes: seen at a glance, without a tape.
void add_looks(AnswerBuilder& out, const TraceStudy& t) {
    std::string looks;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, t.causes.size()); ++i) {
        const CauseFit& f = t.causes[i];
        if (!is_by_amount(f.cause.kind) && f.share >= 0.05)
            looks += (looks.empty() ? "" : "; ") + say_cause(f, out.style().units);
    }
    if (looks.empty()) return;
    out.gap();
    out.heading("Look first, before any tape: is it so?");
    out.words(looks + ".", 2, 2);
}

void add_rest(AnswerBuilder& out, const Setup& s, const TraceStudy& t) {
    if (t.not_used.empty() && t.not_tried.empty() && t.lines.empty()) return;
    out.gap();
    out.heading("Not in it");
    for (const SeenNotUsed& n : t.not_used)
        out.item("  ",
                 fmt::format("\"{}\" is not reckoned: {}.",
                             printable_text(n.seen.words.empty() ? say_seen(s, n.seen, out.style().units) : n.seen.words, 60),
                             printable_text(n.reason, 120)),
                 0, 4);
    for (const CauseNotTried& n : t.not_tried)
        out.item("  ",
                 fmt::format("{} not tried: {} is not known.",
                             n.kind == CauseKind::rear_tyre    ? "Rear tyres"
                             : n.kind == CauseKind::front_tyre ? "Front tyres"
                                                               : "Other points of the shaft",
                             printable_text(n.key, 60)),
                 0, 4);
    for (const ComplaintLine& l : t.lines)
        out.item("  ",
                 fmt::format("A line of the specifications names this complaint: {}{}.", printable_text(l.line, 60),
                             l.how_far.empty() ? "" : ", off by " + printable_text(l.how_far, 40)),
                 0, 4);
}

}  // namespace

std::vector<AnswerBlock> make_trace_blocks(const Setup& s, const TraceStudy& t, const TextStyle& style, bool all) {
    AnswerBuilder out(style);
    out.machines(s);
    out.gap();
    out.answer(say_answer(t, style.units));
    if (is_known(t)) {
        out.gap();
        out.heading("Seen at the machine");
    }
    for (const SeenRow& row : t.rows.rows) out.item("  ", say_row(s, t, row, style.units), 0, 4);
    add_causes(out, s, t, all);
    add_cannot(out, s, t, all);
    add_looks(out, t);
    if (t.next) {
        out.gap();
        out.heading("Read next, to tell 1 from 2");
        out.words(say_next(s, t, style.units), 2, 2);
    }
    add_rest(out, s, t);
    if (!t.causes.empty()) {
        out.gap();
        out.words(
            "One change at a time is looked for. The order comes from how well a change gives what is "
            "seen, how far out "
            "it would be against its usual error, and how often such a thing turns out to be the cause: "
            "weights by judgement, grade P, no source.",
            0, 0);
    }
    out.cautions(list_trace_cautions());
    return out.take();
}

std::string format_trace_report(const Setup& s, const TraceStudy& t, const TextStyle& style, bool all) {
    return format_blocks(make_trace_blocks(s, t, style, all), style);
}

std::vector<ComplaintLine> list_complaint_lines(const Setup& setup, UnitSystem units) {
    std::vector<ComplaintLine> lines;
    for (const LineResult& r : check_lines(setup)) {
        if (r.line.complaint.empty() || r.verdict == LineVerdict::in) continue;
        const std::string off = say_difference(r, units);
        lines.push_back({r.line.complaint, r.line.name, off.empty() ? say_measured(r.line, units) : off});
    }
    return lines;
}

}  // namespace hitchwright
