// The tables of all keys in docs/file-format.md, made from the same lists the reader visits.
#pragma once

#include <string>

#include "presets/file_kind.h"

namespace hitchwright {

/// A markdown table for a kind of file, with its header keys: key, form, range, usual error (two sigma), default
/// with its grade, which answer needs it, and how to measure it. Ends in a line end.
std::string format_key_table(FileKind kind);

}  // namespace hitchwright
