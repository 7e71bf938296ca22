#include "cli/setup_input.h"

#include "cli/records.h"
#include "geometry/work_thread.h"
#include "report/text_layout.h"

#include "report/safe_words.h"

namespace hitchwright {

Failure make_setup_failure(std::vector<Problem> problems) {
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = format_count(problems.size(), "problem") + " in what this set-up is made from";
    failure.problems = std::move(problems);
    return failure;
}

std::variant<Setup, Failure> load_named_setup(const CommandContext& context, const CommonValues& common) {
    LoadedSetup loaded = load_setup(context.arguments.name(0), context.library, {common.sets, common.rules, {}, find_idle_threads()});
    if (loaded.ok()) return std::move(loaded.setup);
    return make_setup_failure(std::move(loaded.problems));
}

std::string find_title(const Setup& setup, const Arguments& arguments) {
    return setup.name.empty() ? arguments.name(0) : setup.name;
}

Answer make_other_kind_answer(const std::string& schema, const std::string& sentence, const CommonValues& common) {
    const Record record = {{"text", sentence}};
    if (common.form == Form::json) return {exit_code::not_decided, format_json(schema, record)};
    if (common.form == Form::csv) return {exit_code::not_decided, format_csv({record})};
    return {exit_code::not_decided, format_paragraph(sentence, page_width, 0, 0)};
}

}  // namespace hitchwright
