// A drawn set-up as JSON; see json_parts.h.
#include "report/drawbar_report.h"
#include "report/drawn_text.h"
#include "report/json_parts.h"

namespace hitchwright {
namespace {

JsonValue make_length_extreme(const AttitudeExtreme& e) {
    return JsonObject().length("value", e.value).length("bound", e.bound).add("at", make_attitude_json(e.at)).add("evaluations", e.evaluations).build();
}
JsonValue make_angle_extreme(const AttitudeExtreme& e) {
    return JsonObject().angle("value", e.value).angle("bound", e.bound).add("at", make_attitude_json(e.at)).add("evaluations", e.evaluations).build();
}
JsonValue make_ratio_extreme(const AttitudeExtreme& e) {
    return JsonObject().number("value", e.value).number("bound", e.bound).add("at", make_attitude_json(e.at)).add("evaluations", e.evaluations).build();
}

std::string_view turn_word(TurnLimitKind kind) {
    switch (kind) {
        case TurnLimitKind::tyre: return "tyre";
        case TurnLimitKind::tractor_joint: return "tractor_joint";
        case TurnLimitKind::implement_joint: return "implement_joint";
        case TurnLimitKind::bottoming: return "bottoming";
        case TurnLimitKind::separation: return "separation";
    }
    return "tyre";
}

JsonValue make_straight_json(const DrivelineState& s) {
    JsonObject o;
    o.length("length", s.length).angle("tractor_angle", s.tractor_angle).angle("implement_angle", s.implement_angle);
    return o.add("non_uniformity", s.turns ? JsonValue(s.non_uniformity) : JsonValue()).build();
}

JsonValue make_turn_json(const TurnResult& turn, const ErrorBand& band) {
    JsonArray stops;
    for (const TurnStop& s : turn.stops) {
        stops.push_back(JsonObject().add("kind", turn_word(s.kind)).add("reached", s.reached).angle("turn", s.yaw).add("tyre", s.tyre).add("bar", s.bar).build());
    }
    return JsonObject().add("side", turn.side == TurnSide::left ? "left" : "right").angle("first_stop_band", band.width).add("stops", std::move(stops)).build();
}

JsonValue make_side(double angle, BoxBound bound) {
    return JsonObject().angle("most", angle).add("set_by", box_bound_name(bound)).build();
}

JsonValue make_box_json(const DrawnModel& m) {
    return JsonObject().add("turn_left", make_side(-m.box.yaw.low, m.bounds.turn_left)).add("turn_right", make_side(m.box.yaw.high, m.bounds.turn_right))
        .add("pitch_down", make_side(-m.box.pitch.low, m.bounds.pitch_down)).add("pitch_up", make_side(m.box.pitch.high, m.bounds.pitch_up))
        .add("roll", make_side(m.box.roll.high, m.bounds.roll)).build();
}

}  // namespace

JsonValue make_drawn_extremes_json(const DrawnExtremes& e) {
    JsonObject o;
    o.add("shortest", make_length_extreme(e.shortest)).add("longest", make_length_extreme(e.longest));
    o.add("tractor_angle", make_angle_extreme(e.tractor_angle)).add("implement_angle", make_angle_extreme(e.implement_angle));
    return o.add("non_uniformity", e.turns ? make_ratio_extreme(e.non_uniformity) : JsonValue()).build();
}

JsonValue make_drawbar_lengths_json(const DrawbarInterval& i) {
    return JsonObject().add("known", i.known).add("any", i.any).length("low", i.low).length("high", i.high).add("low_open", i.low_open)
        .add("high_open", i.high_open).add("proven", i.rises).build();
}

JsonValue make_drawn_json(const Setup& setup, const Analysis& analysis) {
    if (!analysis.drawn) return {};
    const DrawnAnalysis& d = *analysis.drawn;
    JsonArray turns;
    for (std::size_t i = 0; i < d.turns.size(); ++i) turns.push_back(make_turn_json(d.turns[i], d.turn_bands[i]));
    JsonObject o;
    o.add("position", d.model.pin < setup.tractor.drawbar_pins.size() ? setup.tractor.drawbar_pins[d.model.pin].name : std::string());
    o.length("drawbar_length", d.model.drawbar_length).angle("level_pitch", d.model.level_pitch).add("box", make_box_json(d.model));
    o.add("whole", d.model.has_shaft ? make_drawn_extremes_json(d.whole) : JsonValue());
    o.add("level_turn", d.model.has_shaft ? make_drawn_extremes_json(d.turn) : JsonValue());
    o.add("straight", d.model.has_shaft ? make_straight_json(d.straight) : JsonValue());
    return o.add("turns", std::move(turns)).add("lengths_for_shaft", make_drawbar_lengths_json(d.lengths)).build();
}

}  // namespace hitchwright
