#include "gui/recovery.h"

#include <algorithm>
#include <filesystem>
#include <map>

#include <fmt/format.h>

#include "gui/app_state.h"
#include "gui/open_setup.h"
#include "gui/state_folder.h"
#include "presets/file_text.h"
#include "presets/setup_draft.h"
#include "presets/toml_reader.h"
#include "report/atomic_file.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

constexpr int most_windows = 200;
constexpr std::string_view name_start = "session-", changes_ending = ".toml", lock_ending = ".lock";

std::string name_of(const std::string& folder, int number, std::string_view ending) {
    return fmt::format("{}/{}{}{}", folder, name_start, number, ending);
}

std::string read_text(const SourceNode& root, const char* key) {
    const SourceNode* n = root.find(key);
    return n != nullptr && n->kind == SourceKind::text ? n->typed : std::string{};
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
    if (!changes) return std::nullopt;
    left.changes = std::move(*changes);
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
    text +=
        "setup = " + quote_toml(c.setup) + "\ntitle = " + quote_toml(c.title) + "\nmark = " + quote_toml(c.mark) + "\n";
    if (!c.draft.empty()) text += "draft = " + quote_toml(c.draft) + "\n";
    if (!c.edits.rules.empty()) text += "rules = " + quote_toml(c.edits.rules) + "\n";
    text += "sets = [\n";
    for (const std::string& set : c.edits.sets) text += "    " + quote_toml(set) + ",\n";
    return text + "]\n";
}

std::optional<KeptChanges> parse_kept_changes(std::string_view text) {
    const ParsedToml parsed = parse_toml(text, "changes");
    const SourceNode& root = parsed.root;
    const SourceNode* version = root.find("version");
    const SourceNode* sets = root.find("sets");
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
        c.edits.sets.push_back(set.typed);
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

bool take_left_changes(AppState& app, LeftChanges& left) {
    const KeptChanges& c = left.changes;
    AppState opened = c.draft.empty() ? open_app(app.library, c.setup, {}, app.view.units, app.mark)
                                      : open_draft(app.library, c.draft, c.title, app.view.units, app.mark);
    std::vector<Problem> problems = opened.problems;
    const bool changed_since = problems.empty() && mark_text(opened.source.text) != c.mark;
    if (problems.empty()) problems = change_edits(opened, c.edits);
    if (!problems.empty()) {
        app.view.files.refused = {"changes that were kept: " + c.title, std::move(problems)};
        return false;
    }
    show_opened(app, std::move(opened));
    app.view.notice =
        changed_since ? "The changes that were kept stand over the file. It was changed since: look at what differs."
                      : "The changes that were kept stand over the file again.";
    drop_left_changes(left);
    return true;
}

void drop_left_changes(LeftChanges& left) {
    std::error_code error;
    fs::remove(left.file, error);
    if (left.lock) left.lock->remove();
}

Recovery::Recovery(const std::string& folder) {
    trouble_ = make_state_folder(folder);
    for (int number = 1; trouble_.empty() && number <= most_windows; ++number) {
        std::error_code error;
        // What an earlier window left is not written over.
        if (fs::exists(name_of(folder, number, changes_ending), error)) continue;
        lock_ = std::make_unique<FileLock>(name_of(folder, number, lock_ending));
        if (!lock_->held()) continue;
        file_ = name_of(folder, number, changes_ending);
        return;
    }
    lock_.reset();
    if (trouble_.empty()) trouble_ = fmt::format("nothing can be kept in \"{}\"", escape_text(folder));
}

void Recovery::follow(const AppState& app) {
    if (file_.empty()) return;
    std::optional<KeptChanges> unsaved = find_unsaved(app);
    if (unsaved == written_) return;
    if (unsaved) {
        const auto failed = write_file_atomically(file_, format_kept_changes(*unsaved));
        trouble_ = failed ? failed->message : std::string{};
    } else {
        std::error_code error;
        fs::remove(file_, error);
    }
    written_ = std::move(unsaved);
}

void Recovery::end() {
    if (file_.empty()) return;
    std::error_code error;
    fs::remove(file_, error);
    if (lock_) lock_->remove();
    file_.clear();
}

}  // namespace hitchwright
