// Which kind of file a machine stands in.
#pragma once

#include "geometry/setup.h"
#include "presets/file_kind.h"

namespace hitchwright {

/// The kind of file that holds a Tractor, an Implement or a Driveline.
template <class T>
inline constexpr FileKind kind_of = FileKind::tractor;
template <>
inline constexpr FileKind kind_of<Implement> = FileKind::implement;
template <>
inline constexpr FileKind kind_of<Driveline> = FileKind::driveline;

}  // namespace hitchwright
