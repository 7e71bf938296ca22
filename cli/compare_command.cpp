// compare: two set-ups question by question, or one set-up and what each switch changes.
#include <algorithm>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/compare_output.h"
#include "cli/setup_input.h"
#include "cli/switch_options.h"
#include "report/fit_report.h"

namespace hitchwright {
namespace {

Judgement judge_setup(const Setup& setup, const CommonValues& common) {
    Judgement j;
    j.analysis = analyze(setup, common.mark);
    j.sentence = format_verdict_sentence(setup, *j.analysis, common.units);
    return j;
}

Answer answer_two(SetupDifference d, const std::string& terms, const CommonValues& common, bool colour, bool distances_dropped = false) {
    d.old_judgement = judge_setup(d.old_setup, common);
    d.new_judgement = judge_setup(d.new_setup, common);
    if (distances_dropped) {
        keep_contradiction(*d.old_judgement.analysis, *d.new_judgement.analysis);
        d.new_judgement.sentence = format_verdict_sentence(d.new_setup, *d.new_judgement.analysis, common.units);
    }
    d.values = compare_values(d.old_setup, d.new_setup);
    d.findings = compare_findings(d.old_judgement.analysis->findings, d.new_judgement.analysis->findings);
    const int code = d.findings.empty() ? exit_code::fits : exit_code::change;
    switch (common.form) {
        case Form::json: return {code, format_comparison_json(d, common.units)};
        case Form::csv: return {code, format_comparison_csv(d, common.units)};
        case Form::text: break;
    }
    return {code, format_comparison(d, terms, {common.units, page_width, colour})};
}

Answer answer_variants(const CommandContext& context, const Setup& setup, const CommonValues& common) {
    const std::vector<Variant> variants = list_variants(setup, list_library_shafts(context, setup));
    const Analysis analysis = analyze(setup, common.mark);
    const std::vector<VariantAnswer> answers = study_variants(setup, variants, common.mark);
    const VariantStudy study{setup, analysis, answers};
    const bool any = std::any_of(answers.begin(), answers.end(), [&](const VariantAnswer& a) { return !compare_findings(analysis.findings, a.analysis.findings).empty(); });
    const int code = any ? exit_code::change : exit_code::fits;
    const std::string sentence = format_verdict_sentence(setup, analysis, common.units);
    switch (common.form) {
        case Form::json: return {code, format_variants_json(study, sentence, common.units)};
        case Form::csv: return {code, format_variants_csv(study)};
        case Form::text: break;
    }
    return {code, format_variants(study, find_title(setup, context.arguments), sentence, {common.units, page_width, context.colour})};
}

Outcome compare_switched(const CommandContext& context, Setup setup, const CommonValues& common) {
    const Switches switches = read_switches(context, common, setup);
    if (!switches.usage.empty()) return make_failure(switches.usage, context.arguments.command);
    if (!switches.problems.empty()) return make_setup_failure(switches.problems);
    SetupDifference d;
    d.old_title = find_title(setup, context.arguments);
    d.new_setup = setup;
    std::string words, terms;
    bool dropped = false;
    for (const Variant& v : switches.variants) {
        words += (words.empty() ? "" : ", ") + say_variant(v);
        dropped = dropped || drops_distances(d.new_setup, v);
        const std::string more = say_variant_terms(d.new_setup, v);
        if (terms.find(more) == std::string::npos) terms += (terms.empty() ? "" : " ") + more;
        d.new_setup = apply_variant(d.new_setup, v);
    }
    d.new_title = "the same " + words;
    d.old_setup = std::move(setup);
    return answer_two(std::move(d), terms, common, context.colour, dropped);
}

Outcome compare_two(const CommandContext& context, LoadedSetup was, const CommonValues& common) {
    LoadedSetup is = load_setup(context.arguments.name(1), context.library, {common.sets, common.rules});
    if (!was.ok() || !is.ok()) {
        // The same problem twice where both use one file.
        for (Problem& p : is.problems) {
            if (std::find(was.problems.begin(), was.problems.end(), p) == was.problems.end()) was.problems.push_back(std::move(p));
        }
        return make_setup_failure(std::move(was.problems));
    }
    SetupDifference d;
    d.old_title = context.arguments.name(0);
    d.new_title = context.arguments.name(1);
    d.old_setup = std::move(was.setup);
    d.new_setup = std::move(is.setup);
    return answer_two(std::move(d), {}, common, context.colour);
}

}  // namespace

Outcome run_compare(const CommandContext& context) {
    const Arguments& arguments = context.arguments;
    OptionReader reader(arguments);
    const CommonValues common = read_common(reader, arguments, {Form::text, Form::json, Form::csv});
    const bool two = !arguments.name(1).empty();
    if (two && arguments.has("--switch"))
        reader.add_problem({"--switch", "with two set-ups there is nothing to switch; allowed with one", {}});
    if (!reader.ok()) return make_failure(reader.problems(), arguments.command);
    LoadedSetup loaded = load_setup(arguments.name(0), context.library, {common.sets, common.rules});
    if (two) return compare_two(context, std::move(loaded), common);
    if (!loaded.ok()) return make_setup_failure(std::move(loaded.problems));
    if (arguments.has("--switch")) return compare_switched(context, std::move(loaded.setup), common);
    return answer_variants(context, loaded.setup, common);
}

}  // namespace hitchwright
