// Writing a preset out as a person's own file: never over another file, and honest about where its values come from.
#pragma once

#include <string>
#include <string_view>

#include "presets/file_kind.h"

namespace hitchwright {

/// The text of a built-in preset as a person's own file. Values of a file that states no origin count as measured once
/// the file is not built in, so a copied machine gets the line `origin = "preset"`; nothing else changes.
std::string make_copy_text(std::string_view text, FileKind kind);

/// Writes `text` to a new file; an existing one, also a link or folder, is left alone. Returns one sentence without its
/// full stop saying why it was not written, or nothing. `way_out`: how to name another file.
std::string write_new_file(const std::string& path, std::string_view text,
                           std::string_view way_out = "name another folder with --to");

/// The sentence for a file that exists already, or nothing when the name is free.
std::string refuse_existing(const std::string& path, std::string_view way_out);

}  // namespace hitchwright
