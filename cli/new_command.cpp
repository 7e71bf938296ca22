// new: a commented set-up file, from questions on the terminal or from options.
#include <filesystem>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/interview.h"
#include "cli/job_kind.h"
#include "cli/option_values.h"
#include "cli/preset_copy.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "cli/terminal_input.h"
#include "presets/setup_draft.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::string_view usual_file = "my-setup.toml";
constexpr std::string_view another_name = "name another file with -o";

// "measured" stands for one's own machine, which uses no file.
std::string machine_name(OptionReader& reader, const Arguments& arguments, std::string_view option) {
    const std::string typed = arguments.value(option);
    if (arguments.has(option) && typed.empty()) {
        reader.add_problem({std::string(option), "an empty name was read; allowed: a name, a path, or measured", {}});
    }
    return typed == "measured" ? std::string{} : typed;
}

// What --kind says of a measured implement; a file says itself what it is.
void apply_kind(OptionReader& reader, const Arguments& arguments, SetupDraft& draft) {
    const JobKind kind = read_job_kind(reader);
    if (kind == JobKind::none) return;
    if (!draft.implement.empty())
        reader.add_problem(
            {"--kind", "an implement from a file says itself what the job is; give --kind or --implement", {}});
    if (kind == JobKind::mounted_blade) {
        if (!draft.driveline.empty())
            reader.add_problem({"--kind", "mounted-blade has no shaft; give another --kind, or --driveline none", {}});
        draft.with_pto = draft.with_driveline = false;
    } else if (arguments.value("--driveline") == "none") {
        reader.add_problem({"--driveline", "none was read; allowed with this --kind: a name, a path, or measured", {}});
    }
    if (kind == JobKind::drawn_pto) set_attachment(draft, true);
}

SetupDraft read_draft(OptionReader& reader, const Arguments& arguments) {
    SetupDraft draft;
    draft.unit = reader.units() == UnitSystem::inch ? "in" : "mm";
    draft.name = arguments.value("--name");
    draft.rules = arguments.value("--rules");
    if (arguments.has("--rules") && draft.rules.empty()) {
        reader.add_problem({"--rules", "an empty name was read; allowed: a name from \"rules list\", or a path", {}});
    }
    draft.tractor = machine_name(reader, arguments, "--tractor");
    draft.implement = machine_name(reader, arguments, "--implement");
    draft.driveline = machine_name(reader, arguments, "--driveline");
    if (draft.driveline == "none") {
        draft.driveline.clear();
        draft.with_pto = draft.with_driveline = false;
    }
    apply_kind(reader, arguments, draft);
    return draft;
}

void check_path(OptionReader& reader, const std::string& path) {
    if (!path.ends_with(".toml") || path.size() <= 5) {
        reader.add_problem({"--output", fmt::format("{} was read; allowed: a name ending in .toml", in_quotes(path)), {}});
    }
}

std::string folder_of(const std::string& path) {
    const std::string folder = std::filesystem::path(path).parent_path().string();
    return folder.empty() ? folder : folder + "/";
}

bool wants_to_be_asked(const CommandContext& context) {
    const Arguments& a = context.arguments;
    const bool said = a.has("--tractor") || a.has("--implement") || a.has("--driveline");
    return a.has("--ask") || (context.somebody_answers && !said);
}

// A preset that is driven, without a word about the shaft: one's own, to be measured. One that is not: none.
void settle_shaft(SetupDraft& draft, const Library& library, const std::string& folder, bool driveline_said) {
    if (draft.implement.empty()) return;
    draft.with_pto = has_driven_implement(draft, library, folder);
    if (!driveline_said) draft.with_driveline = draft.with_pto;
}

std::string describe_counts(const InterviewResult& result) {
    const std::string stopped = result.ended_early ? " The dialogue ended before its last question; nothing typed is lost." : "";
    return format_paragraph(format_count(result.answered, "value") + " typed; what is open stands behind #." + stopped, page_width, 0, 0);
}

std::string next_commands(const std::string& path, bool drawn) {
    const std::string file = escape_text(path, 4096);
    const std::string text = fmt::format(
        "Next:\n  hitchwright measure {0}                what is still to be read\n"
        "  hitchwright measure {0} -o card.pdf    the same to print, with sketches\n"
        "  hitchwright fit {0}                    once it is filled in\n",
        file);
    return drawn ? text + fmt::format("  hitchwright drawbar {}                then: which position of the drawbar\n",
                                      file)
                 : text;
}

Outcome write_draft(const SetupDraft& draft, const std::string& path, Form form, const std::string& counts) {
    const std::string text = format_setup_draft(draft);
    const std::string refused = write_new_file(path, text, another_name);
    if (!refused.empty()) {
        // Answers to a hundred questions must not be lost with the file.
        if (!draft.answers.empty() && form == Form::text) {
            return Answer{exit_code::internal, fmt::format("# Not written: {}. Save this text yourself.\n{}", refused, text)};
        }
        Failure failure;
        failure.message = refused;
        return failure;
    }
    if (form == Form::json) return Answer{exit_code::fits, format_json("written", {{"file", path}})};
    return Answer{exit_code::fits,
                  fmt::format("Written: {}\n{}{}", escape_text(path, 4096), counts, next_commands(path, draft.drawn))};
}

}  // namespace

Outcome run_new(const CommandContext& context) {
    const Arguments& arguments = context.arguments;
    OptionReader reader(arguments);
    const Form form = reader.form({Form::text, Form::json});
    SetupDraft draft = read_draft(reader, arguments);
    const std::string path = arguments.has("--output") ? arguments.value("--output") : std::string(usual_file);
    check_path(reader, path);
    if (!reader.ok()) return make_failure(reader.problems(), arguments.command);
    if (const std::string taken = refuse_existing(path, another_name); !taken.empty()) {
        Failure failure;
        failure.message = taken;
        return failure;
    }
    LoadedSetup loaded = load_setup_draft(draft, context.library, folder_of(path));
    if (!loaded.ok()) return make_setup_failure(std::move(loaded.problems));
    draft.drawn = loaded.setup.implement.attachment == Attachment::drawn;
    settle_shaft(draft, context.library, folder_of(path), arguments.has("--driveline"));
    draft.choose_pin = needs_pin_chosen(draft, context.library, folder_of(path));
    if (wants_to_be_asked(context)) {
        // Until the file is written: a second Ctrl-C must not lose what the first one kept.
        const InterruptEndsInput keep_answers;
        const KnownAnswers known{arguments.has("--name"),      arguments.has("--units"),     arguments.has("--tractor"),
                                 arguments.has("--implement"), arguments.has("--driveline"), arguments.has("--kind")};
        const InterviewResult result =
            hold_interview(*context.in, *context.prompts, draft, known, context.library, folder_of(path));
        return write_draft(result.draft, path, form, describe_counts(result));
    }
    return write_draft(draft, path, form, {});
}

}  // namespace hitchwright
