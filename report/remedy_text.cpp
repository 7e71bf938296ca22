// Remedies in words; see finding_text.h. A number that must not be passed is rounded to the safe side of its own sense.
#include <fmt/format.h>

#include <cmath>

#include "report/space_text.h"
#include "report/finding_sentences.h"
#include "report/measure_hint.h"
#include "report/space_text.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

/// "Measure KEY again to within 1/16 in (as it is: 1/4 in): hint."
std::string format_retake(const Remedy& r, const FindingContext& context) {
    const std::optional<FieldSpec> spec = find_reading_spec(r.subject);
    const std::string key = printable_text(r.subject), hint = find_measure_hint(r.subject, context.drawn), behind = hint.empty() ? "" : ": " + hint;
    if (!spec) return fmt::format("Measure {} again, closer{}.", key, behind);
    const auto size = [&](double error, Rounding rounding) { return format_error_size(error, spec->dimension, context.words.units, rounding); };
    const auto now = context.errors.find(r.subject);
    const std::string as_it_is = now == context.errors.end() ? "" : fmt::format(" (as it is: {})", size(now->second, Rounding::up));
    return fmt::format("Measure {} again to within {}{}{}.", key, size(r.second, Rounding::down), as_it_is, behind);
}

std::string format_measure(const Remedy& r, const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    const std::string key = printable_text(r.subject);
    const std::string hint = find_measure_hint(r.subject, context.drawn);
    if (f.subject == "choices.drawbar_pin")
        return "Name one of the positions there are: --set choices.drawbar_pin=NAME.";
    if (f.subject == "tractor.drawbar_pin")
        return fmt::format("Measure the length of each position of the pin, [[tractor.drawbar_pin]]: {}.",
                           find_measure_hint("tractor.drawbar_pin.length", context.drawn));
    if (f.subject == "choices.tyre_set") return "Name one of the tyre sets there are: --set choices.tyre_set=NAME, or none.";
    if (f.kind == FindingKind::other_tyres) return hint.empty() ? fmt::format("Give {}.", key) : fmt::format("Measure {}: {}.", key, hint);
    if (f.other == "no_such_pin" || f.other == "pin_not_chosen")
        return fmt::format("Name one of the holes there are: --set {}=NAME.", key);
    if (f.other == "contradiction" && f.kind == FindingKind::missing_reading)
        return "Measure again: closed length, both free tubes, overlap of the closed shaft.";
    if (f.subject == "driveline.use") return "Name the shaft: --set driveline.use=NAME, or in the set-up.";
    if (f.other == "missing" || f.other == "impossible" || f.other == "depth_unknown")
        return hint.empty() ? fmt::format("Give {}.", key) : fmt::format("Measure {}: {}.", key, hint);
    if (r.subject == "direct_reading")
        return "Tape stub to input shaft at the lowest, a middle and the highest height, as close as you can: [[direct_reading]].";
    if (r.subject == "turn_reading")
        return "Tape stub to input shaft straight on and at the sharpest turns either way, level: [[turn_reading]].";
    if (r.subject == "tractor.ball_reading")
        return "Read one ball at three heights or more, far apart, from hub mark and floor: [[ball_reading]].";
    if (f.kind == FindingKind::direct_travel)
        return fmt::format("Measure {}{}.", key, hint.empty() ? "" : ": " + hint);
    if (f.kind == FindingKind::specification_not_measured) return fmt::format("Measure \"{}\".", printable_text(f.subject));
    if (f.kind == FindingKind::specification_line) return fmt::format("Measure \"{}\" again, closer.", printable_text(f.subject));
    if (key.empty()) return "Measure again, closer.";
    if (r.second > 0.0) return format_retake(r, context);
    const std::string size = f.dimension == Dimension::angle   ? format_angle(r.value, Rounding::up)
                             : f.dimension == Dimension::mass  ? format_mass(r.value, w.units, Rounding::up)
                             : f.dimension == Dimension::ratio ? format_percent(r.value, Rounding::up)
                                                               : w.need(r.value);
    const std::string share = r.value > 0.0 ? fmt::format(" Its error alone moves this by {}.", size) : "";
    return fmt::format("Measure {} closer{}.{}", key, hint.empty() ? "" : ": " + hint, share);
}

std::string format_hole(const Remedy& r, std::string_view where) {
    if (r.subject.empty()) return fmt::format("Try another hole {}.", where);
    const std::string angle =
        r.value > 0.0 ? fmt::format(": joints then bend {} at most in work", format_angle(r.value, Rounding::up)) : "";
    return fmt::format("Use hole {} {}{}. The upper link then wants another length.", printable_text(r.subject, 24),
                       where, angle);
}

/// The value of "get the right part", in the measure of what has to match; empty when the remedy has none.
std::string format_match_value(const Remedy& r, const Finding& f, const SafeWords& w) {
    if (r.value == 0.0) return {};
    switch (f.kind) {
        case FindingKind::pin_match:
            return w.fine(r.value);
        case FindingKind::driveline_power:
            return "at least " + format_power(r.value, w.units, Rounding::up);
        case FindingKind::pto_spline_match:
            return fmt::format("{:.0f} splines", r.value);
        case FindingKind::guard_overlap:
            return w.need(r.value) + " more";
        default:
            return w.place(r.value);
    }
}

std::string format_match(const Remedy& r, const Finding& f, const SafeWords& w) {
    if (f.kind == FindingKind::pto_rotation_match)
        return "The implement needs the rotation it is made for: ask its maker.";
    const std::string part = r.subject.empty() ? "a part that matches" : printable_text(r.subject, 100);
    const std::string value = format_match_value(r, f, w);
    return fmt::format("Use {}{}.", part, value.empty() ? value : fmt::format(" ({})", value));
}

std::string format_cut_remedy(const Remedy& r, const FindingContext& context) {
    CutPair cut{r.value, r.second};
    if (r.kind == RemedyKind::cut_tractor_half) cut = {r.value, 0.0};
    if (r.kind == RemedyKind::cut_implement_half) cut = {0.0, r.value};
    const double step = context.cut ? context.cut->plan.recommended_step : -1.0;
    if (step >= 0.0) return "Cut " + format_cut(cut, step, context.words.units) + ".";
    const double marks = context.words.units == UnitSystem::inch ? sixteenth_inch_mark.step : millimetre_mark.step;
    return "Cut " + format_cut(cut, marks, context.words.units) + ".";
}

std::string format_stop(const Remedy& r, const Finding& f, const SafeWords& w) {
    const bool below = r.subject == "below" || f.kind == FindingKind::dead_centre_in_travel;
    if (below) return fmt::format("Set a lift stop clearly below a ball height of {}.", w.at_most(r.value));
    return fmt::format("Set a lift stop at a ball height of {} or lower.", w.at_most(r.value));
}

std::string format_pto_off(const Remedy& r, const Finding& f, const SafeWords& w) {
    const bool below = r.subject == "below";
    return fmt::format("{} {} a ball height of {}.", f.other == "no_work" ? "No work" : "PTO off",
                       below ? "below" : "above", below ? w.at_least(r.value) : w.at_most(r.value));
}

std::string format_working_height(const Remedy& r, const SafeWords& w) {
    if (r.value == 0.0 && r.second == 0.0)
        return "Set the working height so that nothing but wheels, rollers and tools meets the ground.";
    return fmt::format("Work between ball heights {} and {}.", w.at_least(r.value), w.at_most(r.second));
}

/// Above 90 deg the other wheel comes first; to the line of the ditch it is the same angle.
std::string format_crossing(double angle) {
    constexpr double half_turn = 3.14159265358979323846;
    const bool blunt = angle > 0.5 * half_turn;
    return fmt::format("Cross at {} to the line of the ditch or flatter (square is 90.0 deg{}).",
                       format_angle(blunt ? half_turn - angle : angle, Rounding::down),
                       blunt ? fmt::format("; {} as the set-up counts it", format_angle(angle, Rounding::up)) : "");
}

}  // namespace

std::string format_remedy(const Remedy& r, const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (r.kind) {
        case RemedyKind::cut_both_halves:
        case RemedyKind::cut_tractor_half:
        case RemedyKind::cut_implement_half:
            return format_cut_remedy(r, context);
        case RemedyKind::order_shaft:
            return fmt::format(
                "Get a shaft that closes to {} or less and, with the overlap it needs still left, reaches {} or more, between "
                "joint centres.",
                w.at_most(r.value), w.at_least(r.second));
        case RemedyKind::longer_shaft:
            return fmt::format("Use a shaft with longer tubes: {} more overlap is needed.", w.need(r.value));
        case RemedyKind::set_upper_link:
            return fmt::format("Set the upper link to {}, pin centre to pin centre.", w.place(r.value));
        case RemedyKind::set_lift_rod:
            return fmt::format("Set the {} lift rod to {}, pin centre to pin centre{}; never past its groove.", r.subject, w.place(r.value),
                               r.second == 0.0 ? std::string() : ": " + format_rod_turns(r.second));
        case RemedyKind::other_upper_link_pin:
            return format_hole(r, "on the tractor for the upper link");
        case RemedyKind::other_rod_hole:
            return fmt::format("Put both lift rods in hole {} of the lower links, and tape the ball heights again.", printable_text(r.subject, 24));
        case RemedyKind::other_mast_pin:
            return format_hole(r, "on the mast");
        case RemedyKind::lift_stop:
            return format_stop(r, f, w);
        case RemedyKind::lower_stop:
            return fmt::format("Keep the hitch from going below a ball height of {}.", w.at_least(r.value));
        case RemedyKind::pto_off_above:
            return format_pto_off(r, f, w);
        case RemedyKind::working_height:
            return format_working_height(r, w);
        case RemedyKind::measure:
            return format_measure(r, f, context);
        case RemedyKind::bushing:
            return fmt::format("Fit a bushing: {} inside, {} outside.", w.fine(r.value), w.fine(r.second));
        case RemedyKind::match_part:
            return format_match(r, f, w);
        case RemedyKind::drawbar_away:
            return "Push the drawbar in, swing it aside or take it off.";
        case RemedyKind::other_drawbar_pin:
            return fmt::format("Put the drawbar's pin in position {}.", printable_text(r.subject, 24));
        case RemedyKind::drawbar_length:
            return fmt::format("Set the drawbar to {} to {}, PTO end to pin: with that the shaft serves as it is.", w.at_least(r.value),
                               w.at_most(r.second));
        case RemedyKind::set_to_specification:
            return format_specification_step(r, f, w.units);
        case RemedyKind::turn_at_most:
            return fmt::format("PTO off beyond {} of turn to the {}.", format_angle(r.value, Rounding::down), r.subject);
        case RemedyKind::crossing_angle:
            return format_crossing(r.value);
        case RemedyKind::ditch_depth:
            return fmt::format("Keep to places where it is {} deep or less.", w.at_most(std::fabs(r.value)));
        case RemedyKind::front_ballast:
            return fmt::format("Put {} in front altogether, its centre {}{}; weigh both axles then.",
                               format_mass(r.value, w.units, Rounding::up),
                               std::fabs(r.second) < 1e-9 ? "at the front axle" : fmt::format("{} {} the front axle", w.place(std::fabs(r.second)), r.second > 0.0 ? "ahead of" : "behind"),
                               r.subject == "assumed" ? " (less does farther ahead: give choices.ballast.front_ahead)" : "");
        case RemedyKind::rear_ballast:
            return fmt::format("Put {} at the rear altogether, its centre {}.", format_mass(r.value, w.units, Rounding::up),
                               std::fabs(r.second) < 1e-9 ? "in the rear wheels" : fmt::format("{} {} the rear axle", w.place(std::fabs(r.second)), r.second > 0.0 ? "behind" : "ahead of"));
    }
    return {};
}

bool is_retake(const Remedy& r) { return r.kind == RemedyKind::measure && r.second > 0.0; }

std::string format_retakes(const Finding& f, const FindingContext& context) {
    std::string text;
    for (const Remedy& r : f.remedies) {
        if (!is_retake(r)) continue;
        std::string step = format_remedy(r, f, context);
        if (!text.empty() && step.starts_with('M')) step.front() = 'm';
        text += text.empty() ? step : " With it, " + step;
    }
    return text;
}

std::string_view remedy_word(RemedyKind kind) {
    switch (kind) {
        case RemedyKind::cut_both_halves:
            return "cut_both_halves";
        case RemedyKind::cut_tractor_half:
            return "cut_tractor_half";
        case RemedyKind::cut_implement_half:
            return "cut_implement_half";
        case RemedyKind::order_shaft:
            return "order_shaft";
        case RemedyKind::longer_shaft:
            return "longer_shaft";
        case RemedyKind::set_upper_link:
            return "set_upper_link";
        case RemedyKind::set_lift_rod:
            return "set_lift_rod";
        case RemedyKind::other_upper_link_pin:
            return "other_upper_link_pin";
        case RemedyKind::other_rod_hole:
            return "other_rod_hole";
        case RemedyKind::other_mast_pin:
            return "other_mast_pin";
        case RemedyKind::lift_stop:
            return "lift_stop";
        case RemedyKind::lower_stop:
            return "lower_stop";
        case RemedyKind::pto_off_above:
            return "pto_off_above";
        case RemedyKind::working_height:
            return "working_height";
        case RemedyKind::measure:
            return "measure";
        case RemedyKind::bushing:
            return "bushing";
        case RemedyKind::match_part:
            return "match_part";
        case RemedyKind::drawbar_away:
            return "drawbar_away";
        case RemedyKind::other_drawbar_pin:
            return "other_drawbar_pin";
        case RemedyKind::drawbar_length:
            return "drawbar_length";
        case RemedyKind::set_to_specification:
            return "set_to_specification";
        case RemedyKind::turn_at_most:
            return "turn_at_most";
        case RemedyKind::crossing_angle:
            return "crossing_angle";
        case RemedyKind::ditch_depth:
            return "ditch_depth";
        case RemedyKind::front_ballast:
            return "front_ballast";
        case RemedyKind::rear_ballast:
            return "rear_ballast";
    }
    return "measure";
}

const std::vector<RemedyKind>& all_remedy_kinds() {
    static const std::vector<RemedyKind> all = [] {
        std::vector<RemedyKind> list;
        for (int k = 0; k <= static_cast<int>(RemedyKind::rear_ballast); ++k)
            list.push_back(static_cast<RemedyKind>(k));
        return list;
    }();
    return all;
}

}  // namespace hitchwright
