// See proposed_setup.h.
#include "geometry/proposed_setup.h"

#include <algorithm>

namespace hitchwright {
namespace {

bool asks(const Finding& f) {
    return (f.severity == Severity::forbids || f.severity == Severity::change) && !f.remedies.empty();
}

void put_name(std::string& choice, const std::string& name, const char* key, std::vector<ProposedChange>& changes) {
    if (name.empty() || choice == name) return;
    choice = name;
    changes.push_back({key, name, 0.0, Dimension::length});
}

/// A stop where there is none, or the tighter one.
void put_stop(Reading& stop, double value, bool upper, const char* key, std::vector<ProposedChange>& changes) {
    if (stop.known && (upper ? stop.value <= value : stop.value >= value)) return;
    stop = make_reading(value, Origin::assumed);
    std::erase_if(changes, [&](const ProposedChange& c) { return c.key == key; });
    changes.push_back({key, {}, value, Dimension::length});
}

void make_change(const Remedy& r, Setup& s, std::vector<ProposedChange>& changes) {
    Choices& c = s.choices;
    const std::size_t before = changes.size();
    switch (r.kind) {
        case RemedyKind::other_upper_link_pin:
            put_name(c.upper_link_pin, r.subject, "choices.upper_link_pin", changes);
            break;
        case RemedyKind::other_mast_pin:
            put_name(c.mast_pin, r.subject, "choices.mast_pin", changes);
            break;
        case RemedyKind::other_rod_hole:
            put_name(c.lift_rod_hole, r.subject, "choices.lift_rod_hole", changes);
            break;
        case RemedyKind::other_drawbar_pin:
            put_name(c.drawn.drawbar_pin, r.subject, "choices.drawbar_pin", changes);
            break;
        case RemedyKind::lift_stop:
            if (r.subject != "below" && r.value > 0.0)
                put_stop(c.lift_stop, r.value, true, "choices.lift_stop", changes);
            return;
        case RemedyKind::lower_stop:
            if (r.value > 0.0) put_stop(c.lower_stop, r.value, false, "choices.lower_stop", changes);
            return;
        case RemedyKind::set_lift_rod: {
            const bool left = r.subject == "left";
            (left ? c.left_lift_rod_length : c.right_lift_rod_length) = make_reading(r.value, Origin::assumed);
            changes.push_back({left ? "choices.left_lift_rod_length" : "choices.right_lift_rod_length", {}, r.value, Dimension::length});
            return;
        }
        case RemedyKind::front_ballast:
            c.ballast.front = make_reading(r.value, Origin::assumed);
            changes.push_back({"choices.ballast.front", {}, r.value, Dimension::mass});
            return;
        default:
            return;
    }
    const bool hole = changes.size() > before && r.kind != RemedyKind::other_drawbar_pin;
    if (hole && (c.working_ball_height.known || s.implement.work.ball_height.known)) c.upper_link_length = Reading{};
}

bool is_cut(RemedyKind k) {
    return k == RemedyKind::cut_both_halves || k == RemedyKind::cut_tractor_half || k == RemedyKind::cut_implement_half;
}

}  // namespace

ProposedSetup propose_setup(const Setup& setup, const Analysis& analysis) {
    ProposedSetup p{setup, {}};
    for (const Finding& f : analysis.findings) {
        if (!asks(f)) continue;
        make_change(f.remedies.front(), p.setup, p.changes);
        // Screws in both rods: they are turned together.
        for (std::size_t i = 1; i < f.remedies.size(); ++i) {
            if (f.remedies[i].kind == RemedyKind::set_lift_rod) make_change(f.remedies[i], p.setup, p.changes);
        }
    }
    return p;
}

bool advises_cut(const Analysis& analysis) {
    return std::any_of(analysis.findings.begin(), analysis.findings.end(),
                       [](const Finding& f) { return asks(f) && is_cut(f.remedies.front().kind); });
}

}  // namespace hitchwright
