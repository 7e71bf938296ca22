// Words for observations and causes; see trace_report.h.
#include <fmt/format.h>

#include <cmath>

#include "report/safe_words.h"
#include "report/trace_report.h"

namespace hitchwright {
namespace {

/// Below this (m) a change is named finer than a tape shows.
constexpr double finer_than_tape = 0.0032;

std::string say_value(double value, Dimension dimension, UnitSystem units, double change = 1.0) {
    if (dimension == Dimension::mass) return format_mass(value, units);
    if (dimension == Dimension::force) return format_force(value, units);
    if (dimension == Dimension::angle) return value < 0.0 ? "-" + format_angle(-value) : format_angle(value);
    const double size = std::fabs(value);
    const SafeWords w{units};
    const std::string text = std::fabs(change) < finer_than_tape ? w.fine(size) : w.place(size);
    return value < 0.0 ? "-" + text : text;
}

std::string name(const std::string& text) { return printable_text(text.empty() ? "(no name)" : text, 24); }

std::string say_half(const std::string& key) {
    return key.ends_with("tractor_half") ? "tractor half" : "implement half";
}

std::string say_part(const std::string& key) {
    if (key.starts_with("coupler")) return "quick coupler";
    if (key.starts_with("link_extender")) return "link extender";
    return key.starts_with("overrunning") ? "overrunning clutch" : "spline extender";
}

std::string say_points(const std::string& word) {
    if (word == "locking_grooves") return "between the locking grooves";
    return word == "shaft_ends" ? "between the shaft ends" : "between the joint centres";
}

std::string say_amount(const CauseFit& fit, UnitSystem units) {
    const Cause& c = fit.cause;
    const double change = fit.best.change;
    const std::string now = say_value(c.believed + change, c.dimension, units, change);
    const std::string was = say_value(c.believed, c.dimension, units, change);
    switch (c.kind) {
        case CauseKind::link_turned:
            return fmt::format("upper link {} long, not {}", now, was);
        case CauseKind::rod_changed:
            return c.key.ends_with(".length")
                       ? fmt::format("lift rods {} long, not {} as when heights were taped", now, was)
                       : fmt::format("foot of the lift rods {} along the links, not {} as when heights were taped", now,
                                     was);
        case CauseKind::rear_tyre:
            return fmt::format("rear tyres at a radius of {}, not {} as when heights were taped", now, was);
        case CauseKind::front_tyre:
            return fmt::format("front tyres at a radius of {}, not {} as when heights were taped", now, was);
        case CauseKind::cut_made:
            return fmt::format("{} cut by {}, not {}", say_half(c.key), now, was);
        case CauseKind::stop_moved:
            return fmt::format("{} at a ball height of {}, not {}",
                               c.key == "choices.lift_stop" ? "lift stop" : "lower stop", now, was);
        default:
            return fmt::format("{} is {}, not {}", printable_text(c.key, 70), now, was);
    }
}

}  // namespace

std::string_view seen_word(SeenKind kind) {
    switch (kind) {
        case SeenKind::tail_height:
            return "tail_height";
        case SeenKind::front_height:
            return "front_height";
        case SeenKind::pitch:
            return "pitch";
        case SeenKind::ball_height:
            return "ball_height";
        case SeenKind::shaft_distance:
            return "shaft_distance";
        case SeenKind::gap:
            return "gap";
        case SeenKind::overlap:
            return "overlap";
        case SeenKind::drawbar_length:
            return "drawbar_length";
        case SeenKind::reading:
            return "reading";
        case SeenKind::knocks:
            return "knocks";
        case SeenKind::comes_apart:
            return "comes_apart";
        case SeenKind::chatters:
            return "chatters";
        case SeenKind::tail_drags:
            return "tail_drags";
        case SeenKind::deck_touches:
            return "deck_touches";
        case SeenKind::link_too_short:
            return "link_too_short";
        case SeenKind::link_too_long:
            return "link_too_long";
        case SeenKind::link_out_of_reach:
            return "link_out_of_reach";
        case SeenKind::tyre_meets_tongue:
            return "tyre_meets_tongue";
        case SeenKind::will_not_lift:
            return "will_not_lift";
        case SeenKind::stated:
            return "stated";
    }
    return "stated";
}

std::string_view seen_place_word(SeenPlace place) {
    switch (place) {
        case SeenPlace::usual:
            return "usual";
        case SeenPlace::working:
            return "working";
        case SeenPlace::lowest:
            return "lowest";
        case SeenPlace::raised:
            return "raised";
        case SeenPlace::at_height:
            return "at_height";
        case SeenPlace::in_dips:
            return "in_dips";
        case SeenPlace::in_turns:
            return "in_turns";
    }
    return "usual";
}

std::string say_seen(const Setup& setup, const Seen& s, UnitSystem units) {
    const bool drawn = setup.implement.attachment == Attachment::drawn;
    const auto what = [&]() -> std::string {
        switch (s.kind) {
            case SeenKind::tail_height:
                return "tail height";
            case SeenKind::front_height:
                return "height of the front edge";
            case SeenKind::pitch:
                return "pitch";
            case SeenKind::ball_height:
                return "ball height";
            case SeenKind::shaft_distance:
                return "distance of the joint centres";
            case SeenKind::gap:
                return "gap left";
            case SeenKind::overlap:
                return "overlap";
            case SeenKind::drawbar_length:
                return "drawbar length";
            case SeenKind::reading:
                return printable_text(s.key, 70);
            case SeenKind::knocks:
                return "shaft knocks";
            case SeenKind::comes_apart:
                return "shaft comes apart";
            case SeenKind::chatters:
                return "chatters";
            case SeenKind::tail_drags:
                return "drags on the ground";
            case SeenKind::deck_touches:
                return "deck touches the guard of the shaft";
            case SeenKind::link_too_short:
                return "upper link too short";
            case SeenKind::link_too_long:
                return "upper link too long";
            case SeenKind::link_out_of_reach:
                return "upper link will not reach";
            case SeenKind::tyre_meets_tongue:
                return "tyre meets tongue in turns";
            case SeenKind::will_not_lift:
                return "will not lift";
            case SeenKind::stated:
                return printable_text(s.words, 60);
        }
        return {};
    };
    const bool at_working = s.kind <= SeenKind::pitch || s.kind == SeenKind::shaft_distance;
    const auto place = [&]() -> std::string {
        if (s.kind == SeenKind::reading || s.kind == SeenKind::drawbar_length || s.kind == SeenKind::tyre_meets_tongue)
            return {};
        switch (s.place) {
            case SeenPlace::working:
                return drawn ? ", straight and level" : " at working height";
            case SeenPlace::lowest:
                return ", lowest";
            case SeenPlace::raised:
                return ", fully raised";
            case SeenPlace::at_height:
                return " at a ball height of " + SafeWords{units}.place(s.height);
            case SeenPlace::in_dips:
                return " in dips";
            case SeenPlace::in_turns:
                return " in turns";
            case SeenPlace::usual:
                break;
        }
        if (s.kind == SeenKind::ball_height || s.kind == SeenKind::tail_drags) return ", fully raised";
        if (drawn)
            return is_complaint(s.kind) && s.kind != SeenKind::chatters ? ", worst turn and dip"
                                                                        : ", straight and level";
        if (at_working) return " at working height";
        return s.kind == SeenKind::gap || s.kind == SeenKind::overlap || s.kind == SeenKind::knocks ||
                       s.kind == SeenKind::comes_apart || s.kind == SeenKind::chatters
                   ? ", worst of the travel"
                   : "";
    };
    return what() + place();
}

std::string say_cause(const CauseFit& fit, UnitSystem units) {
    const Cause& c = fit.cause;
    if (is_by_amount(c.kind)) return say_amount(fit, units);
    switch (c.kind) {
        case CauseKind::tractor_hole:
            return fmt::format("upper link in hole {} of the tractor, not {}", name(c.to), name(c.from));
        case CauseKind::mast_hole:
            return fmt::format("upper link in hole {} of the mast, not {}", name(c.to), name(c.from));
        case CauseKind::rod_hole:
            return fmt::format("lift rods in hole {} of the lower links, not {}", name(c.to), name(c.from));
        case CauseKind::drawbar_position:
            return fmt::format("drawbar in position {}, not {}", name(c.to), name(c.from));
        case CauseKind::cut_forgotten:
            return "the cuts of the set-up were not made";
        case CauseKind::one_half_cut:
            return fmt::format("the {} was not cut", say_half(c.key));
        case CauseKind::shaft_points:
            return fmt::format("shaft measured {}, not {}", say_points(c.to), say_points(c.from));
        case CauseKind::part_missing:
            return say_part(c.key) + " not on the machine";
        case CauseKind::part_fitted:
            return say_part(c.key) + " on the machine after all";
        case CauseKind::sign_slip:
            return printable_text(c.key, 60) + " taken to the wrong side";
        case CauseKind::float_blocked:
            return "slot, chain or strap of the upper link does not move";
        default:
            return {};
    }
}

}  // namespace hitchwright
