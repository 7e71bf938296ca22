// The machines of a matrix: by names, files, folders, all that are listed, or a set-up's own.
#pragma once

#include <string>
#include <vector>

#include "geometry/setup.h"
#include "presets/library.h"

namespace hitchwright {

/// One machine. T: Tractor, Implement or Driveline.
template <class T>
struct MatrixMachine {
    std::string label;  ///< its name without folder and ending; where two have the same, its path
    std::string use;    ///< what stands behind `use =`; empty: the set-up's own
    std::string text;   ///< of its file
    T machine;
};

/// A file or name of which no machine came.
struct UnreadMachine {
    std::string label;
    std::vector<Problem> problems;
};

template <class T>
struct MatrixMachines {
    std::vector<MatrixMachine<T>> read;  ///< in the order in which they were named; of a folder, by name
    std::vector<UnreadMachine> unread;
};

/// Reads them. `named`: each names, files or folders with commas between; empty: those of `own`, without it all of the
/// library. Of a folder its .toml files are taken that do not say they are something else; folders in it are not
/// looked at. "none" among drivelines is a machine with that `use` and no label.
template <class T>
MatrixMachines<T> list_matrix_machines(const std::vector<std::string>& named, const Library& library, const Setup* own);

}  // namespace hitchwright
