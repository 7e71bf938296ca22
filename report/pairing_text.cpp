#include "report/pairing_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "geometry/mounted_findings.h"
#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_name = 40;

std::size_t count(const std::vector<HoleCheck>& holes, HoleOutcome outcome) {
    return static_cast<std::size_t>(std::count_if(holes.begin(), holes.end(), [&](const HoleCheck& h) { return h.outcome == outcome; }));
}

/// "link 22 15/16 in to 23 1/4 in": the shortest and the longest it is set to.
std::string format_links(const std::vector<HoleCheck>& holes, const SafeWords& w) {
    const auto [least, most] = std::minmax_element(holes.begin(), holes.end(), [](const HoleCheck& a, const HoleCheck& b) {
        return a.upper_length < b.upper_length;
    });
    const std::string from = w.place(least->upper_length), to = w.place(most->upper_length);
    return from == to ? fmt::format("link {}", from) : fmt::format("link {} to {}", from, to);
}

std::string format_pair(const VerifiedPair& pair, std::size_t widest, const TextStyle& style) {
    const SafeWords w{style.units};
    const std::vector<HoleCheck>& holes = pair.check.holes;
    const std::size_t closing = count(holes, HoleOutcome::closes);
    const bool all = closing == holes.size();
    const std::string what = all ? fmt::format("closes {}; {}", closing == 1 ? std::string("the one way there is") : fmt::format("all {} ways", closing), format_links(holes, w))
                                 : fmt::format("closes {} of {} ways", closing, holes.size());
    std::string text = format_labelled(pad_right(printable_text(pair.implement, most_name), widest) + "  ", what, style.width, 2, widest + 4);
    for (const HoleCheck& h : holes) {
        if (h.outcome == HoleOutcome::closes) continue;
        const std::string rod = h.rod_hole.empty() ? std::string() : ", lift-rod hole " + printable_text(h.rod_hole, 16);
        text += format_labelled(fmt::format("hole {}, mast hole {}{}: ", printable_text(h.tractor_pin, 16), printable_text(h.mast_pin, 16), rod),
                                format_hole_obstacle(h, style.units), style.width, 4, 6);
    }
    return text;
}

std::string format_left_out(const std::vector<const VerifiedPair*>& pairs, const TextStyle& style) {
    std::string names;
    for (const VerifiedPair* p : pairs) {
        names += fmt::format("{}{} ({})", names.empty() ? "" : "; ", printable_text(p->implement, most_name),
                             format_pairing_obstacle(p->check.pairing, style.units));
    }
    return names.empty() ? std::string() : format_labelled("not tried: ", names + ".", style.width, 2, 4);
}

std::string format_tractor(const std::vector<VerifiedPair>& pairs, const std::string& tractor, const TextStyle& style) {
    std::vector<const VerifiedPair*> left_out;
    std::size_t widest = 0;
    for (const VerifiedPair& p : pairs) widest = std::max(widest, count_columns(printable_text(p.implement, most_name)));
    std::string text = printable_text(tractor, most_name) + "\n";
    for (const VerifiedPair& p : pairs) {
        if (p.tractor != tractor) continue;
        if (p.check.pairing.sensible()) text += format_pair(p, widest, style);
        else left_out.push_back(&p);
    }
    return text + format_left_out(left_out, style);
}

std::string format_sum(const std::vector<VerifiedPair>& pairs, const TextStyle& style) {
    std::size_t sensible = 0, holes = 0, closing = 0;
    for (const VerifiedPair& p : pairs) {
        sensible += p.check.pairing.sensible() ? 1U : 0U;
        holes += p.check.holes.size();
        closing += count(p.check.holes, HoleOutcome::closes);
    }
    const std::string all = closing == holes ? "all close" : fmt::format("{} of them close", closing);
    return format_paragraph(fmt::format("{} of {} of machines are worth trying. Of their {} of holes {} over the whole travel, with the link that "
                                        "gives the working pitch within its reach.",
                                        sensible, format_count(pairs.size(), "pair"), format_count(holes, "combination"), all),
                            style.width, 0, 0);
}

}  // namespace

std::string_view pairing_obstacle_word(PairingObstacle obstacle) {
    switch (obstacle) {
        case PairingObstacle::none: return "none";
        case PairingObstacle::not_mounted: return "not_mounted";
        case PairingObstacle::category: return "category";
        case PairingObstacle::speed: return "speed";
        case PairingObstacle::mast: return "mast";
        case PairingObstacle::front_axle: return "front_axle";
        case PairingObstacle::power: return "power";
    }
    return "";
}

std::string_view hole_outcome_word(HoleOutcome outcome) {
    switch (outcome) {
        case HoleOutcome::closes: return "closes";
        case HoleOutcome::link_out_of_reach: return "link_out_of_reach";
        case HoleOutcome::does_not_close: return "does_not_close";
        case HoleOutcome::not_known: return "not_known";
    }
    return "";
}

std::string format_pairing_obstacle(const Pairing& p, UnitSystem units) {
    const SafeWords w{units};
    switch (p.obstacle) {
        case PairingObstacle::none: return {};
        case PairingObstacle::not_mounted: return "goes on the drawbar";
        case PairingObstacle::category: return fmt::format("category {:.0f} on category {:.0f}", p.value, p.limit);
        case PairingObstacle::speed: return fmt::format("wants {:.0f} rpm", p.value);
        case PairingObstacle::mast: return fmt::format("mast {}, {} wanted", w.have(p.value), w.need(p.limit));
        case PairingObstacle::front_axle:
            if (p.value < 0.0) return "front axle would come up";
            return fmt::format("front axle left with {:.1f} % of the tractor's mass, {:.0f} % wanted", 100.0 * p.value, 100.0 * p.limit);
        case PairingObstacle::power:
            return fmt::format("tractor gives {}, {} wanted", format_decimal_quantity(p.value, Dimension::power, units),
                               format_decimal_quantity(p.limit, Dimension::power, units));
    }
    return {};
}

std::string format_hole_obstacle(const HoleCheck& h, UnitSystem units) {
    const SafeWords w{units};
    if (h.outcome == HoleOutcome::link_out_of_reach && h.reach) {
        return h.reach->too_short_by > 0.0
                   ? fmt::format("closes, but the tractor's upper link is {} too short at its longest", w.need(h.reach->too_short_by))
                   : fmt::format("closes, but the tractor's upper link is {} too long at its shortest", w.need(h.reach->too_long_by));
    }
    if (!h.obstacle) return {};
    return describe_finding(report_obstacles({*h.obstacle}).front(), make_finding_context({}, {}, units)).headline;
}

std::string format_pairings(const std::vector<VerifiedPair>& pairs, const TextStyle& style) {
    std::string text;
    std::vector<std::string> done;
    for (const VerifiedPair& p : pairs) {
        if (std::find(done.begin(), done.end(), p.tractor) != done.end()) continue;
        done.push_back(p.tractor);
        text += format_tractor(pairs, p.tractor, style) + "\n";
    }
    return text + format_sum(pairs, style);
}

}  // namespace hitchwright
