// holes: every combination of upper-link holes, and which to take.
#include "cli/commands.h"
#include "cli/setup_input.h"
#include "geometry/hole_study.h"
#include "report/hole_report.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

HoleWish read_wish(OptionReader& reader) {
    std::vector<std::pair<std::string_view, HoleWish>> words;
    for (const HoleWish wish : all_hole_wishes()) words.emplace_back(hole_wish_word(wish), wish);
    return reader.choice("--wish", words, HoleWish::general);
}

std::string format_holes(const Setup& setup, const HoleStudy& study, const CommonValues& common, bool colour) {
    switch (common.form) {
        case Form::json:
            return format_holes_json(setup, study, common.units);
        case Form::csv:
            return format_hole_csv(setup, study, common.units);
        case Form::text:
            break;
    }
    return format_hole_report(setup, study, {common.units, page_width, colour});
}

}  // namespace

Outcome run_holes(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const HoleWish wish = read_wish(reader);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (setup.implement.attachment == Attachment::drawn)
        return make_other_kind_answer("holes", "A drawn implement has no upper-link holes. Which position of the drawbar: \"hitchwright drawbar\".", common);
    const HoleStudy study = study_holes(setup, common.mark, wish);
    // The answer is that of the first choice; without one nothing is known.
    const int code = study.results.empty() ? exit_code::not_decided : find_exit_code(study.results.front().analysis.verdict);
    return Answer{code, format_holes(setup, study, common, context.colour)};
}

}  // namespace hitchwright
