// See matrix_machines.h.
#include "cli/matrix_machines.h"

#include <algorithm>
#include <filesystem>
#include <type_traits>

#include <fmt/format.h>

#include "presets/load_machine.h"
#include "presets/reading_log.h"
#include "presets/toml_reader.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

template <class T>
constexpr FileKind kind_of = std::is_same_v<T, Tractor> ? FileKind::tractor : std::is_same_v<T, Implement> ? FileKind::implement : FileKind::driveline;

const Tractor& pick(const Setup& setup, const Tractor*) { return setup.tractor; }
const Implement& pick(const Setup& setup, const Implement*) { return setup.implement; }
const Driveline& pick(const Setup& setup, const Driveline*) { return setup.driveline; }

/// The file says that it describes something else.
bool is_of_another_kind(const std::string& text, FileKind kind) {
    const ParsedToml parsed = parse_toml(text, {});
    const SourceNode* word = parsed.ok() ? parsed.root.find("kind") : nullptr;
    if (word == nullptr || word->kind != SourceKind::text) return false;
    const std::optional<FileKind> said = find_file_kind(word->typed);
    return said && *said != kind;
}

/// Where a machine may be, and what it is called by.
struct Place {
    PresetEntry entry;
    std::string use;
};

PresetEntry make_path_entry(FileKind kind, const std::string& path) {
    return {kind, fs::path(path).stem().string(), path, {}, false, false};
}

class Lister {
public:
    Lister(FileKind kind, const Library& library) : kind_(kind), library_(library) {}

    void add_listed() {
        for (PresetEntry& entry : library_.list(kind_)) {
            if (entry.hidden) continue;
            std::string use = entry.key;
            places.push_back({std::move(entry), std::move(use)});
        }
    }

    /// One value of the option: a path that is there as it is, else its parts between commas.
    void add_named(const std::string& text) {
        std::error_code error;
        if (text.find(',') == std::string::npos || fs::exists(text, error)) return add_one(text);
        for (std::size_t at = 0; at <= text.size();) {
            const std::size_t comma = std::min(text.find(',', at), text.size());
            if (comma > at) add_one(text.substr(at, comma - at));
            at = comma + 1;
        }
    }

    std::vector<Place> places;
    std::vector<UnreadMachine> unread;

private:
    void add_one(const std::string& name) {
        if (name == "none" && kind_ == FileKind::driveline) {
            places.push_back({{}, name});
            return;
        }
        if (name.find('/') == std::string::npos) {
            if (auto entry = library_.find(kind_, name)) {
                places.push_back({std::move(*entry), name});
                return;
            }
        }
        std::error_code error;
        if (fs::is_directory(name, error)) return add_folder(name);
        if (is_path(name)) {
            places.push_back({make_path_entry(kind_, name), name});
            return;
        }
        unread.push_back({name, library_.read(kind_, name).problems});
    }

    void add_folder(const std::string& folder) {
        std::vector<std::string> paths;
        std::error_code error;
        for (fs::directory_iterator at(folder, error); !error && at != fs::directory_iterator{}; at.increment(error)) {
            const std::string name = at->path().filename().string();
            // A link that leads nowhere, or in a circle, is no folder: the reading of it says so.
            std::error_code unknown;
            if (name.ends_with(".toml") && !is_log_name(name) && !at->is_directory(unknown)) paths.push_back(at->path().string());
        }
        std::sort(paths.begin(), paths.end());
        const std::size_t before = places.size();
        for (const std::string& path : paths) {
            PresetEntry entry = make_path_entry(kind_, path);
            if (!is_of_another_kind(library_.read(entry).text, kind_)) places.push_back({std::move(entry), is_path(path) ? path : "./" + path});
        }
        if (error) unread.push_back({folder, {{folder, 0, 0, {}, fmt::format("this folder cannot be read: {}", error.message()), {}, {}, {}}}});
        if (places.size() > before || error) return;
        unread.push_back({folder, {{folder, 0, 0, {}, fmt::format("there is no {} in this folder", file_kind_name(kind_)), {}, fmt::format("files ending in .toml with kind = \"{}\"", file_kind_word(kind_)), {}}}});
    }

    FileKind kind_;
    const Library& library_;
};

template <class T>
void read_places(const std::vector<Place>& places, const Library& library, MatrixMachines<T>& machines) {
    for (const Place& place : places) {
        if (place.use == "none") {
            machines.read.push_back({{}, place.use, {}, {}});
            continue;
        }
        const auto same = std::count_if(places.begin(), places.end(), [&](const Place& p) { return p.entry.key == place.entry.key && p.use != "none"; });
        const std::string label = same > 1 ? place.use : place.entry.key;
        LoadedMachine<T> loaded = load_machine<T>(place.entry, library);
        if (loaded.ok()) machines.read.push_back({label, place.use, library.read(place.entry).text, std::move(loaded.machine)});
        else machines.unread.push_back({label, std::move(loaded.problems)});
    }
}

}  // namespace

template <class T>
MatrixMachines<T> list_matrix_machines(const std::vector<std::string>& named, const Library& library, const Setup* own) {
    MatrixMachines<T> machines;
    if (named.empty() && own != nullptr) {
        const T& machine = pick(*own, static_cast<const T*>(nullptr));
        const bool none = std::is_same_v<T, Driveline> && !own->has_driveline;
        if (none) machines.read.push_back({{}, "none", {}, {}});
        else machines.read.push_back({machine.key.empty() ? own->key : machine.key, {}, {}, machine});
        return machines;
    }
    Lister lister(kind_of<T>, library);
    if (named.empty()) lister.add_listed();
    for (const std::string& text : named) lister.add_named(text);
    machines.unread = std::move(lister.unread);
    read_places(lister.places, library, machines);
    return machines;
}

template MatrixMachines<Tractor> list_matrix_machines(const std::vector<std::string>&, const Library&, const Setup*);
template MatrixMachines<Implement> list_matrix_machines(const std::vector<std::string>&, const Library&, const Setup*);
template MatrixMachines<Driveline> list_matrix_machines(const std::vector<std::string>&, const Library&, const Setup*);

}  // namespace hitchwright
