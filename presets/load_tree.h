// A set-up from a tree that was read already, whatever it was written in: the way of load_setup.h without TOML.
#pragma once

#include <vector>

#include "presets/load_setup.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// `problems`: of that reading; with any, nothing but `--set` is looked at. `place`: file, key and folder of the tree; its
/// text is not looked at.
LoadedSetup load_setup_tree(const SourceNode& root, std::vector<Problem> problems, const PresetText& place, const Library& library,
                            const LoadOptions& options = {});

}  // namespace hitchwright
