#include "presets/load_machine.h"

#include "presets/machine_reader.h"
#include "presets/setup_checks.h"

namespace hitchwright {
namespace {

constexpr const char* prefix_of(const Tractor&) { return "tractor."; }
constexpr const char* prefix_of(const Implement&) { return "implement."; }
constexpr const char* prefix_of(const Driveline&) { return "driveline."; }

}  // namespace

template <class T>
LoadedMachine<T> load_machine(const PresetEntry& entry, const Library& library) {
    LoadedMachine<T> loaded;
    const PresetText text = library.read(entry);
    loaded.problems = text.problems;
    if (!text.ok()) return loaded;
    Findings findings;
    read_machine_file(loaded.machine, text.text, text.file, text.origin(), prefix_of(loaded.machine), findings);
    loaded.machine.key = text.key;
    check_contradictions(loaded.machine, prefix_of(loaded.machine), findings.notes, findings.problems);
    sort_problems(findings.problems);
    loaded.problems = findings.problems;
    return loaded;
}

template <class T>
std::vector<T> load_machines(FileKind kind, const Library& library, std::vector<Problem>& problems) {
    std::vector<T> machines;
    for (const PresetEntry& entry : library.list(kind)) {
        if (entry.hidden) continue;
        LoadedMachine<T> loaded = load_machine<T>(entry, library);
        if (loaded.ok()) machines.push_back(std::move(loaded.machine));
        problems.insert(problems.end(), loaded.problems.begin(), loaded.problems.end());
    }
    return machines;
}

template LoadedMachine<Tractor> load_machine(const PresetEntry&, const Library&);
template LoadedMachine<Implement> load_machine(const PresetEntry&, const Library&);
template LoadedMachine<Driveline> load_machine(const PresetEntry&, const Library&);
template std::vector<Tractor> load_machines(FileKind, const Library&, std::vector<Problem>&);
template std::vector<Implement> load_machines(FileKind, const Library&, std::vector<Problem>&);
template std::vector<Driveline> load_machines(FileKind, const Library&, std::vector<Problem>&);

}  // namespace hitchwright
