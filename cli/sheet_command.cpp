// sheet: the set-up sheet, on paper or as text.
#include <fmt/format.h>

#include <optional>

#include "cli/commands.h"
#include "cli/page_output.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "cli/sheet_document.h"
#include "cli/today.h"
#include "report/sheet_text.h"
#include "report/worksheet_text.h"

namespace hitchwright {

Outcome run_sheet(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json});
    const bool a4 = reader.choice<bool>("--paper", {{"a4", true}, {"letter", false}}, common.units != UnitSystem::inch);
    const SheetPaper paper = find_sheet_paper(a4);
    check_page_output(context.arguments, common.form, reader);
    const int seed = reader.whole("--seed", 1, 1'000'000, 1);
    if (context.arguments.has("--seed") && !context.arguments.has("--worksheet"))
        reader.add_problem({"--seed", "belongs to --worksheet", {}});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    Setup setup = std::get<Setup>(loaded);
    std::optional<Worksheet> worksheet;
    if (context.arguments.has("--worksheet")) {
        worksheet = draw_worksheet(setup, static_cast<std::uint64_t>(seed));
        setup = worksheet->paper;
    }
    const Analysis analysis = analyze(setup, common.mark);
    const Sheet sheet = make_sheet(setup, analysis, common.units, HITCHWRIGHT_VERSION);
    const TodayDate today = find_today(context.variable);
    if (!today.message.empty()) return make_usage_failure("sheet", {{}, today.message, {}});
    SheetOptions options;
    options.printed = today.date;
    options.worksheet = worksheet.has_value();
    if (!context.arguments.has("--output")) {
        if (worksheet && common.form == Form::text)
            return Answer{exit_code::fits, format_worksheet_text(*worksheet, sheet, options,
                                                                 {common.units, page_width, context.colour})};
        if (common.form == Form::json) return Answer{exit_code::fits, format_sheet_json(sheet, setup, options)};
        return Answer{exit_code::fits, format_sheet_text(sheet, options, {common.units, page_width, context.colour})};
    }
    options = make_sheet_options({context.arguments.name(0), context.library, common.sets, common.rules}, today.date);
    options.worksheet = worksheet.has_value();
    if (worksheet)
        return write_pages(compose_worksheet_pages(*worksheet, sheet, options, common.units, paper.upright, BuiltInTextMeasure{}),
                           context.arguments.value("--output"), common.form);
    return write_pages(compose_sheet_document(setup, analysis, sheet, options, common.units, paper),
                           context.arguments.value("--output"), common.form);
}

}  // namespace hitchwright
