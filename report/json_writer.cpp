// See json_writer.h. The only file of this folder that knows the JSON library.
#include "report/json_writer.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <type_traits>

#include "report/caution_text.h"
#include "report/cut_report.h"
#include "report/fit_report.h"
#include "report/hole_words.h"
#include "report/json_line.h"
#include "report/json_parts.h"
#include "report/output_number.h"
#include "report/variant_text.h"

namespace hitchwright {
namespace {

using Json = nlohmann::ordered_json;

Json to_json(const JsonValue& value);

template <class T>
Json convert(const T& v) {
    if constexpr (std::is_same_v<T, std::monostate>) {
        return nullptr;
    } else if constexpr (std::is_same_v<T, double>) {
        return std::isfinite(v) ? Json(round_for_output(v)) : Json(nullptr);
    } else if constexpr (std::is_same_v<T, JsonArray>) {
        Json list = Json::array();
        for (const JsonValue& item : v) list.push_back(to_json(item));
        return list;
    } else if constexpr (std::is_same_v<T, JsonMembers>) {
        Json object = Json::object();
        for (const auto& [key, item] : v) object[key] = to_json(item);
        return object;
    } else {
        return v;
    }
}

Json to_json(const JsonValue& value) {
    return std::visit([](const auto& v) { return convert(v); }, value.data());
}

JsonObject start(std::string_view schema) {
    JsonObject o;
    o.add("schema", "hitchwright." + std::string(schema)).add("schema_version", json_version);
    return o;
}

JsonArray make_texts(const std::vector<std::string>& texts) { return {texts.begin(), texts.end()}; }

/// What is left out of a fit says why.
void add_part(JsonObject& o, std::string_view key, JsonValue part, bool there, std::string_view reason) {
    if (there)
        o.add(key, std::move(part));
    else
        o.unknown(key, reason);
}

}  // namespace

std::string format_json_value(const JsonValue& value) {
    // ASCII only: no byte of a name can steer a terminal. Broken UTF-8 is replaced, not thrown about.
    return to_json(value).dump(2, ' ', true, Json::error_handler_t::replace) + '\n';
}

std::string format_json_line(const JsonValue& value) {
    return to_json(value).dump(-1, ' ', true, Json::error_handler_t::replace) + '\n';
}

namespace {

JsonValue make_whole_fit(const Setup& setup, const Analysis& analysis, UnitSystem units, const std::vector<ReadingRoom>* rooms,
                         const VariantStudy* variants) {
    const FindingContext context = make_finding_context(setup, analysis, units);
    JsonArray findings;
    for (const Finding& f : analysis.findings) findings.push_back(make_finding_json(f, context));
    JsonObject o = start("fit");
    o.add("setup", make_setup_json(setup))
        .add("verdict", verdict_word(analysis.verdict))
        .add("text", format_verdict_sentence(setup, analysis, units));
    o.add("not_judged", make_unjudged_json(analysis));
    o.add("steps", make_texts(list_steps(setup, analysis, units))).add("findings", std::move(findings));
    add_part(o, "linkage", make_linkage_json(setup, analysis), analysis.linkage.has_value(),
             "a reading is missing or the linkage does not close: see findings");
    add_part(o, "shaft", make_shaft_json(analysis), analysis.shaft.has_value(),
             "no PTO input, no shaft, or a reading is missing: see findings");
    add_part(o, "drawn", make_drawn_json(setup, analysis), analysis.drawn.has_value(), "mounted, or a reading of the hitch is missing: see findings");
    add_part(o, "cut", context.cut ? make_cut_json(*context.cut, units) : JsonValue(), context.cut.has_value(),
             "no shaft whose halves are known: see findings");
    add_part(o, "floating", make_floating_json(analysis), analysis.floating.has_value(),
             "the upper link does not float, or see findings");
    o.add("clearances", make_clearances_json(analysis)).add("ground_clearances", make_ground_json(analysis));
    o.add("space", make_space_json(analysis));
    o.add("model_fit", make_model_fit_json(analysis, units)).add("decided_by", analysis.decided_by).add("next_readings", make_next_readings_json(analysis, units));
    o.add("part_effects", make_part_effects_json(analysis));
    o.add("inputs", make_inputs_json(setup)).add("evaluations", analysis.evaluations);
    o.add("how_far", rooms != nullptr ? make_how_far_json(*rooms) : JsonValue());
    o.add("variants", variants != nullptr ? make_variants_json(*variants, units) : JsonValue());
    return o.add("cautions", make_cautions_json(list_closing_cautions(analysis))).build();
}

}  // namespace

JsonValue make_fit_json(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    return make_whole_fit(setup, analysis, units, nullptr, nullptr);
}

std::string format_fit_json(const Setup& setup, const Analysis& analysis, UnitSystem units,
                            const std::vector<ReadingRoom>* rooms, const VariantStudy* variants) {
    return format_json_value(make_whole_fit(setup, analysis, units, rooms, variants));
}

std::string format_cut_json(const CutCase& cut_case, std::string_view title, const std::vector<Remedy>& ways_out,
                            UnitSystem units) {
    Finding none;
    none.kind = FindingKind::no_cut_works;
    JsonArray ways;
    for (const Remedy& r : ways_out) ways.push_back(make_remedy_json(r, none, {SafeWords{units}, cut_case}));
    JsonObject o = start("cut");
    o.add("title", title).add("cut", make_cut_json(cut_case, units)).add("ways_out", std::move(ways));
    return format_json_value(o.add("cautions", make_cautions_json(list_cutting_cautions())).build());
}

std::string format_sweep_json(const Setup& setup, const std::vector<PoseReport>& rows, const SweepContents& contents) {
    JsonArray list;
    for (const PoseReport& row : rows) list.push_back(make_pose_json(row, contents));
    JsonObject o = start("sweep");
    o.add("setup", make_setup_json(setup)).add("positions", std::move(list));
    return format_json_value(o.add("cautions", make_cautions_json(list_sweep_cautions(contents.shaft))).build());
}

std::string format_holes_json(const Setup& setup, const HoleStudy& study, UnitSystem units) {
    JsonArray combinations;
    for (std::size_t i = 0; i < study.results.size(); ++i) combinations.push_back(make_hole_json(setup, study, i, units));
    JsonObject o = start("holes");
    o.add("setup", make_setup_json(setup)).add("wish", hole_wish_word(study.wish)).add("judged_by", hole_wish_word(study.judged_by));
    o.add("text", say_best_holes(study)).add("typed_link_ignored", study.typed_link_ignored);
    if (combinations.empty()) o.add("combinations_reason", "no holes are listed, too many are, or the implement is drawn");
    o.add("combinations", std::move(combinations));
    const Analysis none;
    const Analysis& first = study.results.empty() ? none : study.results.front().analysis;
    return format_json_value(o.add("cautions", make_cautions_json(list_closing_cautions(first))).build());
}

}  // namespace hitchwright
