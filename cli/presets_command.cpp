// presets list, show, copy.
#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "cli/preset_copy.h"
#include "cli/preset_lookup.h"
#include "cli/records.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_title = 120;

struct ListedPreset {
    PresetEntry entry;
    std::string title;  ///< `name` of the file; empty when it cannot be read
};

std::vector<ListedPreset> read_titles(const Library& library, std::vector<PresetEntry> entries) {
    std::vector<ListedPreset> listed;
    for (PresetEntry& entry : entries) {
        const PresetText text = library.read(entry);
        std::string title = text.ok() ? peek_name(text.text) : std::string{};
        listed.push_back({std::move(entry), std::move(title)});
    }
    return listed;
}

Record make_record(const ListedPreset& preset) {
    return {{"kind", std::string(file_kind_word(preset.entry.kind))},
            {"key", preset.entry.key},
            {"name", preset.title},
            {"file", preset.entry.file},
            {"built_in", preset.entry.embedded},
            {"hidden", preset.entry.hidden}};
}

std::string describe(const ListedPreset& preset) {
    std::string text = preset.title.empty() ? "(no name can be read)" : printable_text(preset.title, most_title);
    if (!preset.entry.embedded) text += ", yours";
    if (preset.entry.hidden) text += ", hidden by yours";
    return text;
}

// How to put a listed machine into a set-up for one run.
std::string format_use_hint(const std::vector<ListedPreset>& presets) {
    const auto is_machine = [](const ListedPreset& p) {
        return p.entry.kind == FileKind::tractor || p.entry.kind == FileKind::implement || p.entry.kind == FileKind::driveline;
    };
    const auto first = std::find_if(presets.begin(), presets.end(), is_machine);
    if (first == presets.end()) return {};
    const std::string sentence = fmt::format("Try one in a set-up: hitchwright fit SETUP --set {}.use={}",
                                             file_kind_word(first->entry.kind), printable_text(first->entry.key, 40));
    return format_paragraph(sentence, page_width, 0, 0) + '\n';
}

std::string format_list(const std::vector<ListedPreset>& presets, const Library& library) {
    std::string text;
    std::size_t widest = 0;
    for (const ListedPreset& preset : presets)
        widest = std::max(widest, count_columns(printable_text(preset.entry.key, 40)));
    std::optional<FileKind> kind;
    for (const ListedPreset& preset : presets) {
        if (kind != preset.entry.kind) {
            text += fmt::format("{}{}\n", kind ? "\n" : "", file_kind_word(preset.entry.kind));
            kind = preset.entry.kind;
        }
        const std::string start = "  " + pad_right(printable_text(preset.entry.key, 40), widest) + "  ";
        const std::string lines = format_paragraph(describe(preset), page_width, widest + 4, widest + 4);
        text += start + lines.substr(widest + 4);
    }
    const std::string folder = library.user_folder().empty() ? "none, since neither HOME nor HITCHWRIGHT_PRESETS is set"
                                                             : escape_text(library.user_folder());
    if (!text.empty()) text += '\n';
    text += format_use_hint(presets);
    return text +
           format_paragraph(
               "Built-in machines are invented examples: measure yours. Your own folder, searched first: " + folder,
               page_width, 0, 0);
}

// The preset that `show` and `copy` are about.
std::variant<PresetEntry, Failure> choose_preset(const CommandContext& context, OptionReader& reader) {
    const std::string word = context.arguments.value("--kind");
    const std::optional<FileKind> kind = find_kind(word);
    if (context.arguments.has("--kind") && !kind) reader.add_problem(refuse_kind("--kind", word));
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    auto found = find_preset(context.library, context.arguments.name(0), kind);
    if (auto* failure = std::get_if<Failure>(&found)) failure->command = context.arguments.command->name;
    return found;
}

// A file may hold anything; on a terminal nothing of it may steer the terminal.
std::string make_printable(const std::string& text) {
    if (!has_control_characters(text, false)) return text;
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        result += escape_text(text.substr(at, end - at), text.size()) + "\n";
        at = end + 1;
    }
    return result;
}

Failure make_file_failure(const PresetText& text) {
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = "this file cannot be read";
    failure.problems = text.problems;
    return failure;
}

}  // namespace

Outcome run_presets_list(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json, Form::csv});
    const std::string word = context.arguments.name(0);
    const std::optional<FileKind> kind = find_kind(word);
    if (!context.arguments.names.empty() && !kind) reader.add_problem(refuse_kind("KIND", word));
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const std::vector<ListedPreset> presets = read_titles(context.library, list_presets(context.library, kind));
    std::vector<Record> records;
    records.reserve(presets.size());
    for (const ListedPreset& preset : presets) records.push_back(make_record(preset));
    switch (form) {
        case Form::json:
            return Answer{exit_code::fits, format_json("presets", "presets", records)};
        case Form::csv:
            return Answer{exit_code::fits, format_csv(records)};
        case Form::text:
            break;
    }
    return Answer{exit_code::fits, format_list(presets, context.library)};
}

Outcome run_presets_show(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json});
    const auto chosen = choose_preset(context, reader);
    if (const auto* failure = std::get_if<Failure>(&chosen)) return *failure;
    const auto& entry = std::get<PresetEntry>(chosen);
    const PresetText text = context.library.read(entry);
    if (!text.ok()) return make_file_failure(text);
    if (form == Form::text) return Answer{exit_code::fits, context.terminal ? make_printable(text.text) : text.text};
    return Answer{exit_code::fits, format_json("preset", {{"kind", std::string(file_kind_word(entry.kind))},
                                                          {"key", entry.key},
                                                          {"file", entry.file},
                                                          {"built_in", entry.embedded},
                                                          {"text", text.text}})};
}

Outcome run_presets_copy(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json});
    const std::string folder = context.arguments.value("--to");
    if (context.arguments.has("--to") && folder.empty())
        reader.add_problem({"--to", "an empty name was read; allowed: the name of a folder", {}});
    const auto chosen = choose_preset(context, reader);
    if (const auto* failure = std::get_if<Failure>(&chosen)) return *failure;
    const auto& entry = std::get<PresetEntry>(chosen);
    const PresetText text = context.library.read(entry);
    if (!text.ok()) return make_file_failure(text);
    const std::string path = (std::filesystem::path(folder) / (entry.key + ".toml")).string();
    const std::string refused =
        write_new_file(path, entry.embedded ? make_copy_text(text.text, entry.kind) : text.text);
    if (!refused.empty()) {
        Failure failure;
        failure.message = refused;
        return failure;
    }
    if (form == Form::json) return Answer{exit_code::fits, format_json("written", {{"file", path}})};
    return Answer{exit_code::fits, fmt::format("Written: {}\n", escape_text(path, 4096))};
}

}  // namespace hitchwright
