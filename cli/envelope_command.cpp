// envelope: what is left at every turn and pitch of a drawn implement, as a table.
#include <cmath>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "geometry/envelope.h"
#include "report/edge_units.h"
#include "report/envelope_report.h"

namespace hitchwright {
namespace {

constexpr int least_steps = 2, most_steps = 201, usual_steps = 31;

Record make_record(const Envelope& e, const EnvelopeCell& c, Form form, UnitSystem units) {
    const bool inch = form == Form::csv && units == UnitSystem::inch;
    const double unit = find_edge_unit(Dimension::length, inch ? UnitSystem::inch : UnitSystem::millimetre).per_si;
    const double degree = find_edge_unit(Dimension::angle).per_si;
    const auto length = [&](double v, bool known) { return known ? RecordValue(v * unit) : RecordValue(); };
    const auto angle = [&](double v) { return std::isfinite(v) ? RecordValue(v * degree) : RecordValue(); };
    return {{"yaw_deg", angle(c.yaw)},
            {"pitch_deg", angle(c.pitch)},
            {inch ? "shaft_in" : "shaft_mm", length(c.length, true)},
            {inch ? "gap_margin_in" : "gap_margin_mm", length(c.gap_margin, e.has_halves)},
            {inch ? "overlap_margin_in" : "overlap_margin_mm", length(c.overlap_margin, e.has_halves)},
            {"tractor_angle_deg", angle(c.tractor_angle)},
            {"implement_angle_deg", angle(c.implement_angle)},
            {"joint_margin_deg", angle(c.joint_margin)}};
}

}  // namespace

Outcome run_envelope(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const int steps = reader.whole("--steps", least_steps, most_steps, usual_steps);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (setup.implement.attachment == Attachment::mounted)
        return make_other_kind_answer("envelope", "The implement of this set-up is mounted. Over its travel: \"hitchwright sweep\".", common);
    const DrawnModelResult result = make_drawn_model(setup);
    if (!result.model.has_shaft)
        return make_other_kind_answer("envelope", "NOT KNOWN: readings of hitch or shaft are missing; \"hitchwright fit\" names them.", common);
    const TurnLimits limits = make_turn_limits(setup, result.model, JointHold::pto_off);
    const auto count = static_cast<std::size_t>(steps);
    const bool text = common.form == Form::text;
    const Envelope e = study_envelope(result.model, limits, text ? envelope_columns : count, text ? envelope_columns : count);
    if (!text) {
        std::vector<Record> records;
        for (const EnvelopeCell& c : e.cells) records.push_back(make_record(e, c, common.form, common.units));
        return Answer{exit_code::fits, common.form == Form::json ? format_json("envelope", "cells", records) : format_csv(records)};
    }
    return Answer{exit_code::fits, format_envelope_report(setup, e, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
