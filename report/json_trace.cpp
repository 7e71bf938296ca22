// A trace as JSON; see trace_report.h and json_parts.h.
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/trace_report.h"
#include "report/trace_sentences.h"

namespace hitchwright {
namespace {

JsonValue number_in_edge_unit(double value, Dimension dimension) {
    return dimension == Dimension::length  ? JsonValue(value * 1e3)
           : dimension == Dimension::angle ? JsonValue(value * find_edge_unit(Dimension::angle).per_si)
                                           : JsonValue(value);
}
std::string_view unit_word(Dimension d) { return d == Dimension::length ? "mm" : d == Dimension::angle ? "deg" : "1"; }

JsonValue make_seen_json(const Setup& s, const Seen& seen, UnitSystem units) {
    JsonObject o;
    o.add("kind", seen_word(seen.kind)).add("place", seen_place_word(seen.place));
    if (seen.place == SeenPlace::at_height)
        o.length("ball_height", seen.height);
    else
        o.add("ball_height_mm", JsonValue());
    o.add("key", seen.key.empty() ? JsonValue() : JsonValue(seen.key)).add("words", seen.words);
    return o.add("text", say_seen(s, seen, units)).build();
}

JsonValue make_row_json(const Setup& s, const TraceStudy& t, const SeenRow& row, UnitSystem units) {
    const Dimension d = find_row_dimension(t, row.seen);
    JsonObject o;
    o.add("what", make_seen_json(s, row.seen, units))
        .add("complaint", is_complaint(row.seen.kind))
        .add("unit", unit_word(d));
    o.add("believed", number_in_edge_unit(row.believed, d));
    o.add("seen", is_complaint(row.seen.kind) ? JsonValue() : number_in_edge_unit(row.target, d));
    o.add("band", number_in_edge_unit(row.band, d)).add("error", number_in_edge_unit(row.seen.error, d));
    return o.add("text", say_row(s, t, row, units)).build();
}

JsonValue make_cause_json(const Setup& s, const TraceStudy& t, const CauseFit& f, UnitSystem units) {
    const Cause& c = f.cause;
    const bool amount = is_by_amount(c.kind);
    const auto text = [](const std::string& v) { return v.empty() ? JsonValue() : JsonValue(v); };
    JsonArray predicted;
    for (std::size_t i = 0; i < f.best.predicted.size(); ++i)
        predicted.push_back(number_in_edge_unit(f.best.predicted[i], find_row_dimension(t, t.rows.rows[i].seen)));
    JsonObject o;
    o.add("kind", cause_word(c.kind))
        .add("key", c.key)
        .add("from", text(c.from))
        .add("to", text(c.to))
        .add("weight", c.weight);
    o.add("unit", amount ? JsonValue(unit_word(c.dimension)) : JsonValue());
    o.add("believed", amount ? number_in_edge_unit(c.believed, c.dimension) : JsonValue());
    o.add("tolerance", amount ? number_in_edge_unit(c.tolerance, c.dimension) : JsonValue());
    o.add("change", amount ? number_in_edge_unit(f.best.change, c.dimension) : JsonValue());
    o.add("other_change", f.other ? number_in_edge_unit(f.other->change, c.dimension) : JsonValue());
    o.add("tolerances", amount ? JsonValue(f.tolerances) : JsonValue());
    o.add("misfit", f.best.predicted.empty() ? JsonValue() : JsonValue(f.best.misfit))
        .add("share", f.share)
        .add("predicted", std::move(predicted));
    return o
        .add("text", f.produces ? say_cause_line(s, f, units)
                                : say_what_is_out(f, units) + ": " + say_cannot(s, t, f, units) + ".")
        .build();
}

JsonValue make_next_json(const Setup& s, const TraceStudy& t, UnitSystem units) {
    if (!t.next) return {};
    const SeparatingReading& n = *t.next;
    const Dimension d = find_row_dimension(t, n.what);
    JsonObject o;
    o.add("what", make_seen_json(s, n.what, units)).add("unit", unit_word(d));
    o.add("under_first", number_in_edge_unit(n.under_first, d))
        .add("under_second", number_in_edge_unit(n.under_second, d));
    o.add("error", number_in_edge_unit(n.error, d))
        .add("scatter", number_in_edge_unit(n.scatter, d))
        .add("apart", n.apart);
    return o.add("text", say_next(s, t, units)).build();
}

}  // namespace

std::string format_trace_json(const Setup& s, const TraceStudy& t, UnitSystem units) {
    JsonArray rows, causes, cannot, not_used, not_tried, lines;
    for (const SeenRow& r : t.rows.rows) rows.push_back(make_row_json(s, t, r, units));
    for (const CauseFit& f : t.causes) causes.push_back(make_cause_json(s, t, f, units));
    for (const CauseFit& f : t.cannot) cannot.push_back(make_cause_json(s, t, f, units));
    for (const SeenNotUsed& n : t.not_used)
        not_used.push_back(JsonObject().add("what", make_seen_json(s, n.seen, units)).add("reason", n.reason).build());
    for (const CauseNotTried& n : t.not_tried)
        not_tried.push_back(JsonObject().add("kind", cause_word(n.kind)).add("missing", n.key).build());
    for (const ComplaintLine& l : t.lines)
        lines.push_back(
            JsonObject().add("complaint", l.complaint).add("line", l.line).add("how_far", l.how_far).build());
    JsonObject o;
    o.add("schema", "hitchwright.trace")
        .add("schema_version", json_version)
        .add("setup", make_setup_json(s))
        .add("text", say_answer(t, units));
    o.add("known", is_known(t))
        .add("within_errors", t.within_errors)
        .add("misfit", t.believed_misfit)
        .add("misfit_within_errors", t.usual_misfit);
    o.add("seen", std::move(rows))
        .add("causes", std::move(causes))
        .add("cannot", std::move(cannot))
        .add("next_reading", make_next_json(s, t, units));
    o.add("not_used", std::move(not_used))
        .add("not_tried", std::move(not_tried))
        .add("specification_lines", std::move(lines));
    return format_json_value(o.add("cautions", make_cautions_json(list_trace_cautions())).build());
}

}  // namespace hitchwright
