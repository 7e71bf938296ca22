// See trust_text.h.
#include "report/trust_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/finding_band.h"
#include "geometry/next_reading.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t longest_key = 60;
constexpr int most_moved = 3;
/// A chance nearer to 0 or 1 than this is not told from it: the bands are no better known.
constexpr double least_chance = 1e-3;

std::string decimals(double number, double step, int places, std::string_view unit, Rounding rounding) {
    return format_ratio(round_to_step(number, step, rounding, step * 1e-6), places) + std::string(unit);
}

bool same_error(double a, double b, Dimension dimension, UnitSystem units) {
    return format_error_size(a, dimension, units, Rounding::up) == format_error_size(b, dimension, units, Rounding::up);
}

std::string join_keys(const std::vector<std::string>& keys) {
    std::string text;
    for (std::size_t i = 0; i < keys.size(); ++i) {
        text += i == 0 ? "" : i + 1 == keys.size() ? " and " : ", ";
        text += printable_text(keys[i], longest_key);
    }
    return text;
}

std::vector<std::string> list_left_out(const ModelFit& fit) {
    std::vector<std::string> keys;
    for (const FittedReading& r : fit.readings) {
        if (!r.fits) keys.push_back(r.key);
    }
    return keys;
}

std::string_view name_points(LengthReference points) {
    switch (points) {
        case LengthReference::joint_centres: return "the joint centres";
        case LengthReference::locking_grooves: return "the locking grooves";
        case LengthReference::shaft_ends: return "the ends of the shafts";
    }
    return "other points";
}

std::string say_fit_cause(const ModelFit& fit) {
    switch (fit.cause) {
        case DirectCause::unknown: return "No other hole and no other points would explain it: take it again.";
        case DirectCause::one_reading:
            return fmt::format("All the others fit: {} is the likely one. Take it again.", printable_text(fit.subject, longest_key));
        case DirectCause::other_points:
            return fmt::format("All would fit if the tape was held to {}: look what it was held to.", name_points(fit.points));
        case DirectCause::upper_link_pin:
            return fmt::format("All would fit with the upper link in hole {} on the tractor: look which hole it is in.", printable_text(fit.subject, 24));
        case DirectCause::mast_pin:
            return fmt::format("All would fit with the upper link in hole {} on the mast: look which hole it is in.", printable_text(fit.subject, 24));
        case DirectCause::drawbar_pin:
            return fmt::format("All would fit with the drawbar's pin in position {}: look which one it is in.", printable_text(fit.subject, 24));
    }
    return {};
}

std::string count_readings(int count) { return format_count(static_cast<std::size_t>(std::max(count, 0)), "direct reading"); }

const FittedReading* find_least_checked(const ModelFit& fit) {
    const FittedReading* least = nullptr;
    for (const FittedReading& r : fit.readings) {
        if (r.fits && (least == nullptr || r.chance_caught < least->chance_caught)) least = &r;
    }
    return least;
}

}  // namespace

std::string format_error_size(double error, Dimension dimension, UnitSystem units, Rounding rounding) {
    const bool inch = units == UnitSystem::inch;
    switch (dimension) {
        case Dimension::length:
            if (!inch) return error < 1e-4 ? decimals(error * 1e3, 0.01, 2, " mm", rounding) : format_millimetres(error, MillimetrePlaces::tenth, rounding);
            if (error > metres_per_sixteenth - rounding_slack) return format_inches(error, rounding);
            return decimals(error / metres_per_inch, 1e-3, 3, " in", rounding);
        case Dimension::angle: {
            const double degrees = to_degrees(error);
            return degrees > 0.1 - 1e-9 ? decimals(degrees, 0.1, 1, " deg", rounding) : decimals(degrees, 0.01, 2, " deg", rounding);
        }
        case Dimension::length_per_turn:
            return inch ? decimals(error / metres_per_inch, 1e-4, 4, " in/turn", rounding) : decimals(error * 1e3, 1e-3, 3, " mm/turn", rounding);
        case Dimension::ratio:
        case Dimension::count: return format_ratio(error, 3, rounding);
        default: return format_shown(error, dimension, units, rounding);
    }
}

std::string format_shown(double value, Dimension dimension, UnitSystem units, Rounding rounding) {
    switch (dimension) {
        case Dimension::length: return format_length(value, units, rounding);
        case Dimension::angle: return format_angle(value, rounding);
        case Dimension::mass: return format_mass(value, units, rounding);
        case Dimension::force: return format_force(value, units, rounding);
        case Dimension::power: return format_power(value, units, rounding);
        case Dimension::rotation_speed: return format_rotation_speed(value, rounding);
        case Dimension::pressure: return format_pressure(value, units, rounding);
        case Dimension::torque: return format_torque(value, units, rounding);
        case Dimension::length_per_turn: return format_decimal_quantity(value, dimension, units);
        case Dimension::ratio:
        case Dimension::count: break;
    }
    return format_ratio(value, 3, rounding);
}

std::string say_band(const ErrorBand& band, Dimension dimension, UnitSystem units) {
    const auto size = [&](double error) { return format_error_size(error, dimension, units, Rounding::up); };
    const bool even = same_error(band.below, band.above, dimension, units);
    return even ? "+- " + size(std::max(band.below, band.above)) : fmt::format("-{} / +{}", size(band.below), size(band.above));
}

std::string say_band_in_decimals(const ErrorBand& band, Dimension dimension, UnitSystem units) {
    const std::string below = format_decimal_quantity(band.below, dimension, units), above = format_decimal_quantity(band.above, dimension, units);
    return below == above ? "+- " + above : fmt::format("-{} / +{}", below, above);
}

std::string say_band_method(const ErrorBand& band) {
    switch (band.method) {
        case BandMethod::first_order: return "first order";
        case BandMethod::second_order: return "second order: it bends within the errors";
        case BandMethod::monte_carlo: return fmt::format("{} draws: it bends or changes its place within the errors", band.sample.size());
    }
    return "first order";
}

std::string say_chance(double chance) {
    if (!(chance >= least_chance)) return "under 1 in 1000";
    if (chance > 1.0 - least_chance) return "over 999 in 1000";
    if (chance <= 0.5) return fmt::format("1 in {:.0f}", std::max(2.0, std::floor(1.0 / chance + 1e-9)));
    const double of = std::ceil(1.0 / (1.0 - chance) - 1e-9);
    return fmt::format("{:.0f} in {:.0f}", of - 1.0, of);
}

std::string say_chance_of_breaking(const Finding& finding) {
    const std::optional<double> chance = find_chance_of_breaking(finding);
    return chance ? say_chance(*chance) : std::string();
}

std::string say_contributors(const Finding& f, UnitSystem units) {
    std::string text;
    for (const ReadingShare* share : {&f.error.widest, &f.error.second}) {
        if (share->reading.empty()) continue;
        text += fmt::format("{}{} ({})", text.empty() ? "" : ", ", printable_text(share->reading, longest_key),
                            format_error_size(share->share, f.dimension, units, Rounding::up));
    }
    return text;
}

std::string name_question(const Finding& f) {
    std::string text(finding_word(f.kind));
    if (!f.subject.empty()) text += ", " + printable_text(f.subject, 40);
    // Fixed words of kinds, tyres and axles; a name of the user's is a word less exact, and only here.
    std::replace(text.begin(), text.end(), '_', ' ');
    // The second thing of a comparison; elsewhere it is only another word for the answer.
    if (f.kind == FindingKind::clearance && !f.other.empty()) text += " to " + printable_text(f.other, 30);
    return text;
}

const Finding* find_decided_by(const Analysis& a) {
    if (a.decided_by.empty()) return nullptr;
    for (const Finding& f : a.findings) {
        const bool named = a.decided_by.starts_with(finding_word(f.kind)) && a.decided_by.ends_with(f.subject);
        if (named && f.has_limit && f.band > 0.0) return &f;
    }
    return find_decisive(a.findings);
}

std::string say_what_to_read(const NextReading& n) {
    if (n.again) return printable_text(n.key, longest_key) + " once more";
    switch (n.kind) {
        case DirectKind::shaft_length:
            return fmt::format("stub to input shaft{}, taped directly ([[{}]])", n.reference == LengthReference::locking_grooves ? ", groove to groove" : "",
                               n.at_turn ? "turn_reading" : "direct_reading");
        case DirectKind::pitch: return "pitch of the implement ([[pose_reading]])";
        case DirectKind::tail_height: return fmt::format("floor to {} ([[pose_reading]])", n.point.empty() ? "the rearmost point" : printable_text(n.point, 24));
        case DirectKind::upper_link_length: return "upper link, pin to pin, with the pitch ([[pose_reading]])";
        case DirectKind::lowest_ball_height: return "ball height, lever right down ([[pose_reading]])";
        case DirectKind::greatest_ball_height: return "ball height, lever right up ([[pose_reading]])";
    }
    return {};
}

std::string say_turn(double turn) {
    const std::string angle = format_angle(std::fabs(turn));
    return angle == format_angle(0.0) ? "straight on" : fmt::format("turned {} to the {}", angle, turn > 0.0 ? "right" : "left");
}

std::string say_where_to_read(const NextReading& n, UnitSystem units) {
    const bool end = n.kind == DirectKind::lowest_ball_height || n.kind == DirectKind::greatest_ball_height;
    if (n.again || end) return {};
    return n.at_turn ? "level, " + say_turn(n.turn) : "at ball height " + format_length(n.ball_height, units);
}

std::string say_next_reading(const NextReading& n, const Finding* of, UnitSystem units) {
    const std::string where = say_where_to_read(n, units);
    std::string text = fmt::format("{}{}{}", say_what_to_read(n), where.empty() ? "" : ", ", where);
    if (n.error > 0.0) text += ", to within " + format_error_size(n.error, n.dimension, units, Rounding::down);
    if (of != nullptr && n.band_after > 0.0 && n.band_after < n.band_now) {
        text += fmt::format(": the band of \"{}\" falls from {} to {}", name_question(*of), format_error_size(n.band_now, of->dimension, units, Rounding::up),
                            format_error_size(n.band_after, of->dimension, units, Rounding::up));
    }
    return text + ".";
}

std::string say_fit_use(const Analysis& a) {
    if (!a.fit || a.fit->readings.empty()) return {};
    const ModelFit& fit = *a.fit;
    if (fit.used) {
        const bool cut = (a.shaft && a.shaft->has_plan) || (a.drawn && a.drawn->has_plan);
        return fmt::format("The model was fitted to {}: the answer{} from the fitted model.", count_readings(fit.kept), cut ? ", and the cut, come" : " comes");
    }
    const std::size_t left_out = list_left_out(fit).size();
    const std::string why = fit.too_far    ? "together they stand farther from the model than all errors explain"
                            : left_out == 0 ? "they tell nothing of it"
                                            : fmt::format("{} of {} did not fit", left_out, fit.readings.size());
    return fmt::format("The answer does not use the {}: {}. It comes from the readings of the files alone.", fit.readings.size() == 1 ? "direct reading" : "direct readings", why);
}

std::string say_model_source(const Analysis& a) {
    return a.fit && a.fit->used ? "from the model fitted to " + count_readings(a.fit->kept) : std::string();
}

std::string say_moved_inputs(const ModelFit& fit, UnitSystem units) {
    std::string text;
    int moved = 0;
    for (const FittedInput& i : fit.inputs) {
        if (!i.beyond || ++moved > most_moved) continue;
        text += fmt::format("{}{} from {} to {} (good to {})", text.empty() ? "" : "; ", printable_text(i.key, longest_key),
                            format_shown(i.read, i.dimension, units), format_shown(i.fitted, i.dimension, units),
                            format_error_size(i.error, i.dimension, units, Rounding::up));
    }
    if (moved == 0) return {};
    if (moved > most_moved) text += fmt::format("; and {} more", moved - most_moved);
    return fmt::format("Moved by more than {} to fit: {}. Take {} again.", moved == 1 ? "its tolerance" : "their tolerances", text, moved == 1 ? "it" : "them");
}

std::string say_misfits(const ModelFit& fit, UnitSystem units) {
    const std::vector<std::string> left_out = list_left_out(fit);
    if (left_out.empty()) return {};
    std::string text;
    for (const FittedReading& r : fit.readings) {
        if (r.fits) continue;
        text += fmt::format("{}{} ({} read, {} fitted)", text.empty() ? "" : ", ", printable_text(r.key, longest_key), format_shown(r.read, r.dimension, units),
                            format_shown(r.fitted, r.dimension, units));
    }
    text = fmt::format("{} not fit and {} left out, not absorbed: {}. {}", left_out.size() == 1 ? "One reading does" : fmt::format("{} readings do", left_out.size()),
                       left_out.size() == 1 ? "was" : "were", text, say_fit_cause(fit));
    if (!fit.equally.empty()) text += fmt::format(" Or {} is wrong: the readings do not tell which.", join_keys(fit.equally));
    return text;
}

std::string say_unchecked(const ModelFit& fit, UnitSystem units) {
    std::vector<std::string> keys;
    for (const FittedReading& r : fit.readings) {
        if (r.fits && r.chance_caught < checkable_chance) keys.push_back(r.key);
    }
    if (keys.empty()) return {};
    std::string text = fmt::format("Not checked by the others: {}. One off by {:.0f} of its tolerances might pass unseen.", join_keys(keys), gross_tolerances);
    if (const FittedReading* least = find_least_checked(fit); fit.would_check && least != nullptr) {
        text += fmt::format(" What would check {}: {}", printable_text(least->key, longest_key), say_next_reading(*fit.would_check, nullptr, units));
    }
    return text;
}

std::vector<std::string> list_trust_sentences(const Analysis& a, UnitSystem units) {
    std::vector<std::string> sentences;
    const auto add = [&](std::string text) {
        if (!text.empty()) sentences.push_back(std::move(text));
    };
    if (a.fit && !a.fit->readings.empty()) {
        add(say_fit_use(a));
        add(say_moved_inputs(*a.fit, units));
        add(say_misfits(*a.fit, units));
    }
    if (a.verdict == Verdict::too_close_to_call && !a.next.empty()) add("Best read next: " + say_next_reading(a.next.front(), find_decided_by(a), units));
    return sentences;
}

std::string_view band_method_word(BandMethod method) {
    switch (method) {
        case BandMethod::first_order: return "first_order";
        case BandMethod::second_order: return "second_order";
        case BandMethod::monte_carlo: return "monte_carlo";
    }
    return "first_order";
}

std::string_view direct_kind_word(DirectKind kind) {
    switch (kind) {
        case DirectKind::shaft_length: return "shaft_length";
        case DirectKind::pitch: return "pitch";
        case DirectKind::tail_height: return "tail_height";
        case DirectKind::upper_link_length: return "upper_link_length";
        case DirectKind::lowest_ball_height: return "lowest_ball_height";
        case DirectKind::greatest_ball_height: return "greatest_ball_height";
    }
    return "shaft_length";
}

std::string_view direct_cause_word(DirectCause cause) {
    switch (cause) {
        case DirectCause::unknown: return "unknown";
        case DirectCause::one_reading: return "one_reading";
        case DirectCause::other_points: return "other_points";
        case DirectCause::upper_link_pin: return "upper_link_pin";
        case DirectCause::mast_pin: return "mast_pin";
        case DirectCause::drawbar_pin: return "drawbar_pin";
    }
    return "unknown";
}

}  // namespace hitchwright
