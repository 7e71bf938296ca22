#include "gui/recovery.h"

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <map>

#include <fmt/format.h>

#include "gui/app_state.h"
#include "gui/open_setup.h"
#include "gui/typing.h"
#include "gui/state_folder.h"
#include "presets/file_text.h"
#include "presets/setup_draft.h"
#include "presets/toml_reader.h"
#include "presets/utf8.h"
#include "report/atomic_file.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

constexpr int most_windows = 200;
constexpr std::string_view name_start = "session-", changes_ending = ".toml", lock_ending = ".lock", hex_ending = "_hex";

std::string name_of(const std::string& folder, int number, std::string_view ending) {
    return fmt::format("{}/{}{}{}", folder, name_start, number, ending);
}

bool is_utf8(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t size = decode_utf8(text, at).size;
        if (size == 0) return false;
        at += size;
    }
    return true;
}

std::string format_hex(std::string_view bytes) {
    std::string hex;
    for (const char c : bytes) hex += fmt::format("{:02x}", static_cast<unsigned char>(c));
    return hex;
}

std::optional<std::string> parse_hex(std::string_view hex) {
    std::string bytes;
    for (std::size_t i = 0; i < hex.size(); i += 2) {
        unsigned byte = 0;
        const char* const end = hex.data() + std::min(i + 2, hex.size());
        const auto [stop, failed] = std::from_chars(hex.data() + i, end, byte, 16);
        if (hex.size() % 2 != 0 || failed != std::errc{} || stop != end) return std::nullopt;
        bytes += static_cast<char>(byte);
    }
    return bytes;
}

// A path may hold any bytes and a file of TOML only UTF-8.
std::string format_text(const std::string& key, const std::string& text) {
    return is_utf8(text) ? key + " = " + quote_toml(text) + "\n" : key + std::string(hex_ending) + " = \"" + format_hex(text) + "\"\n";
}

std::string read_text(const SourceNode& root, const std::string& key) {
    const SourceNode* n = root.find(key);
    if (n != nullptr) return n->kind == SourceKind::text ? n->typed : std::string{};
    n = root.find(key + std::string(hex_ending));
    return n != nullptr && n->kind == SourceKind::text ? parse_hex(n->typed).value_or(std::string{}) : std::string{};
}

// One list, in hexadecimal when a text in it needs it.
std::string format_sets(const std::vector<std::string>& sets) {
    const bool plain = std::all_of(sets.begin(), sets.end(), [](const std::string& s) { return is_utf8(s); });
    std::string text = std::string("sets") + (plain ? "" : std::string(hex_ending)) + " = [\n";
    for (const std::string& set : sets) text += "    " + (plain ? quote_toml(set) : "\"" + format_hex(set) + "\"") + ",\n";
    return text + "]\n";
}

std::optional<LeftChanges> find_left(const std::string& folder, int number) {
    LeftChanges left;
    left.file = name_of(folder, number, changes_ending);
    std::error_code error;
    if (!fs::exists(left.file, error)) return std::nullopt;
    left.lock = std::make_shared<FileLock>(name_of(folder, number, lock_ending));
    if (!left.lock->held()) return std::nullopt;
    const FileText text = read_file_text(left.file);
    auto changes = text.ok() ? parse_kept_changes(text.text) : std::nullopt;
    left.readable = changes.has_value();
    if (changes) left.changes = std::move(*changes);
    return left;
}

}  // namespace

std::string mark_text(std::string_view text) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
    return fmt::format("{:016x}", hash);
}

std::string format_kept_changes(const KeptChanges& c) {
    std::string text =
        "# Changes of a window of hitchwright-viewer that are in no file yet.\nkind = \"changes\"\nversion = 1\n";
    text += format_text("setup", c.setup) + format_text("title", c.title) + format_text("mark", c.mark);
    if (!c.draft.empty()) text += format_text("draft", c.draft);
    if (!c.edits.rules.empty()) text += format_text("rules", c.edits.rules);
    return text + format_sets(c.edits.sets);
}

std::optional<KeptChanges> parse_kept_changes(std::string_view text) {
    const ParsedToml parsed = parse_toml(text, "changes");
    const SourceNode& root = parsed.root;
    const SourceNode* version = root.find("version");
    const SourceNode* sets = root.find("sets");
    const bool in_hex = sets == nullptr;
    if (in_hex) sets = root.find("sets" + std::string(hex_ending));
    if (!parsed.ok() || read_text(root, "kind") != "changes" || version == nullptr || version->whole != 1 ||
        sets == nullptr || sets->kind != SourceKind::list)
        return std::nullopt;
    KeptChanges c{read_text(root, "setup"),
                  read_text(root, "title"),
                  read_text(root, "draft"),
                  read_text(root, "mark"),
                  {{}, read_text(root, "rules")}};
    for (const SourceNode& set : sets->members) {
        if (set.kind != SourceKind::text) return std::nullopt;
        const std::optional<std::string> typed = in_hex ? parse_hex(set.typed) : set.typed;
        if (!typed) return std::nullopt;
        c.edits.sets.push_back(*typed);
    }
    return c.setup.empty() && c.draft.empty() ? std::nullopt : std::optional(std::move(c));
}

std::optional<KeptChanges> find_unsaved(const AppState& app) {
    if (!has_changes(app)) return std::nullopt;
    return KeptChanges{app.drafted ? std::string{} : find_whole_name(app.name), setup_title(app),
                       app.drafted ? app.source.text : std::string{}, mark_text(app.source.text), app.now.edits};
}

std::vector<LeftChanges> find_left_changes(const std::string& folder) {
    std::vector<LeftChanges> all;
    if (folder.empty()) return all;
    for (int number = 1; number <= most_windows; ++number) {
        if (auto left = find_left(folder, number)) all.push_back(std::move(*left));
    }
    return all;
}

std::vector<Problem> open_kept_changes(AppState& app, const KeptChanges& c) {
    AppState opened = c.draft.empty() ? open_app(app.library, c.setup, {}, app.view.units, app.mark)
                                      : open_draft(app.library, c.draft, c.title, app.view.units, app.mark);
    std::vector<Problem> problems = opened.problems;
    const bool changed_since = problems.empty() && mark_text(opened.source.text) != c.mark;
    if (problems.empty()) problems = change_edits(opened, c.edits);
    if (!problems.empty()) return problems;
    show_opened(app, std::move(opened));
    app.view.notice =
        changed_since ? "The changes that were kept stand over the file. It was changed since: look at what differs."
                      : "The changes that were kept stand over the file again.";
    return {};
}

bool take_left_changes(AppState& app, const LeftChanges& left) {
    const KeptChanges& c = left.changes;
    const std::string what = "changes that were kept: " + c.title;
    if (would_lose(app)) {
        app.view.files.refused = {what, {{left.file, 0, 0, {}, "the changes to the set-up shown are in no file yet, or a text was not taken", {}, "write them, or take them back, first", {}}}};
        return false;
    }
    if (std::vector<Problem> problems = open_kept_changes(app, c); !problems.empty()) {
        app.view.files.refused = {what, std::move(problems)};
        return false;
    }
    app.view.files.taken.push_back(left);
    return true;
}

void drop_left_changes(LeftChanges& left) {
    std::error_code error;
    fs::remove(left.file, error);
    if (left.lock) left.lock->remove();
}

Recovery::Recovery(const std::string& folder) : trouble_(make_state_folder(folder)) {
    for (int number = 1; trouble_.empty() && number <= most_windows; ++number) {
        std::error_code error;
        // What an earlier window left is not written over.
        if (fs::exists(name_of(folder, number, changes_ending), error)) continue;
        lock_ = std::make_unique<FileLock>(name_of(folder, number, lock_ending));
        if (!lock_->held()) continue;
        // Whoever held it may have ended in between.
        if (fs::exists(name_of(folder, number, changes_ending), error)) continue;
        file_ = name_of(folder, number, changes_ending);
        return;
    }
    lock_.reset();
    if (trouble_.empty()) trouble_ = fmt::format("nothing can be kept in \"{}\"", escape_text(folder));
}

void Recovery::drop_taken() {
    for (LeftChanges& left : taken_) drop_left_changes(left);
    taken_.clear();
}

void Recovery::follow(AppState& app) {
    for (LeftChanges& left : app.view.files.taken) taken_.push_back(std::move(left));
    app.view.files.taken.clear();
    if (file_.empty()) return;
    std::optional<KeptChanges> unsaved = find_unsaved(app);
    std::error_code error;
    if (unsaved && unsaved != written_) {
        // The changes before stay in the file when these cannot be written.
        if (const auto failed = write_file_atomically(file_, format_kept_changes(*unsaved))) {
            trouble_ = failed->message;
            return;
        }
    } else if (!unsaved && written_) {
        fs::remove(file_, error);
    }
    trouble_.clear();
    written_ = std::move(unsaved);
    if (written_) drop_taken();
}

void Recovery::end() {
    drop_taken();
    if (file_.empty()) return;
    std::error_code error;
    fs::remove(file_, error);
    if (lock_) lock_->remove();
    file_.clear();
}

}  // namespace hitchwright
