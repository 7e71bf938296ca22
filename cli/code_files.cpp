// See code_files.h.
#include "cli/code_files.h"

#include <fmt/format.h>

#include <algorithm>

#include "presets/record_values.h"

namespace hitchwright {
namespace {

/// The last part of a path.
std::string find_base(std::string_view path) { return std::string(path.substr(path.rfind('/') + 1)); }

/// A name made of letters that are safe in any folder.
std::string make_plain(std::string name) {
    for (char& c : name) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' || c == '.';
        if (!plain) c = '_';
    }
    if (name.empty() || name.front() == '.') name.insert(0, "_");
    return name;
}

/// Quoted paths of `text` that end in `base` come to name `plain`, a file beside the set-up.
void point_to(std::string& text, const std::string& base, const std::string& plain) {
    for (std::size_t at = text.find(base + "\""); at != std::string::npos; at = text.find(base + "\"", at + 1)) {
        const std::size_t quote = text.rfind('"', at);
        if (quote == std::string::npos) continue;
        const bool whole = quote + 1 == at || text[at - 1] == '/';
        if (!whole || text.find('\n', quote) < at) continue;
        text.replace(quote + 1, at + base.size() - quote - 1, plain);
        at = quote + 1;
    }
}

/// The text with `origin = "preset"` behind its version, unless it states an origin.
std::string mark_as_preset(std::string text) {
    const std::size_t version = text.find("\nversion");
    const std::size_t end = version == std::string::npos ? version : text.find('\n', version + 1);
    const std::size_t first_table = text.find("\n[");
    const bool stated = text.find("\norigin") < first_table;
    if (end != std::string::npos && !stated) text.insert(end + 1, "origin = \"preset\"\n");
    return text;
}

}  // namespace

GatheredFiles gather_code_files(std::string_view name, const Library& library, std::vector<std::string> sets, const std::string& rules) {
    GatheredFiles result;
    const PresetText source = library.read(FileKind::setup, name);
    if (!source.ok()) return {{}, "the set-up cannot be read"};
    if (!rules.empty()) sets.push_back("rules=" + rules);
    std::string text = source.text;
    if (!sets.empty()) {
        const RecordedValues with = record_values(source, library, sets);
        if (!with.ok()) return {{}, fmt::format("a code cannot carry --set {}", with.problems.front().key)};
        text = with.text;
    }
    // Its values do not pass for readings once they stand in a file of one's own.
    if (source.embedded) text = mark_as_preset(text);
    PresetText changed = source;
    changed.text = text;
    std::vector<CodeFile> others;
    for (const UsedFile& used : load_setup(changed, library).files) {
        if (used.kind == FileKind::setup || used.file.starts_with(embedded_mark)) continue;
        const PresetText file = library.read(used.kind, used.file);
        if (!file.ok()) return {{}, fmt::format("\"{}\" cannot be read", used.file)};
        const std::string base = find_base(used.file), plain = make_plain(base);
        const bool taken = std::any_of(others.begin(), others.end(), [&](const CodeFile& f) { return f.name == plain; });
        if (taken || plain == "setup.toml") return {{}, fmt::format("two files are called {}", plain)};
        // A file of the user's own presets is named by its key alone.
        if (!is_path(used.name) && text.find(base + "\"") == std::string::npos) {
            const std::string use = "use = \"" + used.name + "\"";
            for (std::size_t at = text.find(use); at != std::string::npos; at = text.find(use, at + 1)) text.replace(at, use.size(), "use = \"" + plain + "\"");
        }
        point_to(text, base, plain);
        others.push_back({plain, file.text});
    }
    result.files.push_back({"setup.toml", text});
    result.files.insert(result.files.end(), others.begin(), others.end());
    return result;
}

}  // namespace hitchwright
