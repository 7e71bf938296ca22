#include "cli/run_cli.h"

#include <cerrno>
#include <exception>
#include <istream>
#include <new>
#include <ostream>
#include <stdexcept>
#include <system_error>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/help_text.h"
#include "cli/option_values.h"
#include "cli/records.h"

namespace hitchwright {
namespace {

using Command = Outcome (*)(const CommandContext&);

Command find_runner(std::string_view name) {
    static constexpr std::pair<std::string_view, Command> runners[] = {
        {"fit", run_fit},
        {"cut", run_cut},
        {"sweep", run_sweep},
        {"draw", run_draw},
        {"holes", run_holes},
        {"trace", run_trace},
        {"drawbar", run_drawbar},
        {"lines", run_lines},
        {"ditch", run_ditch},
        {"envelope", run_envelope},
        {"load", run_load},
        {"sheet", run_sheet},
        {"code", run_code},
        {"shafts", run_shafts},
        {"measure", run_measure},
        {"new", run_new},
        {"record", run_record},
        {"batch", run_batch},
        {"matrix", run_matrix},
        {"compare", run_compare},
        {"diff", run_diff},
        {"presets list", run_presets_list},
        {"presets show", run_presets_show},
        {"presets copy", run_presets_copy},
        {"presets verify", run_presets_verify},
        {"rules list", run_rules_list},
        {"rules show", run_rules_show},
        {"completion", run_completion},
        {"manual", run_manual},
        {"version", run_version},
        {"help", run_help},
    };
    for (const auto& [known, runner] : runners) {
        if (known == name) return runner;
    }
    return nullptr;
}

// NO_COLOR counts when it is not empty (no-color.org); a dumb terminal has no colours.
bool wants_colour(const Streams& streams) {
    const char* no_colour = streams.variable("NO_COLOR");
    const char* terminal = streams.variable("TERM");
    const bool dumb = terminal != nullptr && std::string_view(terminal) == "dumb";
    return streams.out_is_terminal && !dumb && (no_colour == nullptr || *no_colour == '\0');
}

}  // namespace

Outcome answer_command(const std::vector<std::string>& args, const Library& library, const Streams& streams) {
    const SplitCommandLine split = split_command_line(args);
    const Arguments& arguments = split.arguments;
    if (!split.problems.empty()) return make_failure(split.problems, arguments.command);
    if (arguments.has("--help")) return Answer{exit_code::fits, format_help(arguments.command)};
    const CommandContext context{arguments,   library,      streams.out_is_terminal, wants_colour(streams),
                                 &streams.in, &streams.err, streams.in_is_terminal,      streams.variable,
                                 &streams.out, streams.err_is_terminal};
    if (arguments.has("--version")) return run_version(context);
    const Command command = find_runner(arguments.command->name);
    if (command == nullptr) throw std::logic_error("a command of the table has no function");
    return command(context);
}

namespace {

// Writes all of it. A reader that has closed its end (a pipe into "head") has what it wanted: no error.
bool write_whole(std::ostream& stream, std::string_view text) {
    errno = 0;
    stream.write(text.data(), static_cast<std::streamsize>(text.size()));
    stream.flush();
    return stream.good() || errno == EPIPE;
}

int report(const Failure& failure, Form form, const Streams& streams) {
    write_whole(streams.err, format_failure(failure));
    if (form == Form::json) write_whole(streams.out, format_failure_json(failure));
    return failure.code;
}

int finish(const Outcome& outcome, Form form, const Streams& streams) {
    if (const auto* failure = std::get_if<Failure>(&outcome)) return report(*failure, form, streams);
    const auto& answer = std::get<Answer>(outcome);
    if (write_whole(streams.out, answer.text)) return answer.code;
    const std::string reason = errno == 0 ? std::string{} : fmt::format(": {}", std::generic_category().message(errno));
    write_whole(streams.err, fmt::format("hitchwright: the output could not be written{}.\n", reason));
    return exit_code::internal;
}

// What nobody foresaw, as one sentence.
int report_unexpected(std::string_view what, const Streams& streams) noexcept {
    try {
        write_whole(streams.err,
                    fmt::format("hitchwright: an error of the program, no answer was given: {}.\n", escape_text(what)));
    } catch (...) {
        return exit_code::internal;
    }
    return exit_code::internal;
}

}  // namespace

int run_cli(std::span<const std::string> args, const Streams& streams) {
    try {
        const std::vector<std::string> words(args.begin(), args.end());
        return finish(answer_command(words, Library(find_user_folder(streams.variable)), streams), guess_form(words), streams);
    } catch (const std::bad_alloc&) {
        return report_unexpected("out of memory", streams);
    } catch (const std::exception& error) {
        return report_unexpected(error.what(), streams);
    } catch (...) {
        return report_unexpected("no reason is known", streams);
    }
}

}  // namespace hitchwright
