// drawbar: every position of the drawbar's pin, and which to take.
#include "cli/commands.h"
#include "cli/setup_input.h"
#include "geometry/drawbar_study.h"
#include "report/drawbar_report.h"

namespace hitchwright {
namespace {

/// Of the first choice: as it is 0; after a cut, none, or a load no position carries 1; not known 5.
int find_code(const DrawbarStudy& study) {
    if (study.pins.empty()) return exit_code::not_decided;
    if (is_overloaded(study.pins.front())) return find_exit_code(Verdict::must_not_run);
    switch (study.pins.front().fit) {
        case ShaftFit::fits: return exit_code::fits;
        case ShaftFit::after_cut:
        case ShaftFit::no_cut_works: return find_exit_code(Verdict::fits_after_change);
        case ShaftFit::not_known: break;
    }
    return exit_code::not_decided;
}

}  // namespace

Outcome run_drawbar(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (setup.implement.attachment == Attachment::mounted)
        return make_other_kind_answer("drawbar", "The implement of this set-up is mounted and has no place on the drawbar. Which hole: \"hitchwright holes\".", common);
    const DrawbarStudy study = study_drawbar(setup, common.mark);
    const int code = find_code(study);
    switch (common.form) {
        case Form::json: return Answer{code, format_drawbar_json(setup, study, common.units)};
        case Form::csv: return Answer{code, format_drawbar_csv(study, common.units)};
        case Form::text: break;
    }
    return Answer{code, format_drawbar_report(setup, study, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
