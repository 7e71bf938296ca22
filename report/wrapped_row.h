// A row of a table whose cells are wrapped below each other.
#pragma once

#include <cstddef>
#include <span>
#include <string>

namespace hitchwright {

/// Cells wrapped to their columns, so that the row keeps to them, with `between` blanks from column to column; further lines of the
/// first are indented by `first_hang`. As many widths as cells.
std::string format_wrapped_row(std::span<const std::string> cells, std::span<const std::size_t> widths, std::size_t between, std::size_t first_hang);

}  // namespace hitchwright
