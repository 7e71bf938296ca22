// shafts: which listed drivelines fit a set-up.
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "presets/load_machine.h"
#include "report/edge_units.h"
#include "report/shaft_choice_text.h"

namespace hitchwright {
namespace {

Record make_record(const ShaftChoice& c, const Setup& setup, UnitSystem units, bool inches) {
    const double per_si = find_edge_unit(Dimension::length, inches ? UnitSystem::inch : UnitSystem::millimetre).per_si;
    const auto number = [&](double metres, bool there) { return there ? RecordValue(metres * per_si) : RecordValue(); };
    const bool cut = c.suits == ShaftSuits::after_cut;
    const ShaftMargins& left = cut ? c.plan.after : c.plan.uncut;
    if (inches) {
        return {{"key", c.key}, {"name", c.name}, {"suits", std::string(shaft_suits_word(c.suits))},
                {"closed_length_in", number(c.closed_length, c.has_plan)},
                {"cut_tractor_half_in", number(c.plan.recommended.a, cut)},
                {"cut_implement_half_in", number(c.plan.recommended.b, cut)},
                {"gap_in", number(left.gap, c.has_plan)}, {"overlap_in", number(left.overlap, c.has_plan)},
                {"overlap_needed_in", number(left.overlap_needed, c.has_plan)},
                {"reason", format_shaft_reason(c, setup, units)}};
    }
    return {{"key", c.key}, {"name", c.name}, {"suits", std::string(shaft_suits_word(c.suits))},
            {"closed_length_mm", number(c.closed_length, c.has_plan)},
            {"cut_tractor_half_mm", number(c.plan.recommended.a, cut)},
            {"cut_implement_half_mm", number(c.plan.recommended.b, cut)},
            {"gap_mm", number(left.gap, c.has_plan)}, {"overlap_mm", number(left.overlap, c.has_plan)},
            {"overlap_needed_mm", number(left.overlap_needed, c.has_plan)},
            {"reason", format_shaft_reason(c, setup, units)}};
}

/// Best of the answers: as it is 0, after a cut 1, none 1, undecided 5.
int find_code(const std::vector<ShaftChoice>& choices) {
    if (choices.empty()) return exit_code::not_decided;
    switch (choices.front().suits) {
        case ShaftSuits::as_it_is: return exit_code::fits;
        case ShaftSuits::after_cut:
        case ShaftSuits::no_cut_works:
        case ShaftSuits::wrong_kind: return find_exit_code(Verdict::fits_after_change);
        case ShaftSuits::too_close_to_call:
        case ShaftSuits::not_known: break;
    }
    return exit_code::not_decided;
}

}  // namespace

Outcome run_shafts(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (!setup.implement.pic.fitted) {
        return Answer{exit_code::fits, "This implement has no PTO input: it needs no shaft.\n"};
    }
    std::vector<Problem> problems;
    const std::vector<Driveline> shafts = load_machines<Driveline>(FileKind::driveline, context.library, problems);
    if (!problems.empty()) {
        Failure failure;
        failure.code = exit_code::bad_file;
        failure.message = "a listed driveline cannot be read";
        failure.problems = problems;
        return failure;
    }
    const std::vector<ShaftChoice> choices = study_shafts(setup, shafts, common.mark);
    const ShaftToOrder order = find_shaft_to_order(setup, shafts, common.mark);
    if (common.form == Form::text) {
        return Answer{find_code(choices), format_shaft_choices(setup, choices, order, {common.units, page_width, context.colour})};
    }
    std::vector<Record> records;
    const bool inches = common.form == Form::csv && common.units == UnitSystem::inch;
    for (const ShaftChoice& c : choices) records.push_back(make_record(c, setup, common.units, inches));
    return Answer{find_code(choices), common.form == Form::csv ? format_csv(records) : format_json("shafts", "shafts", records)};
}

}  // namespace hitchwright
