#include "cli/setup_input.h"

#include "report/safe_words.h"

namespace hitchwright {

std::variant<Setup, Failure> load_named_setup(const CommandContext& context, const CommonValues& common) {
    const LoadedSetup loaded = load_setup(context.arguments.name(0), context.library, {common.sets, common.rules});
    if (loaded.ok()) return loaded.setup;
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = format_count(loaded.problems.size(), "problem") + " in what this set-up is made from";
    failure.problems = loaded.problems;
    return failure;
}

std::string find_title(const Setup& setup, const Arguments& arguments) {
    return setup.name.empty() ? arguments.name(0) : setup.name;
}

}  // namespace hitchwright
