#include "gui/export.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include <fmt/format.h>

#include "cli/command_table.h"
#include "cli/page_output.h"
#include "cli/preset_copy.h"
#include "cli/run_cli.h"
#include "gui/screen.h"
#include "gui/shortcuts.h"
#include "presets/load_setup.h"
#include "report/atomic_file.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;
constexpr std::size_t most_shown = 4096;

const std::vector<std::string> pictures{".pdf", ".svg", ".png", ".html"}, papers{".pdf", ".html"};

const ExportKind kinds[] = {
    {"picture", "Picture", "The picture as it is chosen, to scale, with verdict and cautions", {"draw"}, pictures, ExportFor::both, true, true},
    {"travel", "Curves over the travel", "Lines over the travel of the lift", {"draw", "--view", "travel"}, pictures, ExportFor::mounted},
    {"envelope", "Turn and dip chart", "Turn against dip, with the limits hatched", {"draw", "--view", "envelope"}, pictures, ExportFor::drawn},
    {"sheet", "Set-up sheet", "What to set, to cut and to check, two pages and the drawing", {"sheet"}, papers, ExportFor::both},
    {"worksheet", "Worksheet", "The sheet for teaching: targets are left to be filled in", {"sheet", "--worksheet"}, papers, ExportFor::both},
    {"card", "Measuring card", "Every reading in walking order with sketches, to write on", {"measure"}, papers, ExportFor::both},
    {"card-empty", "Measuring card, empty", "The same without the values the set-up has", {"measure", "--blank"}, papers},
    {"findings", "Findings, a table", "Every finding with its numbers, a row each", {"fit", "--format", "csv"}, {".csv"}, ExportFor::both, false},
    {"analysis", "Whole analysis", "Everything that was computed, for other programs", {"fit", "--format", "json"}, {".json"}, ExportFor::both, false},
    {"sweep", "Travel, a table", "Pitch, lengths, gap, overlap and angles, a row for each height", {"sweep", "--format", "csv"}, {".csv"}, ExportFor::mounted, false},
    {"holes", "Holes, a table", "Every combination of holes with its numbers", {"holes", "--format", "csv"}, {".csv"}, ExportFor::mounted, false},
    {"positions", "Drawbar positions, a table", "Every position of the drawbar's pin with its numbers", {"drawbar", "--format", "csv"}, {".csv"}, ExportFor::drawn, false},
    {"turns", "Turns and dips, a table", "What is left at every turn and dip", {"envelope", "--format", "csv"}, {".csv"}, ExportFor::drawn, false},
    {"loads", "Loads, a table", "Lift at the balls and at the load, a row for each height", {"load", "--format", "csv"}, {".csv"}, ExportFor::mounted, false},
    {"lines", "Lines against specification, a table", "What was asked for, what was measured, how far off", {"lines", "--format", "csv"}, {".csv"}, ExportFor::both, false},
    {"shafts", "Shafts, a table", "Every listed shaft and whether it serves", {"shafts", "--format", "csv"}, {".csv"}, ExportFor::both, false},
    {"screen", "This window", "The window as it is, without this question", {}, {".png"}},
};

std::string show_path(const std::string& path) {
    std::error_code failed;
    const fs::path whole = fs::absolute(path, failed);
    return escape_text(failed ? path : whole.lexically_normal().string(), most_shown);
}

void follow_choice(AppState& app) {
    ExportQuestion& q = app.view.take;
    q.replaces.clear();
    q.message.clear();
    const bool typed = q.path != q.proposed;
    q.proposed = propose_export_name(app);
    if (!typed) q.path = q.proposed;
    else q.path = fs::path(q.path).replace_extension(chosen_ending(app)).string();
}

bool ends_as_chosen(const AppState& app, const std::string& path) {
    const std::string name = fs::path(path).filename().string(), &ending = chosen_ending(app);
    return find_ending(name) == ending && name.size() > ending.size();
}

/// A folder of its own for a command that writes a file; gone with its end.
class WorkFolder {
public:
    WorkFolder() {
        std::error_code failed;
        std::string name = (fs::temp_directory_path(failed) / "hitchwright-XXXXXX").string();
        if (!failed && mkdtemp(name.data()) != nullptr) path_ = name;
    }
    ~WorkFolder() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove_all(path_, ignored);
    }
    WorkFolder(const WorkFolder&) = delete;
    WorkFolder& operator=(const WorkFolder&) = delete;
    const std::string& path() const { return path_; }

private:
    std::string path_;
};

std::string say_failure(const Failure& failure) {
    if (!failure.message.empty() && failure.problems.empty()) return failure.message;
    if (!failure.usage.empty()) return failure.usage.front().where + ": " + failure.usage.front().message;
    return say_problem(failure.problems);
}

RenderResult run_words(const AppState& app, const std::vector<std::string>& words) {
    std::istringstream in;
    std::ostringstream out, err;
    const Streams streams{in, out, err, false, [](const char* name) -> const char* { return std::getenv(name); }, false};
    const Outcome outcome = answer_command(words, app.library, streams);
    if (const auto* failure = std::get_if<Failure>(&outcome)) return {{}, say_failure(*failure)};
    return {std::get<Answer>(outcome).text, {}};
}

RenderResult make_bytes(const AppState& app) {
    std::vector<std::string> words = list_export_words(app);
    if (!chosen_export(app).to_file) return run_words(app, words);
    const WorkFolder folder;
    if (folder.path().empty()) return {{}, "there is no folder for passing files"};
    const std::string file = folder.path() + "/made" + chosen_ending(app);
    words.insert(words.end(), {"-o", file});
    RenderResult result = run_words(app, words);
    if (!result.ok()) return result;
    std::ifstream made(file, std::ios::binary);
    std::ostringstream bytes;
    bytes << made.rdbuf();
    if (!made) return {{}, "the file that was made cannot be read again"};
    return {bytes.str(), {}};
}

/// Why the name will not do; empty: it does.
std::string refuse_path(const AppState& app) {
    const ExportQuestion& q = app.view.take;
    const std::string& ending = chosen_ending(app);
    if (q.path.empty()) return fmt::format("Type a name that ends in {}.", ending);
    if (has_control_characters(q.path, true)) return "The name holds what cannot be printed.";
    if (!ends_as_chosen(app, q.path))
        return fmt::format("\"{}\" was read; allowed: a name that ends in {}.", escape_text(q.path, 200), ending);
    std::error_code ignored;
    if (fs::is_directory(q.path, ignored)) return show_path(q.path) + " is a folder; allowed: the name of a file.";
    return {};
}

void say(AppState& app, bool failed, std::string message) {
    app.view.take.failed = failed;
    app.view.take.message = std::move(message);
}

std::string end_sentence(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text.ends_with('.') ? text : text + ".";
}

std::string say_size(std::size_t bytes) {
    return bytes < 1000 ? fmt::format("{} bytes", bytes) : fmt::format("{:.0f} kB", static_cast<double>(bytes) / 1000.0);
}

void put_down(AppState& app, const std::string& bytes) {
    ExportQuestion& q = app.view.take;
    // Only what was agreed to is written over: a file may have come since.
    std::string failed;
    if (!writes_over(app)) failed = write_new_file(q.path, bytes, "type another name");
    else if (const auto error = write_file_atomically(q.path, bytes)) failed = error->message;
    if (!failed.empty())
        return say(app, true, "Not written: " + failed + ". Allowed: a name in a folder that exists and that you may write to.");
    q.replaces.clear();
    say(app, false, fmt::format("Written: {}, {}.", show_path(q.path), say_size(bytes.size())));
}

/// The answers are those of what the files hold now; what is shown must be the same.
bool is_as_shown(const AppState& app) {
    LoadedSetup loaded = load_setup(app.name, app.library, {app.now.edits.sets, app.now.edits.rules});
    loaded.setup.key = app.now.setup.key;  // what was in no file was called otherwise
    return loaded.ok() && loaded.setup == app.now.setup;
}

const char* view_word(DrawnPicture picture) {
    switch (picture) {
        case DrawnPicture::plan: return "plan";
        case DrawnPicture::side: return "side";
        case DrawnPicture::chart: return "envelope";
        case DrawnPicture::ditch: return "ditch";
    }
    return "side";
}

/// So many digits that the same value is read again.
std::string exact_length(double metres) { return fmt::format("{:.17g} m", metres); }

/// Picture of a mounted set-up: which, and where its hitch stands.
void add_mounted_words(const AppState& app, std::vector<std::string>& words) {
    const MountedPicture picture = app.view.act.switches.mounted;
    if (picture != MountedPicture::side) words.insert(words.end(), {"--view", picture == MountedPicture::rear ? "rear" : "plan"});
    if (!app.results.analysis.linkage) return;
    if (app.view.ball_height) words.insert(words.end(), {"--height", exact_length(shown_ball_height(app))});
    const double sway = shown_place(app).sway;
    if (picture == MountedPicture::rear && sway != 0.0) words.insert(words.end(), {"--sway", exact_length(sway)});
}

bool takes(const ExportKind& kind, std::string_view option) {
    const CommandSpec* command = kind.command.empty() ? nullptr : find_command(kind.command.front());
    return command != nullptr && std::find(command->options.begin(), command->options.end(), option) != command->options.end();
}

}  // namespace

std::span<const ExportKind> export_kinds() { return kinds; }

bool has_paper(const ExportKind& kind) { return kind.to_file && takes(kind, "--paper"); }

bool is_there(const AppState& app, const ExportKind& kind) {
    if (kind.there == ExportFor::both) return true;
    const bool drawn = app.now.setup.implement.attachment == Attachment::drawn;
    return drawn == (kind.there == ExportFor::drawn);
}

const ExportKind& chosen_export(const AppState& app) {
    for (const ExportKind& kind : kinds) {
        if (app.view.take.kind == kind.name && is_there(app, kind)) return kind;
    }
    return kinds[0];
}

const std::string& chosen_ending(const AppState& app) {
    const std::vector<std::string>& endings = chosen_export(app).endings;
    const auto found = std::find(endings.begin(), endings.end(), app.view.take.ending);
    return found == endings.end() ? endings.front() : *found;
}

std::string find_export_stem(const AppState& app) {
    std::string stem = fs::path(app.name).filename().string();
    if (stem.ends_with(".toml")) stem.resize(stem.size() - 5);
    return stem.empty() ? "setup" : stem;
}

std::string propose_export_name(const AppState& app) {
    return fmt::format("{}-{}{}", find_export_stem(app), chosen_export(app).name, chosen_ending(app));
}

void ask_to_export(AppState& app) {
    ExportQuestion& q = app.view.take;
    if (q.path.empty()) {
        q.a4 = app.view.units == UnitSystem::millimetre;
        q.path = q.proposed = propose_export_name(app);
    }
    q.message.clear();
    q.replaces.clear();
    q.open = true;
}

void choose_export(AppState& app, std::string_view name) {
    app.view.take.kind = name;
    follow_choice(app);
}

void choose_ending(AppState& app, std::string_view ending) {
    app.view.take.ending = ending;
    follow_choice(app);
}

std::vector<std::string> list_export_words(const AppState& app) {
    const ExportKind& kind = chosen_export(app);
    std::vector<std::string> words = kind.command;
    words.push_back(app.name);
    for (const std::string& set : app.now.edits.sets) words.insert(words.end(), {"--set", set});
    const bool inch = app.view.units == UnitSystem::inch;
    words.insert(words.end(), {"--units", inch ? "in" : "mm"});
    if (!app.now.edits.rules.empty() && takes(kind, "--rules")) words.insert(words.end(), {"--rules", app.now.edits.rules});
    if (app.mark != (inch ? sixteenth_inch_mark : millimetre_mark) && takes(kind, "--mark"))
        words.insert(words.end(), {"--mark", exact_length(app.mark.step)});
    if (has_paper(kind)) words.insert(words.end(), {"--paper", app.view.take.a4 ? "a4" : "letter"});
    if (!kind.as_shown) return words;
    if (app.now.setup.implement.attachment == Attachment::drawn)
        words.insert(words.end(), {"--view", view_word(app.view.drawn_picture)});
    else add_mounted_words(app, words);
    return words;
}

bool writes_over(const AppState& app) {
    return !app.view.take.replaces.empty() && app.view.take.replaces == app.view.take.path;
}

RenderResult make_export(const AppState& app) {
    if (app.drafted) return {{}, "This set-up has no file yet. Save it first" + say_key_of(Action::save) + ", then take it with you."};
    if (!is_as_shown(app)) return {{}, "The files were changed since they were read. Press \"Read files again\", look, and take it then."};
    return make_bytes(app);
}

void write_export(AppState& app) {
    ExportQuestion& q = app.view.take;
    const std::string refused = refuse_path(app);
    if (!refused.empty()) return say(app, true, refused);
    std::error_code ignored;
    if (fs::exists(fs::symlink_status(q.path, ignored)) && !writes_over(app)) {
        q.replaces = q.path;
        return say(app, true, fmt::format("{} exists and was left alone. Press again to write over it, or type another name.", show_path(q.path)));
    }
    if (chosen_export(app).command.empty()) {
        q.wants_screen = true;
        q.open = false;
        return;
    }
    const RenderResult made = make_export(app);
    if (!made.ok()) return say(app, true, "Not written: " + end_sentence(made.error));
    put_down(app, made.bytes);
}

void finish_screen_export(AppState& app, const RenderResult& png) {
    app.view.take.wants_screen = false;
    if (png.ok()) put_down(app, png.bytes);
    else say(app, true, "Not written: " + end_sentence(png.error));
    app.view.notice = app.view.take.message;
}

}  // namespace hitchwright
