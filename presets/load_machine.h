// One tractor, implement or driveline of the library by itself, without a set-up around it.
#pragma once

#include "geometry/setup.h"
#include "presets/library.h"

namespace hitchwright {

/// A machine, or the problems of its file. With problems the machine is incomplete.
template <class T>
struct LoadedMachine {
    T machine;
    std::vector<Problem> problems;
    bool ok() const { return problems.empty(); }
};

/// Loads the preset. T: Tractor, Implement or Driveline; the entry is of that kind.
template <class T>
LoadedMachine<T> load_machine(const PresetEntry& entry, const Library& library);

/// All machines of a kind that can be read, the user's before the built-in ones of the same name, hidden ones left out.
/// `problems` gets those of the others.
template <class T>
std::vector<T> load_machines(FileKind kind, const Library& library, std::vector<Problem>& problems);

}  // namespace hitchwright
