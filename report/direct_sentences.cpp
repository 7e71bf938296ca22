// Sentences about direct readings and pins found from ball readings; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/cut_words.h"
#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

std::string points_name(std::string_view word) {
    if (word == "points_locking_grooves") return "the locking grooves";
    if (word == "points_shaft_ends") return "the ends of the shafts";
    return "the joint centres";
}

/// What would explain a contradiction.
std::string say_cause(const Finding& f) {
    if (f.other == "one_reading")
        return fmt::format("All the others agree: take reading {} again.", printable_text(f.subject, 24));
    if (f.other.starts_with("points_"))
        return fmt::format("All would agree if they were taken between {}: look what the tape was held to.", points_name(f.other));
    if (f.other == "upper_link_pin")
        return fmt::format("All would agree with the upper link in hole {} on the tractor: look which hole it is in.",
                           printable_text(f.subject, 24));
    if (f.other == "mast_pin")
        return fmt::format("All would agree with the upper link in hole {} on the mast: look which hole it is in.",
                           printable_text(f.subject, 24));
    if (f.other == "drawbar_pin")
        return fmt::format("All would agree with the drawbar's pin in position {}: look which one it is in.", printable_text(f.subject, 24));
    return "No other hole and no other points would explain it: take the readings again.";
}

Sentences say_comparison(const Finding& f, const SafeWords& w) {
    const std::string where = format_where(f, w), sense = f.value > 0.0 ? "longer" : "shorter";
    const std::string off = w.place(std::fabs(f.value));
    const std::string model = f.has_attitude ? "hitch" : "linkage";
    const std::string allowed = fmt::format("Readings this good explain {}.", w.have(f.limit));
    if (f.severity == Severity::unknown) {
        return {fmt::format("A distance read directly contradicts the {}: {} {} than computed, {}", model, off, sense, where),
                fmt::format("{} {} It is not in what gap, overlap and cut below are computed from; none of them holds before this "
                            "is cleared up.", allowed, say_cause(f))};
    }
    if (std::fabs(f.value) < 0.0254 / 32.0) return {fmt::format("Direct readings agree with the {}", model), allowed};
    return {fmt::format("Direct readings agree with the {}: at most {} {} than computed, {}", model, off, sense, where), allowed};
}

Sentences say_fit(const Finding& f, const SafeWords& w) {
    constexpr double most = 1000.0;  // lists are shorter
    const int kept = f.value >= 1.0 && f.value < most ? static_cast<int>(f.value) : 0;
    const std::string count = fmt::format("{} direct reading{}", kept, kept == 1 ? "" : "s");
    std::string moved;
    for (const Term& t : f.terms) {
        if (!t.meaning.starts_with("moved")) continue;
        const std::string by = t.dimension == Dimension::angle ? format_angle(std::fabs(t.value)) : w.place(std::fabs(t.value));
        moved += fmt::format("{}{} {} {}", moved.empty() ? "" : ", ", printable_text(t.symbol, 60), t.value > 0.0 ? "up by" : "down by", by);
    }
    if (!moved.empty()) moved = fmt::format(" To fit them, readings had to move by more than their tolerance: {}. Take those again.", moved);
    if (f.other == "no_place")
        return {fmt::format("{} cannot be held to the model", printable_text(f.subject, 40)),
                "The linkage does not close where it was read, or the distance of a joint from the point taped is missing. Nothing "
                "computed holds before this is cleared up."};
    if (f.other == "too_far")
        return {"Direct readings agree with each other and stand farther from the model than all errors explain",
                "The model stays as it was read. Look for what is common to all of them: the points taped, the hole, the floor."};
    if (f.other == "contradiction")
        return {"Direct readings contradict the model, and each other or too few of them to tell which is wrong",
                "The model stays as it was read, and nothing computed holds before this is cleared up."};
    if (f.other == "left_out")
        return {fmt::format("{} does not fit what else was read, and was left out", printable_text(f.subject, 40)),
                fmt::format("The model is fitted to the other {}.{}", count, moved)};
    return {fmt::format("The model is fitted to {}", count), fmt::format("All that is computed comes from the fitted model.{}", moved)};
}

Sentences say_no_travel(const Finding& f, const SafeWords& w) {
    const std::string needed = "Needed: three heights or more, among them the lowest, the highest and one about the middle.";
    if (f.other == "too_few") return {"Too few direct readings for a length over the travel", needed};
    if (f.other == "no_middle") return {"Direct readings: none about the middle of the travel", needed};
    if (f.other == "range_too_small") return {"Direct readings: all at about the same height", needed};
    if (f.other == "misses_travel") {
        const bool high = find_term(f, "missed_high") > 0.0;
        return {fmt::format("Direct readings end {} {} the travel", w.need(find_term(f, "missed_by")),
                            high ? "below the top of" : "above the bottom of"),
                "What the shaft does there nobody read. Read it there, or set a stop at the last height read."};
    }
    if (f.other == "distance_missing")
        return {"Direct readings cannot be brought to joint centres", "A distance at a joint is missing."};
    if (f.other == "wide_angle")
        return {"Direct readings alone do not serve a wide-angle joint", "It bends about two crosses: its length depends on the bend, which the linkage gives."};
    return {"Direct readings: no shaft is that short", "Measure again."};
}

Sentences say_travel(const Finding& f, const SafeWords& w) {
    if (f.other == "rough") {
        return {fmt::format("Direct reading {} stands {} off the curve through the others", printable_text(f.subject, 24),
                            w.place(std::fabs(find_term(f, "off")))),
                "Lengths change smoothly with the height: take it again. Gap, overlap and cut hold only if it is right."};
    }
    if (f.other != "ok") return say_no_travel(f, w);
    Sentences s{fmt::format("Shaft lengths from {:.0f} direct readings, {} to {} of ball height, not from a linkage", f.value,
                            w.place(find_term(f, "lowest")), w.place(find_term(f, "highest"))),
                fmt::format("Between the heights read a smooth curve is taken and {} allowed for it. Joint angles and "
                            "clearances are not known this way.", w.need(find_term(f, "curve")))};
    if (find_term(f, "travel_assumed") > 0.0)
        s.detail += " The travel was not given: the first and the last height are taken for its ends.";
    return s;
}

Sentences say_pivot(const Finding& f, const SafeWords& w) {
    const double x = find_term(f, "pivot_x");
    return {fmt::format("Front pivot of the lower link found: {} {} the hub, {} up", w.place(std::fabs(x)),
                        x < 0.0 ? "ahead of" : "behind", w.place(find_term(f, "pivot_z"))),
            fmt::format("From the ball readings, good to {} and {} (95 %). Lower link {} +- {}. The link turned by {} over "
                        "the readings.", w.need(find_term(f, "pivot_x_error")), w.need(find_term(f, "pivot_z_error")),
                        w.place(find_term(f, "length")), w.need(find_term(f, "length_error")), format_angle(find_term(f, "arc")))};
}

Sentences say_rod(const Finding& f, const SafeWords& w) {
    if (f.other == "rod_found") {
        return {fmt::format("Lift rod found: {} long, its pin {} along the link", w.place(find_term(f, "rod_length")),
                            w.place(find_term(f, "rod_pin_along"))),
                fmt::format("From the angles of the lift arm beside the ball readings, good to {} and {} (95 %).",
                            w.need(find_term(f, "rod_length_error")), w.need(find_term(f, "rod_pin_along_error")))};
    }
    Sentences s{"Lift rod not found from the arm angles", ""};
    if (f.other == "rod_arm_unknown") s.detail = "Needed besides: pivot, length and half-spread of the lift arm, and both half-spreads of the lower link.";
    else if (f.other == "rod_pivot_unknown") s.detail = "The front pivot of the lower link is not known.";
    else if (f.other == "rod_too_few") s.detail = "Three arm angles or more are needed.";
    else if (f.other == "rod_too_straight") s.detail = "Rod and link turn too little against each other: read over more of the travel.";
    else s.detail = "The readings give lengths that no rod can have: read them again.";
    return s;
}

Sentences say_no_pivot(const Finding& f) {
    const std::string head = "Front pivot of the lower link not found from the ball readings";
    if (f.other == "too_few" || f.other == "coincident") return {head, "Three different heights or more are needed."};
    if (f.other == "too_straight") {
        const double needed = find_term(f, "arc_needed");
        std::string text = fmt::format("The balls move along {} of arc only, too little to tell its centre", format_angle(find_term(f, "arc")));
        if (needed > 0.0) text += fmt::format("; about {} would do with readings this good", format_angle(needed, Rounding::up));
        return {head, text + ". Read over the whole travel, or closer."};
    }
    return {head, "A reading is not usable."};
}

Sentences say_pins(const Finding& f, const SafeWords& w) {
    if (f.other == "found") return say_pivot(f, w);
    if (f.other.starts_with("rod_")) return say_rod(f, w);
    if (f.other == "one_is_wrong")
        return {"One ball reading is wrong, and there are too few to tell which", "They do not lie on one circle. Read again, at more heights."};
    if (f.other == "left_out") {
        return {fmt::format("Ball reading {} left out: {} off the circle of the others", printable_text(f.subject, 24), w.place(std::fabs(f.value))),
                fmt::format("Readings this good explain {}. Take it again.", w.have(f.limit))};
    }
    if (f.other == "taped_contradicts") {
        return {fmt::format("{} as taped contradicts the ball readings by {}", printable_text(f.subject), w.place(std::fabs(f.value))),
                fmt::format("Both together explain {}. The ball readings were used; tape it again.", w.have(f.limit))};
    }
    if (f.other == "taped_agrees")
        return {fmt::format("{} as taped agrees with the ball readings to {}", printable_text(f.subject), w.need(std::fabs(f.value))), ""};
    return say_no_pivot(f);
}

}  // namespace

Sentences say_reading(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    if (f.kind == FindingKind::direct_reading) return say_comparison(f, w);
    if (f.kind == FindingKind::model_fit) return say_fit(f, w);
    return f.kind == FindingKind::direct_travel ? say_travel(f, w) : say_pins(f, w);
}

}  // namespace hitchwright
