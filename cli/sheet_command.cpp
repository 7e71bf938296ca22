// sheet: the set-up sheet, on paper or as text.
#include <fmt/format.h>

#include <optional>

#include "cli/code_files.h"
#include "cli/commands.h"
#include "cli/pdf_output.h"
#include "cli/picture_words.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "cli/today.h"
#include "report/card_pages.h"
#include "report/drawn_view.h"
#include "report/qr_code.h"
#include "report/safe_words.h"
#include "report/sheet_text.h"
#include "report/side_view_scene.h"
#include "report/worksheet_text.h"

namespace hitchwright {
namespace {

/// Paper of a sheet and of the drawing behind it.
struct SheetPaper {
    PageSetup upright, lying;
};

PagePicture draw_machine(const Setup& setup, const Analysis& analysis, UnitSystem units, const PageSetup& page,
                         const TextMeasure& measure) {
    const SideViewWords words = make_picture_words(setup, analysis, units);
    const SideViewScene scene = make_side_view_scene(setup, analysis, words, units);
    if (setup.implement.attachment == Attachment::drawn)
        return compose_drawn_view(scene, setup, analysis, DrawnView::side, page, measure);
    return compose_side_view(scene, page, measure);
}

}  // namespace

Outcome run_sheet(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json});
    const SheetPaper letter{letter_portrait, letter_landscape}, a4{a4_portrait, a4_landscape};
    const SheetPaper paper = reader.choice<SheetPaper>("--paper", {{"a4", a4}, {"letter", letter}},
                                                       common.units == UnitSystem::inch ? letter : a4);
    check_pdf_output(context.arguments, common.form, reader);
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
    const GatheredFiles files =
        gather_code_files(context.arguments.name(0), context.library, common.sets, common.rules);
    if (files.error.empty()) options.code = pack_code(files.files);
    options.no_code = files.error;
    if (!options.code.empty() && !make_qr_code(options.code)) options.no_code = "it is too long for one";
    const BuiltInTextMeasure measure;
    if (worksheet)
        return write_pdf_pages(compose_worksheet_pages(*worksheet, sheet, options, common.units, paper.upright, measure),
                           context.arguments.value("--output"), common.form);
    std::vector<PagePicture> pages = compose_sheet_pages(sheet, options, paper.upright, measure);
    pages.push_back(draw_machine(setup, analysis, common.units, paper.lying, measure));
    for (PagePicture& page : pages) page.monochrome = true;
    return write_pdf_pages(pages, context.arguments.value("--output"), common.form);
}

}  // namespace hitchwright
