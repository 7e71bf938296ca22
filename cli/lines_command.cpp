// lines: what was measured against its specification, worst first.
#include "cli/commands.h"
#include "cli/setup_input.h"
#include "geometry/setup_lines.h"
#include "presets/load_setup.h"
#include "report/lines_report.h"

namespace hitchwright {
namespace {

/// Anything out 1; else anything open or too close, or no line at all, 5; else 0.
int find_code(const LineCounts& c) {
    if (c.out > 0) return exit_code::change;
    if (c.too_close > 0 || c.not_measured > 0 || c.in == 0) return exit_code::not_decided;
    return exit_code::fits;
}

}  // namespace

Outcome run_lines(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto lists = context.arguments.options.find("--list");
    const bool named = lists != context.arguments.options.end();
    LoadedSetup loaded = load_setup(context.arguments.name(0), context.library,
                                    {common.sets, common.rules, named ? lists->second : std::vector<std::string>{}});
    if (!loaded.ok()) return make_setup_failure(std::move(loaded.problems));
    std::vector<LineResult> lines = check_lines(loaded.setup);
    sort_lines(lines);
    const int code = find_code(count_lines(lines));
    switch (common.form) {
        case Form::json:
            return Answer{code, format_lines_json(loaded.setup, lines, common.units)};
        case Form::csv:
            return Answer{code, format_lines_csv(lines, common.units)};
        case Form::text:
            break;
    }
    return Answer{code, format_lines_report(loaded.setup, lines, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
