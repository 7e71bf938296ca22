// The keys at the top of every file: kind, version, unit, origin; for rules grade and source as well.
#pragma once

#include <string>
#include <vector>

#include "presets/file_kind.h"
#include "presets/problem.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// The header of a file.
struct FileHeader {
    SourceFile file;  ///< name, unit and origin for the values below
    bool readable = false;  ///< false: of another kind or version, so that the rest is not looked at
};

/// Reads the header; each wrong or missing key adds a problem. `origin` holds where the file states none.
FileHeader read_header(const SourceNode& root, FileKind expected, const std::string& file, Origin origin,
                       std::vector<Problem>& problems);

/// The keys `read_header` reads.
std::vector<std::string> header_keys();

}  // namespace hitchwright
