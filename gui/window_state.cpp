#include "gui/window_state.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>

#include "presets/file_text.h"
#include "presets/setup_draft.h"
#include "presets/toml_reader.h"
#include "report/atomic_file.h"
#include "report/folder_lock.h"

namespace hitchwright {
namespace {

constexpr int state_version = 1;
constexpr int least_side = 320, most_side = 8000;
constexpr double least_scale = 0.5, most_scale = 4.0;
constexpr std::size_t most_word = 40, most_path = 4096;

/// Takes single values out of the tree; what is there and cannot be used is counted by its key.
class StateReader {
public:
    explicit StateReader(const SourceNode& root) : root_(root) {}

    std::optional<std::int64_t> whole(const char* key, int least, int most) {
        const SourceNode* n = root_.find(key);
        if (n == nullptr) return std::nullopt;
        if (n->kind == SourceKind::whole && n->whole >= least && n->whole <= most) return n->whole;
        leave_out(key);
        return std::nullopt;
    }
    std::optional<double> number(const char* key, double least, double most) {
        const SourceNode* n = root_.find(key);
        if (n == nullptr) return std::nullopt;
        const bool kind = n->kind == SourceKind::number || n->kind == SourceKind::whole;
        if (kind && n->number >= least && n->number <= most) return n->number;
        leave_out(key);
        return std::nullopt;
    }
    std::string word(const char* key) {
        const SourceNode* n = root_.find(key);
        if (n == nullptr) return {};
        if (is_text(*n, most_word)) return n->typed;
        leave_out(key);
        return {};
    }
    std::vector<std::string> texts(const char* key) {
        const SourceNode* n = root_.find(key);
        if (n == nullptr) return {};
        std::vector<std::string> all;
        bool fine = n->kind == SourceKind::list;
        for (const SourceNode& item : n->members) {
            if (fine && is_text(item, most_path) && !item.typed.empty())
                all.push_back(item.typed);
            else
                fine = false;
        }
        if (!fine) leave_out(key);
        return all;
    }
    void leave_out(const char* key) { left_out_ += (left_out_.empty() ? "" : ", ") + std::string(key); }
    const std::string& left_out() const { return left_out_; }

private:
    static bool is_text(const SourceNode& n, std::size_t most) {
        return n.kind == SourceKind::text && n.typed.size() <= most && !has_control_characters(n.typed, true);
    }
    const SourceNode& root_;
    std::string left_out_;
};

std::optional<UnitSystem> read_units(StateReader& reader) {
    const std::string word = reader.word("units");
    if (word == "in") return UnitSystem::inch;
    if (word == "mm") return UnitSystem::millimetre;
    if (!word.empty()) reader.leave_out("units");
    return std::nullopt;
}

}  // namespace

ReadWindowState parse_window_state(std::string_view text) {
    ReadWindowState read;
    const ParsedToml parsed = parse_toml(text, "window.toml");
    StateReader reader(parsed.root);
    const bool ours =
        parsed.ok() && reader.word("kind") == "window" && reader.whole("version", state_version, state_version);
    if (!ours) {
        read.left_out = "the window's own state cannot be read and begins anew";
        return read;
    }
    WindowState& s = read.state;
    const auto width = reader.whole("width", least_side, most_side),
               height = reader.whole("height", least_side, most_side);
    if (width && height) s.size = WindowSize{static_cast<int>(*width), static_cast<int>(*height)};
    s.units = read_units(reader);
    s.theme = reader.word("theme");
    s.scale = reader.number("scale", least_scale, most_scale);
    s.side_room = reader.word("side_room");
    s.lower_room = reader.word("lower_room");
    s.recent = reader.texts("recent");
    if (s.recent.size() > most_recent) s.recent.resize(most_recent);
    if (!reader.left_out().empty())
        read.left_out = fmt::format("of the window's own state this could not be used: {}", reader.left_out());
    return read;
}

std::string format_window_state(const WindowState& s) {
    std::string text = "# Written by hitchwright-viewer; may be deleted at any time.\nkind = \"window\"\n";
    text += fmt::format("version = {}\n", state_version);
    if (s.size) text += fmt::format("width = {}\nheight = {}\n", s.size->width, s.size->height);
    if (s.units) text += fmt::format("units = \"{}\"\n", *s.units == UnitSystem::inch ? "in" : "mm");
    if (!s.theme.empty()) text += "theme = " + quote_toml(s.theme) + "\n";
    if (s.scale && std::isfinite(*s.scale)) text += fmt::format("scale = {:.3f}\n", *s.scale);
    if (!s.side_room.empty()) text += "side_room = " + quote_toml(s.side_room) + "\n";
    if (!s.lower_room.empty()) text += "lower_room = " + quote_toml(s.lower_room) + "\n";
    text += "recent = [\n";
    for (const std::string& name : s.recent) text += "    " + quote_toml(name) + ",\n";
    return text + "]\n";
}

bool is_window_size(WindowSize s) {
    return std::min(s.width, s.height) >= least_side && std::max(s.width, s.height) <= most_side;
}

void note_recent(std::vector<std::string>& recent, const std::string& name) {
    if (name.empty() || name.size() > most_path || has_control_characters(name, true)) return;
    std::erase(recent, name);
    recent.insert(recent.begin(), name);
    if (recent.size() > most_recent) recent.resize(most_recent);
}

ReadWindowState load_window_state(const std::string& file) {
    std::error_code error;
    if (file.empty() || !std::filesystem::exists(file, error)) return {};
    const FileText text = read_file_text(file);
    if (!text.ok()) return {{}, "the window's own state cannot be read and begins anew"};
    return parse_window_state(text.text);
}

std::string save_window_state(const std::string& file, WindowState state) {
    const FolderLock lock(file);
    for (const std::string& other : load_window_state(file).state.recent) {
        const bool known = std::find(state.recent.begin(), state.recent.end(), other) != state.recent.end();
        if (!known && state.recent.size() < most_recent) state.recent.push_back(other);
    }
    const auto failed = write_file_atomically(file, format_window_state(state));
    return failed ? failed->message : std::string{};
}

}  // namespace hitchwright
