// The preset files built into the program, byte for byte as in presets/.
// Written into a source file at build time by presets/embed.cmake; nothing is read from disk.

#pragma once

#include <span>
#include <string_view>

namespace hitchwright {

/// One preset file built into the program. Both views live as long as the program.
struct EmbeddedFile {
    /// Path below presets/ with forward slashes, e.g. "tractors/compact.toml".
    std::string_view path{};
    /// The whole content, unchanged.
    std::string_view text{};

    bool operator==(const EmbeddedFile&) const = default;
};

/// All embedded files, sorted by path. Cannot fail; every path is different.
std::span<const EmbeddedFile> embedded_files();

}  // namespace hitchwright
