// Blocks a printed page is built from: paragraphs, verdict header, caution block, legend rows, scale bar, whole
// drawings.
//
// Each block takes the room it is given and returns what it used, so that a page is a list of blocks from top to bottom
// and one from the bottom up. Frame of the page: mm, y down.
#pragma once

#include <string>
#include <vector>

#include "geometry/finding.h"
#include "report/format_length.h"
#include "report/page.h"
#include "report/word_places.h"

namespace hitchwright {

/// Lines of one paragraph with their face.
struct TextBlock {
    std::vector<std::string> lines;
    TextFace face;
};

/// Breaks `text` into a block of the given width.
TextBlock make_text_block(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure);

/// Height of a block, mm.
double block_height(const TextBlock& block, const TextMeasure& measure);

/// Writes the block with its upper left corner at `corner`; returns the y below it.
double add_text_block(PagePicture& page, const TextBlock& block, PagePoint corner, Role role,
                      const TextMeasure& measure);

/// Verdict box (mark, and the verdict in words unless the sentence begins with them) with the sentence beside it and
/// the subtitle under both; returns the y below.
double add_verdict_header(PagePicture& page, Verdict verdict, std::string_view sentence, std::string_view subtitle,
                          const PageRect& area, const TextMeasure& measure);

/// Cautions with a warning triangle, standing on the bottom of `area`; returns the y above them.
double add_cautions(PagePicture& page, const std::vector<std::string>& cautions, const PageRect& area,
                    const TextMeasure& measure);

/// What a legend entry shows beside its words.
enum class Swatch { line, area, circle };
struct LegendItem {
    Role role = Role::label;
    Swatch swatch = Swatch::line;
    std::string words;
};

/// Legend in rows standing on the bottom of `area`; returns the y above it.
double add_legend(PagePicture& page, const std::vector<LegendItem>& items, const PageRect& area,
                  const TextMeasure& measure);

/// Scale bar of a round length with its words, lower right corner at `corner`; returns the box it covers.
PageRect add_scale_bar(PagePicture& page, double scale_denominator, UnitSystem units, PagePoint corner,
                       const TextMeasure& measure);

/// Places a drawing with its dimensions and labels inside `area` and adds it to the page; words go anywhere in
/// `label_area` that is not in `taken`. Returns the texts that found no place. `places`: guesses, afterwards where the words stand; with
/// any of them the page is the same, with good ones found in less time.
std::vector<std::string> add_drawing(PagePicture& page, const Drawing& drawing, const Placement& placement,
                                     const PageRect& label_area, const std::vector<PageRect>& taken,
                                     const TextMeasure& measure, WordPlaces* places = nullptr);

/// Fits a drawing of a machine into `area` with a scale bar in its upper right corner; texts without room are named in the
/// page's description. An empty drawing adds nothing.
void add_fitted_drawing(PagePicture& page, const Drawing& drawing, const PageRect& area, UnitSystem units,
                        const TextMeasure& measure);

}  // namespace hitchwright
