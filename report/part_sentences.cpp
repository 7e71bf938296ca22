// Sentences about add-on parts; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

constexpr double level = 0.00087;  ///< rad, 0.05 deg: below what is printed

std::string format_tilt(double tilt) {
    if (std::fabs(tilt) < level) return "The implement stands in it without a tilt. ";
    return fmt::format("The implement stands in it tilted by {}, rear {}. ", format_angle(std::fabs(tilt)),
                       tilt > 0.0 ? "up" : "down");
}

Sentences say_seat(const Finding& f, const SafeWords& w) {
    const std::string pin = f.subject.empty() ? "Mast pin" : "Mast pin " + printable_text(f.subject, 24);
    if (f.other == "below_seat")
        return {fmt::format("{} does not reach the coupler's top hook: short by {}", pin, w.need(-f.value)),
                "The top hook would not hold the implement. Numbers below are for the pin at the hook's lip, where it "
                "would stand."};
    if (f.other == "above_lip")
        return {fmt::format("{} stands above the coupler's top hook, {} beyond its lip", pin, w.need(-f.margin)),
                "The top hook does not hold it."};
    if (f.other == "beside")
        return {fmt::format("{} cannot meet the coupler's top hook", pin),
                "The hook stands farther behind or ahead of the lower hooks than the mast is long. Check both readings."};
    if (f.other == "depth_unknown")
        return {fmt::format("{} stands {} above the seat of the coupler's top hook: whether it is held is not known", pin, w.place(f.value)),
                "The hook holds it only as far as it is deep. " + format_tilt(find_term(f, "tilt"))};
    Sentences s{fmt::format("{} sits in the coupler's top hook", pin), format_tilt(find_term(f, "tilt"))};
    if (f.severity == Severity::good && f.value > find_term(f, "error"))
        s.headline += fmt::format(", {} above its seat", w.place(f.value));
    else if (f.severity != Severity::good)
        s.headline = fmt::format("{} and the coupler's top hook: too close to tell that it holds", pin);
    s.detail += "Hook up and look before lifting; how the pins fit the hooks is not judged.";
    return s;
}

Sentences say_extender(const Finding& f, const SafeWords& w) {
    const double less = (1.0 - find_term(f, "lift_share", 1.0)) * 100.0;
    Sentences s{fmt::format("Lower links longer by {}: the balls lift {:.0f} % less", w.place(f.value), std::ceil(less)), {}};
    s.detail = f.other == "taped"
                   ? "The travel is reckoned from heights taped without the extender, the links at the same angles: "
                     "tape them again with it on. "
                   : "";
    s.detail += "The implement also stands farther behind: weigh before you rely on it.";
    return s;
}

/// "8 to 12 % less"; one figure where both ends of the travel agree.
std::string say_lift_change(const Finding& f) {
    const double low = find_term(f, "lift_share_low"), top = find_term(f, "lift_share_top");
    const double first = low > 0.0 ? low : top, last = top > 0.0 ? top : low;
    const double a = (first - 1.0) * 100.0, b = (last - 1.0) * 100.0;
    const auto say = [](double percent) { return fmt::format("{:.0f} % {}", std::fabs(percent), percent < 0.0 ? "less" : "more"); };
    if (std::lround(a) == std::lround(b)) return say(a);
    return fmt::format("{} at the lowest, {} at the top", say(a), say(b));
}

Sentences say_rod_hole(const Finding& f) {
    Sentences s{fmt::format("Lift rod in hole {}, heights taped in hole {}: the balls lift {}", printable_text(f.subject, 16),
                            printable_text(f.other, 16), say_lift_change(f)),
                {}};
    s.detail = "The travel is reckoned over from the taped heights by lift arm and rod: tape it again once the rod is moved. Both "
               "rods go in the same hole.";
    return s;
}

/// "40 mm higher", "as high as before".
std::string say_rise(double rise, const SafeWords& w) {
    constexpr double none = 0.5e-3;  // m
    if (std::fabs(rise) < none) return "as high as before";
    return fmt::format("{} {}", w.place(std::fabs(rise)), rise > 0.0 ? "higher" : "lower");
}

Sentences say_tyres(const Finding& f, const SafeWords& w) {
    const double turn = find_term(f, "turn");
    const std::string size = format_angle(std::fabs(turn));
    const bool as_before = f.other != "turned" || size == format_angle(0.0);
    Sentences s;
    s.headline = fmt::format("On tyres {}: rear axle {}, {}", printable_text(f.subject, 24), say_rise(f.value, w),
                             f.other == "level_assumed" ? "the tractor taken as level"
                             : as_before                ? "the tractor level as before"
                                                        : fmt::format("the tractor {} {}", size, turn > 0.0 ? "rear end up" : "rear end down"));
    s.detail = "The tractor was measured on its own tyres; all of it is reckoned over as one rigid body. Heights that were chosen (work, "
               "stops, transport) and distances taped at a height stay as typed. ";
    if (f.other == "level_assumed")
        s.detail += "Whether it tips is not known: the rear alone raised tips it, and the stub and the pins with it. ";
    if (find_term(f, "front_as_before") > 0.0)
        s.detail += "Its front tyres are taken as they were; with a driven front axle the maker wants front and rear in one ratio. ";
    if (find_term(f, "width_as_before") > 0.0) s.detail += "Width taken from the own tyres. ";
    if (find_term(f, "track_as_before") > 0.0) s.detail += "Track taken from the own tyres. ";
    if (find_term(f, "loads_left_out") > 0.0) s.detail += "What these tyres may carry is not known and not judged. ";
    s.detail += "Tape a height or two again once they are on.";
    return s;
}

Sentences say_stop_on_tyres(const Finding& f, const SafeWords& w) {
    const char* const which = f.other == "lift_stop" ? "lift stop" : "stop downwards";
    return {fmt::format("Set the {} again on tyres {}: ball height {}", which, printable_text(f.subject, 24), w.place(f.value)),
            "The lever's stop was set on other tyres; where it stands now it holds the balls at another height."};
}

Sentences say_slot(const Finding& f, const SafeWords& w) {
    const bool hump = f.subject == "hump";
    const std::string where = fmt::format("{} of {}", hump ? "hump" : "hollow", format_angle(find_term(f, "ground_angle")));
    const std::string way = hump ? "stretch" : "close";
    Sentences s;
    if (f.other == "no_pitch") {
        s.headline = fmt::format("Floating upper link: no stand on a {}", where);
        s.detail = "The balls at the working height are too low or too high there for what the implement stands on.";
        return s;
    }
    if (f.severity != Severity::good && std::fabs(f.margin) < f.band)
        s.headline = fmt::format("Floating upper link: too close to tell whether its free travel is enough on a {}", where);
    else if (f.margin < 0.0)
        s.headline = fmt::format("Floating upper link: free travel {} too short on a {}", w.need(-f.margin), where);
    else
        s.headline = fmt::format("Floating upper link: {} left to {} on a {}", w.have(f.margin), way, where);
    s.detail = fmt::format("The ground behind the rear axle {} by that against the tractor's{}. ", hump ? "falls away" : "rises",
                           f.other == "assumed" ? ", an angle assumed" : "");
    if (f.margin < 0.0)
        s.detail += hump ? "The link goes taut and lifts the implement off its wheels or skids."
                         : "The link comes to its other end: a slot or strap pushes the implement down; a chain goes slack, and how far the rear rides up is "
                           "not computed.";
    return s;
}

}  // namespace

Sentences say_part(const Finding& f, const FindingContext& context) {
    if (f.kind == FindingKind::floating_link_slot) return say_slot(f, context.words);
    if (f.kind == FindingKind::lift_rod_hole) return say_rod_hole(f);
    if (f.kind == FindingKind::other_tyres && f.other.ends_with("_stop")) return say_stop_on_tyres(f, context.words);
    if (f.kind == FindingKind::other_tyres) return say_tyres(f, context.words);
    return f.kind == FindingKind::coupler_seat ? say_seat(f, context.words) : say_extender(f, context.words);
}

}  // namespace hitchwright
