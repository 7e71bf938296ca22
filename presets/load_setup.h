// A set-up file with everything it names, as one Setup.
//
// Layers, each over the one before: the preset that `use` names, the set-up file's own values, `--set`.
// The set-up's own values for a machine belong to the machine it names: where `--set tractor.use=...` names
// another one, the values of [tractor] are left out, so that no measure of one machine is taken for another.
// What is still unknown afterwards is filled from defaults.h or stays unknown.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/setup.h"
#include "geometry/special_members.h"
#include "presets/field_note.h"
#include "presets/library.h"
#include "presets/problem.h"

namespace hitchwright {

/// What the command line adds to a set-up file.
struct LoadOptions {
    std::vector<std::string> sets;  ///< each "KEY=VALUE", see overrides.h
    std::string rules;              ///< name or path of a rule set; goes before the file's and before --set; empty: none
    std::vector<std::string> lists = {};  ///< specification lists by name or path, behind those of the file
    int threads = 1;                      ///< to read the named files with; what is read is the same with any number
};

/// A file that a set-up was made from.
struct UsedFile {
    FileKind kind = FileKind::setup;
    std::string name;  ///< preset key or file name without ending
    std::string file;  ///< path or "built-in:..."

    bool operator==(const UsedFile&) const = default;
};

/// A set-up, or problems. With problems the set-up is incomplete and must not be computed with.
struct LoadedSetup {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(LoadedSetup);
    Setup setup;
    std::vector<Problem> problems;  ///< of all files, by file and position
    FieldNotes notes;
    std::vector<UsedFile> files;
    std::string unit;  ///< unit the set-up file states for lengths; empty: none

    bool ok() const { return problems.empty(); }
};

/// Loads a set-up by preset name or path. Never throws for bad input.
LoadedSetup load_setup(std::string_view name_or_path, const Library& library, const LoadOptions& options = {});

/// The same for a text that is at hand, for example one that is still being written. Relative paths in it begin at its
/// `folder`.
LoadedSetup load_setup(const PresetText& text, const Library& library, const LoadOptions& options = {});

}  // namespace hitchwright
