// load: what the tractor lifts at the implement's centre of gravity, and what its axles carry.
#include "cli/commands.h"
#include "cli/setup_input.h"
#include "report/load_report.h"

namespace hitchwright {
namespace {

int find_code(const Analysis& analysis) {
    std::vector<Finding> findings;
    for (const Finding* f : list_load_findings(analysis)) findings.push_back(*f);
    if (findings.empty()) return exit_code::not_decided;
    const int code = find_exit_code(find_verdict(findings));
    // Axles alone are half an answer.
    const bool open =
        (analysis.lift && analysis.lift->answer == LiftAnswer::not_known) || !analysis.axles || !analysis.axles->known;
    return code == exit_code::fits && open ? exit_code::not_decided : code;
}

}  // namespace

Outcome run_load(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const int steps = reader.whole("--steps", 2, 1001, 9);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    const Analysis analysis = analyze(setup, common.mark);
    const LoadAnswer answer = make_load_answer(setup, analysis, steps);
    const int code = find_code(analysis);
    switch (common.form) {
        case Form::json:
            return Answer{code, format_load_json(answer, common.units)};
        case Form::csv:
            return Answer{code, format_load_csv(answer, common.units)};
        case Form::text:
            break;
    }
    return Answer{code, format_load_report(answer, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
