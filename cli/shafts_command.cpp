// shafts: which listed drivelines fit a set-up.
#include <algorithm>
#include <ostream>

#include "cli/commands.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "presets/load_machine.h"
#include "presets/shaft_candidates.h"
#include "report/shaft_choice_text.h"

namespace hitchwright {
namespace {

/// Of the best answer: as it is 0, after a cut or none 1, undecided 5; lengths of a part of the travel decide nothing.
int find_code(const ShaftStudy& study) {
    if (study.choices.empty() || !study.whole_travel) return exit_code::not_decided;
    const bool forbidden = std::any_of(study.others.begin(), study.others.end(), [](const Finding& f) { return f.severity == Severity::forbids; });
    if (forbidden) return find_exit_code(Verdict::must_not_run);
    switch (study.choices.front().suits) {
        case ShaftSuits::as_it_is: return exit_code::fits;
        case ShaftSuits::after_cut:
        case ShaftSuits::other_reason:
        case ShaftSuits::wrong_guard:
        case ShaftSuits::no_cut_works:
        case ShaftSuits::wrong_kind: return find_exit_code(Verdict::fits_after_change);
        case ShaftSuits::too_close_to_call:
        case ShaftSuits::not_known: break;
    }
    return exit_code::not_decided;
}

Answer make_answer(const Setup& setup, const ShaftStudy& study, const CommonValues& common, bool colour) {
    const int code = find_code(study);
    switch (common.form) {
        case Form::json: return {code, format_shaft_choices_json(setup, study, common.units)};
        case Form::csv: return {code, format_shaft_choices_csv(setup, study, common.units)};
        case Form::text: break;
    }
    return {code, format_shaft_choices(setup, study, {common.units, page_width, colour})};
}

Answer make_answer_without_shaft(const CommonValues& common) {
    const std::string sentence = std::string(no_shaft_needed);
    const Record record = {{"text", sentence}};
    if (common.form == Form::json) return {exit_code::fits, format_json("shafts", record)};
    if (common.form == Form::csv) return {exit_code::fits, format_csv({record})};
    return {exit_code::fits, sentence + "\n"};
}

/// Listed shafts that were left out, for the error stream: whoever has a broken file wants the others all the same.
std::string format_not_read(const std::vector<Problem>& problems) {
    Failure failure;
    failure.message = "left out, a listed driveline that cannot be read";
    failure.problems = problems;
    return format_failure(failure);
}

}  // namespace

Outcome run_shafts(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (!setup.implement.pic.fitted && setup.implement.attachment == Attachment::mounted) return make_answer_without_shaft(common);
    std::vector<Problem> problems;
    const std::vector<Driveline> shafts = load_machines<Driveline>(FileKind::driveline, context.library, problems);
    if (shafts.empty() && !problems.empty()) {
        Failure failure;
        failure.code = exit_code::bad_file;
        failure.message = "a listed driveline cannot be read";
        failure.problems = problems;
        return failure;
    }
    if (context.prompts && !problems.empty()) *context.prompts << format_not_read(problems);
    return make_answer(setup, study_shafts(list_shaft_candidates(setup, shafts), common.mark), common, context.colour);
}

}  // namespace hitchwright
