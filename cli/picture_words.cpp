// See picture_words.h.
#include "cli/picture_words.h"

#include "report/caution_text.h"
#include "report/fit_report.h"

namespace hitchwright {

SideViewWords make_picture_words(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    SideViewWords words;
    words.verdict_sentence = format_verdict_sentence(setup, analysis, units);
    for (const Caution caution : list_closing_cautions(analysis))
        words.cautions.emplace_back(caution_sentence(caution));
    return words;
}

}  // namespace hitchwright
