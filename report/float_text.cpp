// See float_text.h.
#include "report/float_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "report/safe_words.h"

namespace hitchwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string signed_angle(double radians) {
    const std::string text = format_angle(radians);
    return radians > 0.0 && text != "0.0 deg" ? "+" + text : text;
}

std::string format_bands(const FloatStudy& s) {
    const std::optional<PitchBand> bands[] = {s.at_low, s.at_working, s.at_high};
    Rows rows{{"Floating upper link", "lowest", "working", "highest"}, {"pitch at least, rear up +"}, {"pitch at most"}};
    for (const std::optional<PitchBand>& b : bands) {
        const bool there = b && b->closure.closes();
        rows[1].push_back(there ? signed_angle(b->low) : "not known");
        rows[2].push_back(there ? signed_angle(b->high) : "not known");
    }
    return format_columns(rows);
}

std::string left_or_lacking(double metres, const SafeWords& w) {
    return metres < 0.0 ? w.need(-metres) + " short" : w.have(metres);
}

std::string format_ground(const GroundFollowing& g, const SafeWords& w, const TextStyle& style) {
    Rows rows{{"on ground", fmt::format("hump {}", format_angle(g.hump_angle)), "level", fmt::format("hollow {}", format_angle(g.hollow_angle))},
              {"pitch it takes"}, {"left to stretch"}, {"left to close"}};
    for (const FloatOnGround* on : {&g.hump, &g.level, &g.hollow}) {
        const bool stands = on->pose.state != FloatState::no_pitch;
        rows[1].push_back(stands ? signed_angle(on->pose.pitch) : "no stand");
        rows[2].push_back(stands ? left_or_lacking(on->left_to_stretch, w) : "-");
        rows[3].push_back(stands ? left_or_lacking(on->left_to_close, w) : "-");
    }
    std::string text = format_columns(rows);
    if (g.falls_to && g.rises_to)
        text += format_paragraph(fmt::format("At the working height the link follows ground from {} to {} behind the rear axle (rising is +).",
                                             signed_angle(*g.falls_to), signed_angle(*g.rises_to)), style.width, 0, 0);
    if (!g.hump_typed || !g.hollow_typed)
        text += format_paragraph("Hump and hollow: angles assumed where none is typed (choices.hump_angle, choices.hollow_angle). "
                                 "The ground line runs through the point below the rear axle.", style.width, 0, 0);
    return text;
}

std::string format_edge(const DeckEdgeFloat& e, const SafeWords& w, const TextStyle& style) {
    const auto room = [&](double metres) {
        return metres < 0.0 ? fmt::format("touch by {}", w.need(-metres)) : fmt::format("{} apart", w.have(metres));
    };
    const bool drawn_out = e.at_longest <= e.at_shortest;
    const bool at_end = std::fabs(std::min(e.at_longest, e.at_shortest) - e.least.bound) < 2.0 * length_closeness;
    const std::string where = at_end ? (drawn_out ? "with the link drawn out" : "with the link pushed in") : "between the stops";
    return format_paragraph(fmt::format("Guard of the shaft and {} in the working band: {} at the least, {}, ball height {}; {} drawn "
                                        "out, {} pushed in.", printable_text(e.part, 40), room(e.least.bound), where,
                                        w.place(e.least.height), room(e.at_longest), room(e.at_shortest)), style.width, 0, 0);
}

}  // namespace

std::string format_float_study(const Analysis& analysis, const TextStyle& style) {
    if (!analysis.floating) return {};
    const FloatStudy& s = *analysis.floating;
    const SafeWords w{style.units};
    std::string text = format_bands(s);
    if (s.strap_without_stops)
        text += format_paragraph("The strap's stops are not given: taken as free to turn all round "
                                 "(implement.upper_link_float.strap_stop_low and strap_stop_high).", style.width, 0, 0);
    if (s.ground) text += format_ground(*s.ground, w, style);
    for (const DeckEdgeFloat& e : s.deck_edges) text += format_edge(e, w, style);
    return text + '\n';
}

}  // namespace hitchwright
