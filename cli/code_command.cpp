// code: a set-up as a text short enough for a QR code, and the files of such a text.
#include <filesystem>
#include <iostream>
#include <iterator>
#include <system_error>

#include <fmt/format.h>

#include "cli/code_files.h"
#include "cli/commands.h"
#include "cli/preset_copy.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "report/held_signals.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

Failure make_failure_of(int code, std::string message) {
    Failure failure;
    failure.code = code;
    failure.message = std::move(message);
    return failure;
}

std::string join_path(const std::string& folder, const std::string& name) {
    return folder.empty() ? name : folder.back() == '/' ? folder + name : folder + "/" + name;
}

// All or none: a set-up without the machines it names is of no use. Empty: written.
std::string write_all(const std::vector<CodeFile>& files, const std::string& folder) {
    const HeldSignals held;
    for (auto f = files.begin(); f != files.end(); ++f) {
        const std::string failed = write_new_file(join_path(folder, f->name), f->text);
        if (failed.empty()) continue;
        std::error_code error;
        while (f != files.begin()) std::filesystem::remove(join_path(folder, (--f)->name), error);
        return failed + "; nothing was written";
    }
    return {};
}

Outcome write_files(const std::string& typed, const CommandContext& context, Form form) {
    std::string code = typed;
    if (typed == "-" && context.in) {
        code.resize(most_code_bytes + 1);
        context.in->read(code.data(), static_cast<std::streamsize>(code.size()));
        code.resize(static_cast<std::size_t>(context.in->gcount()));
    }
    const UnpackedCode unpacked = unpack_code(code);
    if (!unpacked.ok()) return make_failure_of(exit_code::bad_file, unpacked.error);
    const std::string folder = context.arguments.value("--to");
    for (const CodeFile& f : unpacked.files) {
        if (const std::string taken = refuse_existing(join_path(folder, f.name), "name another folder with --to");
            !taken.empty())
            return make_failure_of(exit_code::internal, taken);
    }
    if (const std::string failed = write_all(unpacked.files, folder); !failed.empty()) return make_failure_of(exit_code::internal, failed);
    std::string text;
    for (const CodeFile& f : unpacked.files) text += fmt::format("Written: {}\n", printable_text(join_path(folder, f.name), 4096));
    if (form == Form::json)
        return Answer{exit_code::fits, format_json("written", {{"file", join_path(folder, unpacked.files.front().name)},
                                                               {"files", static_cast<int>(unpacked.files.size())}})};
    return Answer{exit_code::fits, text};
}

}  // namespace

Outcome run_code(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json});
    const bool reads = context.arguments.has("--read"), named = !context.arguments.names.empty();
    if (reads == named) reader.add_problem({{}, "give a SETUP, or --read with the text of a code", {}});
    if (reads && (!common.sets.empty() || context.arguments.has("--rules")))
        reader.add_problem({"--set", "a code is read as it is; change its files", {}});
    if (!reads && context.arguments.has("--to")) reader.add_problem({"--to", "belongs to --read", {}});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    if (reads) return write_files(context.arguments.value("--read"), context, common.form);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const GatheredFiles gathered =
        gather_code_files(context.arguments.name(0), context.library, common.sets, common.rules);
    if (!gathered.error.empty()) return make_failure_of(exit_code::bad_file, gathered.error);
    const std::string code = pack_code(gathered.files);
    if (common.form == Form::json)
        return Answer{exit_code::fits,
                      format_json("code", {{"code", code}, {"files", static_cast<int>(gathered.files.size())}})};
    return Answer{exit_code::fits, code + "\n"};
}

}  // namespace hitchwright
