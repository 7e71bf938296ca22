// fit, sweep.
#include "cli/commands.h"
#include "cli/setup_input.h"
#include "report/finding_csv.h"
#include "report/fit_report.h"
#include "report/json_writer.h"
#include "report/sweep_table.h"

namespace hitchwright {
namespace {

constexpr int least_steps = 2;
constexpr int most_steps = 1001;
constexpr int usual_steps = 11;

std::string format_fit(const Setup& setup, const Analysis& analysis, const CommonValues& common, bool colour,
                       bool explain) {
    switch (common.form) {
        case Form::json:
            return format_fit_json(setup, analysis, common.units);
        case Form::csv:
            return format_finding_csv(setup, analysis, common.units);
        case Form::text:
            break;
    }
    return format_fit_report(setup, analysis, {common.units, page_width, colour}, explain);
}

}  // namespace

Outcome run_fit(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const bool explain = context.arguments.has("--explain");
    if (explain && common.form == Form::csv)
        reader.add_problem({"--explain",
                            "CSV has no place for explanations; allowed with --format text, and JSON always has them",
                            {}});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    const Analysis analysis = analyze(setup, common.mark);
    return Answer{find_exit_code(analysis.verdict), format_fit(setup, analysis, common, context.colour, explain)};
}

Outcome run_sweep(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const int steps = reader.whole("--steps", least_steps, most_steps, usual_steps);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (setup.implement.attachment == Attachment::drawn)
        return make_other_kind_answer("sweep", "A drawn implement is not lifted through a travel. Over turns and dips: \"hitchwright fit\"; across a ditch: \"hitchwright ditch\".", common);
    const std::vector<PoseReport> rows = sweep_travel(setup, steps);
    // No row at all is no answer: fit says what is missing.
    const int code = rows.empty() ? exit_code::not_decided : exit_code::fits;
    const SweepContents contents = find_sweep_contents(setup);
    switch (common.form) {
        case Form::json:
            return Answer{code, format_sweep_json(setup, rows, contents)};
        case Form::csv:
            return Answer{code, format_sweep_csv(rows, contents, common.units)};
        case Form::text:
            break;
    }
    return Answer{code, format_sweep_table(rows, contents, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
