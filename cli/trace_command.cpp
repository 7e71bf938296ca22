// trace: which single change of the set-up gives what is seen at the machine.
#include "cli/commands.h"
#include "cli/seen_words.h"
#include "cli/setup_input.h"
#include "geometry/trace_study.h"
#include "report/trace_report.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_seen = 40;

/// Nothing need be wrong 0; a cause 1; no single change, or nothing that can be reckoned 5.
int find_code(const TraceStudy& study) {
    if (study.rows.rows.empty()) return exit_code::not_decided;
    if (study.within_errors) return exit_code::fits;
    return study.causes.empty() ? exit_code::not_decided : exit_code::change;
}

}  // namespace

Outcome run_trace(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json});
    const auto typed = context.arguments.options.find("--seen");
    if (typed == context.arguments.options.end())
        reader.add_problem({"--seen", "nothing was said to be seen; " + list_seen_forms(), {}});
    else if (typed->second.size() > most_seen)
        reader.add_problem({"--seen", "more than 40 were read; allowed: up to 40", {}});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    const std::vector<ComplaintLine> lines = list_complaint_lines(setup, common.units);
    std::vector<Seen> seen;
    for (const std::string& text : typed->second) {
        SeenText read = read_seen(text, common.units, setup, lines);
        if (!read.problem.empty()) reader.add_problem({"--seen", read.problem, read.nearest});
        seen.insert(seen.end(), read.seen.begin(), read.seen.end());
    }
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const TraceStudy study = trace(setup, seen, lines);
    if (common.form == Form::json) return Answer{find_code(study), format_trace_json(setup, study, common.units)};
    return Answer{find_code(study), format_trace_report(setup, study, {common.units, page_width, context.colour},
                                                        context.arguments.has("--all"))};
}

}  // namespace hitchwright
