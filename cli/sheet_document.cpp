// See sheet_document.h.
#include "cli/sheet_document.h"

#include "cli/code_files.h"
#include "cli/picture_words.h"
#include "report/card_pages.h"
#include "report/drawn_view.h"
#include "report/qr_code.h"
#include "report/side_view_scene.h"

namespace hitchwright {
namespace {

PagePicture draw_machine(const Setup& setup, const Analysis& analysis, UnitSystem units, const PageSetup& page,
                         const TextMeasure& measure) {
    const SideViewWords words = make_picture_words(setup, analysis, units);
    const SideViewScene scene = make_side_view_scene(setup, analysis, words, units);
    if (setup.implement.attachment == Attachment::drawn)
        return compose_drawn_view(scene, setup, analysis, DrawnView::side, page, measure);
    return compose_side_view(scene, page, measure);
}

}  // namespace

SheetPaper find_sheet_paper(bool a4) {
    return a4 ? SheetPaper{a4_portrait, a4_landscape} : SheetPaper{letter_portrait, letter_landscape};
}

SheetOptions make_sheet_options(const SetupOrigin& origin, const std::string& printed) {
    SheetOptions options;
    options.printed = printed;
    const GatheredFiles files = gather_code_files(origin.name, origin.library, origin.sets, origin.rules);
    if (files.error.empty()) options.code = pack_code(files.files);
    options.no_code = files.error;
    if (!options.code.empty() && !make_qr_code(options.code)) {
        const std::string problem = find_qr_problem();
        options.no_code = problem.empty() ? "it is too long for one" : problem;
    }
    return options;
}

std::vector<PagePicture> compose_sheet_document(const Setup& setup, const Analysis& analysis, const Sheet& sheet,
                                                const SheetOptions& options, UnitSystem units, const SheetPaper& paper) {
    const BuiltInTextMeasure measure;
    std::vector<PagePicture> pages = compose_sheet_pages(sheet, options, paper.upright, measure);
    pages.push_back(draw_machine(setup, analysis, units, paper.lying, measure));
    for (PagePicture& page : pages) page.monochrome = true;
    return pages;
}

}  // namespace hitchwright
