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
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
                           c == '_' || c == '.';
        if (!plain) c = '_';
    }
    if (name.empty() || name.front() == '.') name.insert(0, "_");
    return name;
}

bool is_key_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

/// Places of what stands behind `key =` in the text, up to the end of the line, or of the list it opens.
std::vector<std::pair<std::size_t, std::size_t>> find_values(const std::string& text, const std::string& key) {
    std::vector<std::pair<std::size_t, std::size_t>> values;
    for (std::size_t at = text.find(key); at != std::string::npos; at = text.find(key, at + 1)) {
        std::size_t from = at + key.size();
        if (at > 0 && is_key_letter(text[at - 1])) continue;
        while (from < text.size() && (text[from] == ' ' || text[from] == '\t')) ++from;
        if (from >= text.size() || text[from] != '=') continue;
        std::size_t first = from + 1;
        while (first < text.size() && (text[first] == ' ' || text[first] == '\t')) ++first;
        const bool list = first < text.size() && text[first] == '[';
        values.emplace_back(first, std::min(text.find(list ? ']' : '\n', first), text.size()));
    }
    return values;
}

/// Among the values of `key`, the quoted name or path `name`, or a path that ends in `base`, comes to be `plain`.
/// False: nothing did.
bool point_to(std::string& text, const std::string& key, const std::string& name, const std::string& base,
              const std::string& plain) {
    bool found = false;
    auto values = find_values(text, key);
    for (auto v = values.rbegin(); v != values.rend(); ++v) {
        std::size_t end = v->second;
        for (std::size_t at = v->first; at < end;) {
            const char quote = text[at];
            const std::size_t close = quote == '"' || quote == '\'' ? text.find(quote, at + 1) : std::string::npos;
            if (close == std::string::npos || close > end) {
                ++at;
                continue;
            }
            const std::string typed = text.substr(at + 1, close - at - 1);
            const bool same = typed == name || typed == base || typed.ends_with("/" + base);
            if (same) {
                text.replace(at, close - at + 1, "\"" + plain + "\"");
                end = end + plain.size() - typed.size();
                found = true;
            }
            at += (same ? plain.size() : typed.size()) + 2;
        }
    }
    return found;
}

/// Under which keys a file of a kind is named.
std::string find_naming_key(FileKind kind) {
    switch (kind) {
        case FileKind::rules:
            return "rules";
        case FileKind::specification_list:
            return "specification_lists";
        default:
            return "use";
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

GatheredFiles gather_code_files(std::string_view name, const Library& library, std::vector<std::string> sets,
                                const std::string& rules) {
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
        const std::string base = find_base(used.file);
        std::string plain = make_plain(base);
        const auto taken = [&](const std::string& wanted) {
            return wanted == setup_file_name ||
                   std::any_of(others.begin(), others.end(), [&](const CodeFile& f) { return f.name == wanted; });
        };
        for (int i = 2; taken(plain); ++i) plain = fmt::format("{}-{}", i, make_plain(base));
        if (!point_to(text, find_naming_key(used.kind), used.name, base, plain))
            return {{}, fmt::format("where the set-up names \"{}\" was not found in its text", used.name)};
        others.push_back({plain, file.text});
    }
    result.files.push_back({"setup.toml", text});
    result.files.insert(result.files.end(), others.begin(), others.end());
    return result;
}

}  // namespace hitchwright
