#include "cli/judgement.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/fit_report.h"
#include "report/json_parts.h"
#include "report/safe_words.h"

namespace hitchwright {

Judgement judge(const LoadedSetup& loaded, const Mark& mark, UnitSystem units) {
    if (!loaded.ok()) {
        return {{},
                fmt::format("NOT JUDGED: {} in its files; \"hitchwright fit\" names them.",
                            format_count(loaded.problems.size(), "problem"))};
    }
    Judgement judgement;
    judgement.analysis = analyze(loaded.setup, mark);
    judgement.sentence = format_verdict_sentence(loaded.setup, *judgement.analysis, units);
    return judgement;
}

JsonValue make_judgement_json(const Judgement& judgement) {
    JsonObject o;
    if (judgement.analysis)
        o.add("verdict", verdict_word(judgement.analysis->verdict));
    else
        o.unknown("verdict", judgement.sentence);
    return o.add("text", judgement.sentence).build();
}

std::vector<Caution> list_cautions(const std::vector<const Judgement*>& judgements) {
    std::vector<Caution> all;
    for (const Judgement* judgement : judgements) {
        if (!judgement->analysis) continue;
        for (const Caution c : list_closing_cautions(*judgement->analysis)) {
            if (std::find(all.begin(), all.end(), c) == all.end()) all.push_back(c);
        }
    }
    return all;
}

std::string format_caution_list(const std::vector<Caution>& cautions, const TextStyle& style) {
    std::string text = cautions.empty() ? "" : "\nCautions\n";
    for (const Caution c : cautions) text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    return text;
}

}  // namespace hitchwright
