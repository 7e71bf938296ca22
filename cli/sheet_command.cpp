// sheet: the set-up sheet, on paper or as text.
#include <fmt/format.h>

#include <optional>

#include "cli/code_files.h"
#include "cli/commands.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "cli/today.h"
#include "report/atomic_file.h"
#include "report/cairo_writer.h"
#include "report/card_pages.h"
#include "report/caution_text.h"
#include "report/drawn_view.h"
#include "report/fit_report.h"
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

void check_output(const Arguments& arguments, OptionReader& reader) {
    if (!arguments.has("--output")) {
        if (arguments.has("--paper")) reader.add_problem({"--paper", "paper is for a PDF: -o FILE.pdf", {}});
        return;
    }
    const std::string path = arguments.value("--output");
    std::string ending = path.size() > 4 ? path.substr(path.size() - 4) : std::string{};
    for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if (ending != ".pdf")
        reader.add_problem(
            {"--output", fmt::format("{} was read; allowed: a name ending in .pdf", in_quotes(path)), {}});
}

PagePicture draw_machine(const Setup& setup, const Analysis& analysis, UnitSystem units, const PageSetup& page,
                         const TextMeasure& measure) {
    SideViewWords words;
    words.verdict_sentence = format_verdict_sentence(setup, analysis, units);
    for (const Caution caution : list_closing_cautions(analysis))
        words.cautions.emplace_back(caution_sentence(caution));
    const SideViewScene scene = make_side_view_scene(setup, analysis, words, units);
    if (setup.implement.attachment == Attachment::drawn)
        return compose_drawn_view(scene, setup, analysis, DrawnView::side, page, measure);
    return compose_side_view(scene, page, measure);
}

Outcome write_pages(const std::vector<PagePicture>& pages, const std::string& path, Form form) {
    const RenderResult rendered = render_pdf(pages);
    Failure failure;
    if (!rendered.ok()) {
        failure.message = rendered.error;
        return failure;
    }
    if (const auto failed = write_file_atomically(path, rendered.bytes)) {
        failure.message = failed->message;
        return failure;
    }
    if (form == Form::json)
        return Answer{exit_code::fits,
                      format_json("written", {{"file", path}, {"pages", static_cast<int>(pages.size())}})};
    return Answer{exit_code::fits,
                  fmt::format("Written: {}, {}\n", escape_text(path, 4096), format_count(pages.size(), "page"))};
}

}  // namespace

Outcome run_sheet(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json});
    const SheetPaper letter{letter_portrait, letter_landscape}, a4{a4_portrait, a4_landscape};
    const SheetPaper paper = reader.choice<SheetPaper>("--paper", {{"a4", a4}, {"letter", letter}},
                                                       common.units == UnitSystem::inch ? letter : a4);
    check_output(context.arguments, reader);
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
        return write_pages(compose_worksheet_pages(*worksheet, sheet, options, common.units, paper.upright, measure),
                           context.arguments.value("--output"), common.form);
    std::vector<PagePicture> pages = compose_sheet_pages(sheet, options, paper.upright, measure);
    pages.push_back(draw_machine(setup, analysis, common.units, paper.lying, measure));
    for (PagePicture& page : pages) page.monochrome = true;
    return write_pages(pages, context.arguments.value("--output"), common.form);
}

}  // namespace hitchwright
