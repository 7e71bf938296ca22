// Level, sway and tyre room as JSON; see json_parts.h.
#include <cmath>
#include <optional>

#include "geometry/side_word.h"
#include "report/json_parts.h"

namespace hitchwright {
namespace {

const char* source_word(SwaySource source) {
    switch (source) {
        case SwaySource::none: return "none";
        case SwaySource::total: return "total_at_ball";
        case SwaySource::chains: return "check_chains";
    }
    return "none";
}

JsonValue make_optional_length(const std::optional<double>& metres) { return metres ? JsonValue(*metres * 1e3) : JsonValue(); }

JsonValue make_level_pose_json(const LevelPose& p) {
    if (!p.closes) return {};
    JsonArray edges;
    for (const EdgeHeights& e : p.edges) {
        edges.push_back(JsonObject().add("part", e.name).length("half_width", e.half_width).length("left", e.left).length("right", e.right).build());
    }
    return JsonObject()
        .length("ball_height", p.ball_height)
        .angle("lift_arm", p.arm_angle)
        .angle("roll", p.attitude.roll)
        .angle("pitch", p.attitude.pitch)
        .angle("yaw", p.attitude.yaw)
        .length("left_ball", p.left_ball)
        .length("right_ball", p.right_ball)
        .add("edges", std::move(edges))
        .build();
}

JsonValue make_wanted_json(const WantedRoll& w) {
    JsonArray rods;
    for (const RodLength& r : w.rods) {
        JsonObject o;
        o.add("side", side_word(r.side)).length("set", r.set).length("wanted", r.wanted).add("levelling_screw", r.screw);
        o.add("turns", r.turns ? JsonValue(*r.turns) : JsonValue());
        o.add("too_short_by_mm", make_optional_length(r.short_by)).add("too_long_by_mm", make_optional_length(r.long_by));
        rods.push_back(o.build());
    }
    return JsonObject().angle("roll", w.roll).add("typed", w.typed).add("reached", w.reached).add("rods", std::move(rods)).build();
}

JsonValue make_levelling_json(const Levelling& l) {
    JsonObject o;
    o.add("lowest", make_level_pose_json(l.low)).add("working", make_level_pose_json(l.working)).add("highest", make_level_pose_json(l.high));
    o.add("turned_rod", side_word(l.turned)).add("after_one_turn", l.after_turn ? make_level_pose_json(*l.after_turn) : JsonValue());
    o.add("wanted", l.wanted ? make_wanted_json(*l.wanted) : JsonValue());
    o.add("difference_mm", make_optional_length(l.difference)).add("measured_at", l.measured_at).length("measured_width", l.measured_width);
    return o.length("difference_band", l.band.width).build();
}

JsonValue make_sway_at_json(const SwayAt& s) {
    return JsonObject().length("ball_height", s.ball_height).add("left_mm", make_optional_length(s.left)).add("right_mm", make_optional_length(s.right)).build();
}

JsonValue make_sway_json(const SwayStudy& s) {
    JsonObject o;
    o.add("source", source_word(s.source)).add("lowest", make_sway_at_json(s.low)).add("working", make_sway_at_json(s.working));
    o.add("highest", make_sway_at_json(s.high));
    JsonValue tail;
    if (s.tail)
        tail = JsonObject().add("part", s.tail->name).length("behind", s.tail->behind).length("left", s.tail->left).length("right", s.tail->right)
                   .length("balls", s.tail->balls).length("tail", s.tail->tail).build();
    return o.add("tail", std::move(tail)).add("blocked_heights", make_heights_json(s.blocked)).build();
}

JsonValue make_tyre_json(const TyreRoom& t) {
    return JsonObject().length("room", t.room).length("bound", t.bound).add("side", side_word(t.side)).length("ball_height", t.at.height)
        .length("sway", t.at.sway).angle("tilt", std::asin(t.at.tilt_sine)).number("along_link", t.along).add("converged", t.converged).build();
}

}  // namespace

JsonValue make_space_json(const Analysis& analysis) {
    if (!analysis.space || !analysis.space->asked()) return {};
    const SpaceStudy& a = *analysis.space;
    JsonObject o;
    o.add("levelling", a.levelling ? make_levelling_json(*a.levelling) : JsonValue());
    o.add("sway", a.sway ? make_sway_json(*a.sway) : JsonValue());
    o.add("tyre_room", a.tyre ? make_tyre_json(*a.tyre) : JsonValue());
    o.add("judged_over", JsonObject().length("sway_left", a.side.sway.low).length("sway_right", a.side.sway.high)
                             .angle("tilt_least", std::asin(a.side.tilt_sine.low)).angle("tilt_greatest", std::asin(a.side.tilt_sine.high))
                             .add("proven", a.side.proven).add("limited", a.side.limited).add("closes", a.side_closes).build());
    return o.build();
}

}  // namespace hitchwright
