// How sure the numbers are, the fitted model and the readings to take next as JSON; see json_parts.h.
#include <algorithm>

#include "geometry/finding_band.h"
#include "geometry/setup_fields.h"
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

constexpr EdgeUnit turn_unit = find_edge_unit(Dimension::angle);

std::string_view reference_word(LengthReference reference) {
    for (const auto& choice : field::references) {
        if (choice.value == reference) return choice.word;
    }
    return "joint_centres";
}

JsonValue make_fitted_reading_json(const FittedReading& r, bool drawn) {
    const EdgeUnit unit = find_edge_unit(r.dimension);
    const auto scaled = [&](double si) { return si * unit.per_si; };
    const bool end = r.kind == DirectKind::lowest_ball_height || r.kind == DirectKind::greatest_ball_height;
    JsonObject o;
    o.add("key", r.key).add("kind", direct_kind_word(r.kind)).add("unit", unit.name);
    o.add("ball_height_mm", end || drawn ? JsonValue() : JsonValue(r.ball_height * 1e3));
    o.add("turn_deg", drawn ? JsonValue(r.turn * turn_unit.per_si) : JsonValue());
    o.number("read", scaled(r.read)).number("error", scaled(r.error)).number("predicted", scaled(r.predicted)).number("band", scaled(r.band));
    o.number("fitted", scaled(r.fitted)).number("misfit", r.misfit).add("fits", r.fits).add("simulated", r.simulated).add("tells", r.tells).number("chance_caught", r.chance_caught);
    return o.add("widest", r.widest).build();
}

JsonValue make_fitted_input_json(const FittedInput& i) {
    const EdgeUnit unit = find_edge_unit(i.dimension);
    JsonObject o;
    o.add("key", i.key).add("unit", unit.name).number("read", i.read * unit.per_si).number("fitted", i.fitted * unit.per_si);
    return o.number("error", i.error * unit.per_si).number("error_after", i.error_after * unit.per_si).add("beyond", i.beyond).build();
}

}  // namespace

JsonValue make_error_json(const Finding& f) {
    if (f.band == 0.0 || f.error.width == 0.0) return {};
    const EdgeUnit unit = find_edge_unit(f.dimension);
    JsonArray contributors;
    for (const ReadingShare* share : {&f.error.widest, &f.error.second}) {
        if (share->reading.empty()) continue;
        contributors.push_back(JsonObject().add("reading", share->reading).number("share", share->share * unit.per_si).add("unit", unit.name).build());
    }
    const std::optional<double> chance = find_chance_of_breaking(f);
    JsonObject o;
    o.add("method", band_method_word(f.error.method)).number("below", f.error.below * unit.per_si).number("above", f.error.above * unit.per_si);
    o.add("chance_broken", chance ? JsonValue(*chance) : JsonValue());
    return o.add("contributors", std::move(contributors)).build();
}

JsonValue make_next_reading_json(const NextReading& n, const Finding* of, UnitSystem units) {
    const EdgeUnit unit = find_edge_unit(n.dimension), of_unit = find_edge_unit(of != nullptr ? of->dimension : Dimension::length);
    const bool placed = !say_where_to_read(n, units).empty();
    JsonObject o;
    o.add("kind", n.again ? std::string_view("again") : direct_kind_word(n.kind)).add("key", n.key).add("point", n.point);
    o.add("ball_height_mm", placed && !n.at_turn ? JsonValue(n.ball_height * 1e3) : JsonValue());
    o.add("turn_deg", n.at_turn ? JsonValue(n.turn * turn_unit.per_si) : JsonValue());
    const bool distance = !n.again && n.kind == DirectKind::shaft_length;
    o.add("reference", distance ? JsonValue(reference_word(n.reference)) : JsonValue());
    o.number("error", n.error * unit.per_si).add("unit", unit.name);
    o.add("band_now", of != nullptr ? JsonValue(n.band_now * of_unit.per_si) : JsonValue());
    o.add("band_after", of != nullptr ? JsonValue(n.band_after * of_unit.per_si) : JsonValue());
    o.add("band_unit", of_unit.name).number("chance_caught", n.chance_caught);
    return o.add("text", say_next_reading(n, of, units)).build();
}

JsonValue make_next_readings_json(const Analysis& a, UnitSystem units) {
    JsonArray list;
    for (const NextReading& n : a.next) list.push_back(make_next_reading_json(n, find_decided_by(a), units));
    return list;
}

JsonValue make_model_fit_json(const Analysis& a, UnitSystem units) {
    if (!a.fit) return {};
    const ModelFit& fit = *a.fit;
    JsonArray readings, inputs;
    for (const FittedReading& r : fit.readings) readings.push_back(make_fitted_reading_json(r, a.drawn.has_value()));
    for (const FittedInput& i : fit.inputs) inputs.push_back(make_fitted_input_json(i));
    const JsonArray equally(fit.equally.begin(), fit.equally.end());
    const bool misfits = std::any_of(fit.readings.begin(), fit.readings.end(), [](const FittedReading& r) { return !r.fits; });
    JsonObject o;
    o.add("used", fit.used).add("too_far", fit.too_far).add("text", say_fit_use(a)).add("kept", fit.kept).number("misfit_sum", fit.misfit_sum);
    o.add("readings", std::move(readings)).add("inputs", std::move(inputs));
    const std::string points = fit.cause == DirectCause::other_points ? std::string(reference_word(fit.points)) : fit.subject;
    o.add("cause", misfits ? JsonValue(direct_cause_word(fit.cause)) : JsonValue()).add("subject", points).add("equally", equally);
    o.add("would_check", fit.would_check ? make_next_reading_json(*fit.would_check, nullptr, units) : JsonValue());
    return o.build();
}

}  // namespace hitchwright
