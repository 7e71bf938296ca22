// See page_files.h.
#include "web/page_files.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <utility>
#include <vector>

#include "gui/open_setup.h"
#include "gui/recovery.h"
#include "gui/typing.h"
#include "presets/file_kind.h"
#include "presets/file_text.h"
#include "presets/load_setup.h"
#include "presets/toml_reader.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

/// A file that may be the set-up.
struct Candidate {
    std::string path;
    bool parsed = false, setup = false;
    SourceNode root;
};

Candidate look_at(const fs::path& path) {
    Candidate file{path.string(), false, false, {}};
    const FileText text = read_file_text(file.path);
    if (!text.ok()) return file;
    ParsedToml parsed = parse_toml(text.text, file.path);
    file.parsed = parsed.ok();
    const SourceNode* kind = parsed.root.find("kind");
    file.setup = file.parsed && kind != nullptr && kind->kind == SourceKind::text && find_file_kind(kind->typed) == FileKind::setup;
    file.root = std::move(parsed.root);
    return file;
}

std::vector<Candidate> list_candidates(const std::string& folder) {
    std::vector<fs::path> paths;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder))
        if (entry.is_regular_file()) paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    std::vector<Candidate> files;
    for (const fs::path& path : paths) files.push_back(look_at(path));
    return files;
}

/// The names of other files in a set-up.
void list_names(const SourceNode& node, bool names_file, std::vector<std::string>& names) {
    if (node.kind == SourceKind::text && names_file) names.push_back(node.typed);
    for (const SourceNode& member : node.members) {
        const bool names_one = member.key == "use" || member.key == "rules" || member.key == "specification_lists";
        list_names(member, node.kind == SourceKind::list ? names_file : names_one, names);
    }
}

/// A picker gives names without their folders.
void place_named_files(const Candidate& setup, const std::string& root) {
    std::vector<std::string> names;
    list_names(setup.root, false, names);
    const fs::path folder = fs::path(setup.path).parent_path();
    for (const std::string& name : names) {
        const fs::path wanted = (folder / name).lexically_normal(), here = folder / fs::path(name).filename();
        std::error_code error;
        const bool placed = !is_path(name) || !wanted.string().starts_with(root) || fs::exists(wanted, error);
        if (placed || !fs::is_regular_file(here, error)) continue;
        fs::create_directories(wanted.parent_path(), error);
        fs::copy_file(here, wanted, error);
    }
}

std::string join_problems(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& p : problems) text += format_problem(p) + "\n";
    return text;
}

}  // namespace

std::string choose_setup_file(const std::string& folder, const std::string& root, const Library& library) {
    const std::vector<Candidate> files = list_candidates(folder);
    JsonObject o;
    if (files.empty()) return format_json_value(o.add("setup", "").add("others", 0).add("problems", "There is no file.\n").build());
    const auto is_setup = [](const Candidate& c) { return c.setup; };
    auto chosen = std::find_if(files.begin(), files.end(), is_setup);
    if (chosen == files.end()) chosen = std::find_if(files.begin(), files.end(), [](const Candidate& c) { return !c.parsed; });
    if (chosen == files.end()) chosen = files.begin();
    place_named_files(*chosen, root);
    const int setups = static_cast<int>(std::count_if(files.begin(), files.end(), is_setup));
    o.add("setup", chosen->path).add("others", std::max(setups - 1, 0));
    return format_json_value(o.add("problems", join_problems(load_setup(chosen->path, library).problems)).build());
}

std::string format_work(const AppState& app) {
    const std::optional<KeptChanges> unsaved = find_unsaved(app);
    const std::vector<std::string> refused = list_refused_texts(app);
    JsonObject o;
    o.add("setup", app.drafted ? std::string{} : find_whole_name(app.name)).add("drafted", app.drafted);
    o.add("unsaved", unsaved.has_value()).add("title", setup_title(app));
    o.add("changes", unsaved ? format_kept_changes(*unsaved) : std::string{});
    o.add("refused", JsonArray(refused.begin(), refused.end())).add("own_folder", app.library.user_folder());
    return format_json_value(o.build());
}

std::string open_at_once(AppState& app, const std::string& setup, const std::string& changes) {
    if (changes.empty()) {
        AppState opened = open_app(app.library, find_whole_name(setup), {}, app.view.units, app.mark);
        if (!opened.problems.empty()) return join_problems(opened.problems);
        show_opened(app, std::move(opened));
        return {};
    }
    std::optional<KeptChanges> kept = parse_kept_changes(changes);
    if (!kept) return "The changes that were kept cannot be read.\n";
    if (kept->draft.empty()) kept->setup = setup;
    return join_problems(open_kept_changes(app, *kept));
}

std::string change_at_once(AppState& app, const std::string& key, const std::string& value) {
    return join_problems(change_value(app, key, value));
}

}  // namespace hitchwright
