// diff: two set-ups, which values differ, and what that changes.
#include <algorithm>

#include "cli/commands.h"
#include "cli/difference_output.h"
#include "cli/setup_input.h"

namespace hitchwright {

Outcome run_diff(const CommandContext& context) {
    const Arguments& arguments = context.arguments;
    OptionReader reader(arguments);
    const CommonValues common = read_common(reader, arguments, {Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), arguments.command);
    const LoadOptions options{{}, common.rules};
    LoadedSetup was = load_setup(arguments.name(0), context.library, options);
    LoadedSetup is = load_setup(arguments.name(1), context.library, options);
    if (!was.ok() || !is.ok()) {
        // The same problem twice where both use one file.
        for (Problem& p : is.problems) {
            if (std::find(was.problems.begin(), was.problems.end(), p) == was.problems.end())
                was.problems.push_back(std::move(p));
        }
        return make_setup_failure(std::move(was.problems));
    }
    SetupDifference d;
    d.old_title = arguments.name(0);
    d.new_title = arguments.name(1);
    d.old_judgement = judge(was, common.mark, common.units);
    d.new_judgement = judge(is, common.mark, common.units);
    d.values = compare_values(was.setup, is.setup);
    d.old_setup = std::move(was.setup);
    d.new_setup = std::move(is.setup);
    d.findings = compare_findings(d.old_judgement.analysis->findings, d.new_judgement.analysis->findings);
    const int code = d.any() ? exit_code::change : exit_code::fits;
    switch (common.form) {
        case Form::json:
            return Answer{code, format_difference_json(d, common.units)};
        case Form::csv:
            return Answer{code, format_difference_csv(d, common.units)};
        case Form::text:
            break;
    }
    return Answer{code, format_difference(d, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
