#include "report/page_header.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/page_blocks.h"

namespace hitchwright {
namespace {

constexpr TextFace finding_face{2.6, false};
constexpr TextFace caption_face{3.0, true};
constexpr double block_gap_mm = 1.8;
constexpr double column_gap_mm = 6.0;

std::string describe(const SideViewScene& scene) {
    std::string text = scene.subtitle.empty() ? std::string("Side view of a mounted implement") : scene.subtitle;
    if (scene.working)
        text += fmt::format(". Solid: {}, ball height {}.", scene.position_words,
                            format_length(scene.working->lower_hitch_point.z, scene.units));
    return text;
}

std::vector<std::string> all_cautions(const SideViewScene& scene) {
    std::vector<std::string> cautions = scene.cautions;
    for (const Caution caution : standing_cautions) {
        if (caution == Caution::keep_from_turning_shaft && !scene.shaft) continue;
        const std::string sentence(caution_sentence(caution));
        if (std::find(cautions.begin(), cautions.end(), sentence) == cautions.end()) cautions.push_back(sentence);
    }
    return cautions;
}

std::string make_title(const SideViewScene& scene) {
    const std::string_view words = verdict_headline(scene.verdict);
    return scene.verdict_sentence.starts_with(words) ? scene.verdict_sentence
                                                     : fmt::format("{}: {}", words, scene.verdict_sentence);
}

/// Findings under the header in two columns, read down the left one first; returns the y below them.
double add_findings(PagePicture& page, const std::vector<std::string>& findings, const PageRect& area,
                    const TextMeasure& measure) {
    const double column = (area.width() - column_gap_mm) / 2.0;
    const std::size_t in_left = (findings.size() + 1) / 2;
    double y = area.top, below = area.top;
    for (std::size_t i = 0; i < findings.size(); ++i) {
        if (i == in_left) y = area.top;
        const double left = i < in_left ? area.left : area.left + column + column_gap_mm;
        y = add_text_block(page, make_text_block(findings[i], finding_face, column, measure), {left, y}, Role::title,
                           measure);
        below = std::max(below, y);
    }
    return below;
}

}  // namespace

PagePicture start_page(const SideViewScene& scene, const PageSetup& setup, const TextMeasure& measure, PageRect& area) {
    PagePicture page;
    page.width_mm = setup.width_mm;
    page.height_mm = setup.height_mm;
    page.title = make_title(scene);
    page.description = describe(scene);
    area = {setup.margin_mm, setup.margin_mm, setup.width_mm - setup.margin_mm, setup.height_mm - setup.margin_mm};
    area.top = add_verdict_header(page, scene.verdict, scene.verdict_sentence, scene.subtitle, area, measure);
    if (!scene.caption.empty()) {
        const TextBlock block = make_text_block(scene.caption, caption_face, area.width(), measure);
        area.top = add_text_block(page, block, {area.left, area.top}, Role::title, measure) + 0.6;
    }
    area.top = add_findings(page, scene.findings, area, measure) + block_gap_mm;
    area.bottom = add_cautions(page, all_cautions(scene), area, measure) - block_gap_mm;
    return page;
}

}  // namespace hitchwright
