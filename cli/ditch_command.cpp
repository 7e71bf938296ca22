// ditch: the way of a drawn machine across a ditch or ridge.
#include <array>
#include <utility>

#include "cli/commands.h"
#include "cli/setup_input.h"
#include "report/ditch_report.h"

namespace hitchwright {
namespace {

/// Options that stand for keys of the set-up; they are read, checked and named as `--set` is.
constexpr std::array<std::pair<std::string_view, std::string_view>, 4> keys = {{{"--depth", "choices.ditch.depth"},
                                                                                {"--bottom-width", "choices.ditch.bottom_width"},
                                                                                {"--side-slope", "choices.ditch.side_slope"},
                                                                                {"--crossing-angle", "choices.ditch.crossing_angle"}}};

void add_sets(const Arguments& arguments, CommonValues& common) {
    for (const auto& [option, key] : keys) {
        if (arguments.has(option)) common.sets.push_back(std::string(key) + "=" + arguments.value(option));
    }
}

int find_code(const DitchAnalysis& d) {
    if (!d.study || (d.study->passes && d.shaft_unknown)) return exit_code::not_decided;
    return d.study->passes ? exit_code::fits : find_exit_code(Verdict::must_not_run);
}

}  // namespace

Outcome run_ditch(const CommandContext& context) {
    OptionReader reader(context.arguments);
    CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    add_sets(context.arguments, common);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (setup.implement.attachment == Attachment::mounted)
        return make_other_kind_answer("ditch", "The implement of this set-up is mounted. Humps and hollows under a floating link: \"hitchwright fit\".", common);
    const Analysis analysis = analyze(setup, common.mark);
    if (!analysis.drawn)
        return make_other_kind_answer("ditch", "NOT KNOWN: readings of the hitch are missing; \"hitchwright fit\" names them.", common);
    if (!analysis.drawn->ditch)
        return make_other_kind_answer("ditch", "No ditch is given: --depth, --bottom-width and --side-slope, or [choices.ditch] in the set-up.", common);
    const int code = find_code(*analysis.drawn->ditch);
    switch (common.form) {
        case Form::json: return Answer{code, format_ditch_json(setup, analysis, common.units)};
        case Form::csv: return Answer{code, format_ditch_csv(analysis, common.units)};
        case Form::text: break;
    }
    return Answer{code, format_ditch_report(setup, analysis, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
