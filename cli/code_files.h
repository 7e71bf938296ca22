// The files a set-up is made of, gathered for its code (setup_code.h): its own text with what the command line changed,
// and the files of its own it names, side by side. Built-in files are named and not carried.
#pragma once

#include <string>
#include <vector>

#include "presets/library.h"
#include "presets/setup_code.h"

namespace hitchwright {

/// The files, or one sentence why there are none.
struct GatheredFiles {
    std::vector<CodeFile> files;
    std::string error;
};

/// `sets`: "KEY=VALUE" put into the text of the set-up as `record` does. `rules`: rule set of the command line; empty:
/// none.
GatheredFiles gather_code_files(std::string_view name_or_path, const Library& library, std::vector<std::string> sets,
                                const std::string& rules);

}  // namespace hitchwright
