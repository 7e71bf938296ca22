// envelope: what is left at every turn and pitch of a drawn implement, as a table.
#include <cmath>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "geometry/envelope.h"
#include "report/caution_text.h"
#include "report/edge_units.h"
#include "report/fit_report.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr int least_steps = 2, most_steps = 201, usual_steps = 31;
constexpr std::size_t text_yaws = 11, text_pitches = 11;

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

char mark_of(const Envelope& e, const EnvelopeCell& c) {
    if (e.has_halves && c.gap_margin < 0.0) return 'B';
    if (e.has_halves && c.overlap_margin < 0.0) return 'S';
    return c.joint_margin < 0.0 ? 'J' : '.';
}

/// A coarse table of letters, rear up at the top.
std::string format_table(const Envelope& e) {
    const double degree = find_edge_unit(Dimension::angle).per_si;
    std::string text = "  rear, deg\n";
    for (std::size_t j = e.pitches; j-- > 0;) {
        text += fmt::format("{:>8.0f}  ", e.at(0, j).pitch * degree);
        for (std::size_t i = 0; i < e.yaws; ++i) text += fmt::format("{:>6}", mark_of(e, e.at(i, j)));
        text += "\n";
    }
    text += fmt::format("{:>10}", "turn");
    for (std::size_t i = 0; i < e.yaws; ++i) text += fmt::format("{:>6.0f}", e.at(i, 0).yaw * degree);
    return text + "\n";
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
    const Envelope e = study_envelope(result.model, limits, text ? text_yaws : count, text ? text_pitches : count);
    if (!text) {
        std::vector<Record> records;
        for (const EnvelopeCell& c : e.cells) records.push_back(make_record(e, c, common.form, common.units));
        return Answer{exit_code::fits, common.form == Form::json ? format_json("envelope", "cells", records) : format_csv(records)};
    }
    const TextStyle style{common.units, page_width, context.colour};
    std::string answer = format_machines(setup, style) + "\n" + format_table(e);
    answer += format_paragraph("B: too little gap, or bottoms out. S: too little overlap, or apart. J: a joint beyond its PTO-off limit. Turn: left is -; rear "
                               "up is +. Without roll. The whole picture: draw --view envelope; every number: --format csv.", page_width, 0, 0);
    answer += "\nCautions\n";
    for (const Caution c : {Caution::turn_with_pto_off, Caution::cross_ditches_slowly, Caution::keep_from_turning_shaft, Caution::parts_or_breaks, Caution::manual_rules})
        answer += format_labelled("! ", caution_sentence(c), page_width, 2, 4);
    return Answer{exit_code::fits, answer};
}

}  // namespace hitchwright
