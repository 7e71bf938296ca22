// A set-up from trees that were read already: from one of its own, whatever it was written in, or from files kept from before.
#pragma once

#include <string_view>
#include <vector>

#include "presets/load_setup.h"
#include "presets/parsed_files.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// `problems`: of that reading; with any, nothing but `--set` is looked at. `place`: file, key and folder of the tree; its
/// text is not looked at.
LoadedSetup load_setup_tree(const SourceNode& root, std::vector<Problem> problems, const PresetText& place, const Library& library,
                            const LoadOptions& options = {});

/// As load_setup.h has them; a file whose text is in `kept` is not parsed again.
LoadedSetup load_setup(std::string_view name_or_path, const Library& library, const LoadOptions& options, ParsedFiles& kept);
LoadedSetup load_setup(const PresetText& text, const Library& library, const LoadOptions& options, ParsedFiles& kept);

}  // namespace hitchwright
