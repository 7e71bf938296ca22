// See trace_sentences.h.
#include "report/trace_sentences.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/measure_hint.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr Caution cautions[] = {Caution::stop_before_touching, Caution::never_under_raised,
                                Caution::nobody_between,       Caution::keep_from_turning_shaft,
                                Caution::parts_or_breaks,      Caution::measure_before_cutting,
                                Caution::manual_rules};

bool is_drawn(const Setup& s) { return s.implement.attachment == Attachment::drawn; }

std::string say(double value, Dimension dimension, UnitSystem units) {
    if (dimension == Dimension::ratio) return fmt::format("{:.0f} %", 100.0 * value);
    if (dimension == Dimension::mass) return format_mass(value, units);
    if (dimension == Dimension::force) return format_force(value, units);
    const std::string sign = value < 0.0 ? "-" : "";
    return sign +
           (dimension == Dimension::angle ? format_angle(std::fabs(value)) : SafeWords{units}.place(std::fabs(value)));
}

/// What a complaint's margin is called.
const char* margin_noun(SeenKind kind) {
    switch (kind) {
        case SeenKind::knocks:
            return "a gap";
        case SeenKind::comes_apart:
            return "an overlap";
        case SeenKind::chatters:
            return "room to the joints' limits";
        case SeenKind::link_too_short:
        case SeenKind::link_too_long:
        case SeenKind::link_out_of_reach:
            return "thread";
        case SeenKind::will_not_lift:
            return "lift beyond its mass";
        case SeenKind::tyre_meets_tongue:
            return "a turn beyond what is driven";
        default:
            return "room";
    }
}

std::string say_complaint_row(const Setup& s, const SeenRow& row, UnitSystem units) {
    const Dimension d = seen_dimension(row.seen.kind);
    const std::string what = say_seen(s, row.seen, units);
    if (row.believed < 0.0)
        return fmt::format("{}: the set-up says so itself, by {}, +- {}.", what, say(-row.believed, d, units),
                           say(row.band, d, units));
    return fmt::format("{}: by the set-up {} of {} is left, +- {}.", what, margin_noun(row.seen.kind),
                       say(row.believed, d, units), say(row.band, d, units));
}

std::string say_sides(const CauseFit& f, UnitSystem units) {
    const Cause& c = f.cause;
    if (!is_by_amount(c.kind)) return {};
    const auto change = [&](double v) {
        const double size = std::fabs(v);
        const std::string text = c.dimension == Dimension::mass    ? format_mass(size, units)
                                 : c.dimension == Dimension::force ? format_force(size, units)
                                 : c.dimension == Dimension::angle ? format_angle(size)
                                 : size < 0.0032                 ? SafeWords{units}.fine(size)
                                                                 : SafeWords{units}.place(size);
        return fmt::format("{} {}", text, v > 0.0 ? "more" : "less");
    };
    std::string text = fmt::format("{}, {:.1f} times its usual error", change(f.best.change), f.tolerances);
    if (f.other)
        text += fmt::format("; or {}, {:.1f} times", change(f.other->change), std::fabs(f.other->change) / c.tolerance);
    return text;
}

}  // namespace

std::string say_share(double share) {
    if (share < 0.01) return "under 1 %";
    return fmt::format("{:.0f} %", 100.0 * share);
}

Dimension find_row_dimension(const TraceStudy& t, const Seen& seen) {
    if (seen.kind != SeenKind::reading) return seen_dimension(seen.kind);
    for (const auto* list : {&t.causes, &t.cannot}) {
        for (const CauseFit& f : *list)
            if (f.cause.key == seen.key && is_by_amount(f.cause.kind)) return f.cause.dimension;
    }
    return Dimension::length;
}

std::string say_row(const Setup& s, const TraceStudy& t, const SeenRow& row, UnitSystem units) {
    const Dimension d = find_row_dimension(t, row.seen);
    if (is_complaint(row.seen.kind)) return say_complaint_row(s, row, units);
    return fmt::format("{}: {} seen, {} by the set-up, {} apart; errors allow {}.", say_seen(s, row.seen, units),
                       say(row.target, d, units), say(row.believed, d, units),
                       say(std::fabs(row.target - row.believed), d, units), say(row.band, d, units));
}

bool is_known(const TraceStudy& t) { return !t.rows.rows.empty(); }

std::string say_answer(const TraceStudy& t, UnitSystem units) {
    if (!is_known(t)) return "NOT KNOWN. Nothing of what was seen can be reckoned from this set-up.";
    if (t.within_errors)
        return "NOTHING NEED BE WRONG: what is seen lies within the errors of the readings and of taking it.";
    if (t.causes.empty())
        return "NO SINGLE CHANGE gives all of what is seen. Two things at once are not looked for; take what was seen "
               "again, one thing at a time.";
    const CauseFit& first = t.causes.front();
    if (t.causes.size() == 1) return fmt::format("ONE SINGLE CHANGE gives what is seen: {}.", say_cause(first, units));
    return fmt::format("MOST PLAUSIBLE: {}. Plausibility {} of the {} that would give what is seen.",
                       say_cause(first, units), say_share(first.share), format_count(t.causes.size(), "single change"));
}

std::string say_cause_line(const Setup& s, const CauseFit& f, UnitSystem units) {
    std::string text = say_cause(f, units);
    const std::string sides = say_sides(f, units);
    if (!sides.empty()) text += ": " + sides;
    const std::string hint =
        f.cause.kind == CauseKind::reading ? find_measure_hint(f.cause.key, is_drawn(s)) : std::string();
    text += hint.empty() ? "." : fmt::format(". ({})", hint);
    return text;
}

std::string say_cannot(const Setup& s, const TraceStudy& t, const CauseFit& f, UnitSystem units) {
    if (!f.matters && f.closes) return "moves nothing of what was seen";
    if (!f.closes || f.best.predicted.empty()) return "with it the machine has no such position";
    std::size_t worst = 0;
    double most = -1.0;
    for (std::size_t i = 0; i < t.rows.rows.size(); ++i) {
        const SeenRow& r = t.rows.rows[i];
        const double off =
            is_complaint(r.seen.kind) ? std::max(0.0, f.best.predicted[i]) : std::fabs(r.target - f.best.predicted[i]);
        if (off / std::max(r.band, 1e-6) > most) most = off / std::max(r.band, 1e-6), worst = i;
    }
    const SeenRow& r = t.rows.rows[worst];
    const Dimension d = find_row_dimension(t, r.seen);
    const std::string gives =
        is_complaint(r.seen.kind)
            ? fmt::format("leaves {}", say(f.best.predicted[worst], d, units))
            : fmt::format("gives {} instead of {}", say(f.best.predicted[worst], d, units), say(r.target, d, units));
    if (!is_by_amount(f.cause.kind)) return fmt::format("cannot: it {} ({})", gives, say_seen(s, r.seen, units));
    if (f.best.change == 0.0) return "cannot: either way it only gets worse";
    // Of one observation the nearest that any size comes; of several the size that does best by all of them.
    if (t.rows.rows.size() == 1)
        return fmt::format("cannot: even {}, {} ({})", say_sides(f, units), gives, say_seen(s, r.seen, units));
    return fmt::format("cannot: at best, {}, it {} ({})", say_sides(f, units), gives, say_seen(s, r.seen, units));
}

std::string say_what_is_out(const CauseFit& f, UnitSystem units) {
    return is_by_amount(f.cause.kind) && f.best.change == 0.0  ? printable_text(f.cause.key, 70)
           : f.cause.kind == CauseKind::reading && !f.produces ? printable_text(f.cause.key, 70)
                                                               : say_cause(f, units);
}

std::string say_next(const Setup& s, const TraceStudy& t, UnitSystem units) {
    const SeparatingReading& n = *t.next;
    const Dimension d = find_row_dimension(t, n.what);
    std::string text = fmt::format("{}: {} if 1 is the cause, {} if 2 is", say_seen(s, n.what, units),
                                   say(n.under_first, d, units), say(n.under_second, d, units));
    text += fmt::format("; it is read to {}, and {} with what other readings leave open", say(n.error, d, units),
                        say(n.scatter, d, units));
    text += n.apart >= 1.0 ? fmt::format(": {:.1f} times as far apart as that.", n.apart)
                           : ". That does not tell them apart: no reading that is known here does.";
    std::string hint = n.what.kind == SeenKind::reading ? find_measure_hint(n.what.key, is_drawn(s)) : std::string();
    switch (n.what.kind) {
        case SeenKind::tail_height:
            hint = "floor to the underside of the rearmost point or wheel";
            break;
        case SeenKind::front_height:
            hint = "floor to the foremost edge of the deck";
            break;
        case SeenKind::pitch:
            hint = "angle finder on the frame, zeroed on the floor, rear up positive";
            break;
        case SeenKind::ball_height:
            hint = "floor to ball centre";
            break;
        case SeenKind::shaft_distance:
            hint = "centre of one cross to the centre of the other, in a straight line, PTO off";
            break;
        case SeenKind::gap:
            hint = "what the halves can still be pushed together, PTO off";
            break;
        case SeenKind::overlap:
            hint = "from marks on the tube: what is inside the other, PTO off";
            break;
        case SeenKind::drawbar_length:
            hint = "PTO end to pin centre, level";
            break;
        default:
            break;
    }
    return hint.empty() ? text : text + fmt::format(" ({})", hint);
}

std::vector<Caution> list_trace_cautions() { return {std::begin(cautions), std::end(cautions)}; }

}  // namespace hitchwright
