// Triangles that fill a simple polygon, convex or not, since Dear ImGui fills convex ones only.
//
// Method: ears are cut off one by one (Meisters, "Polygons have ears", Amer. Math. Monthly 82, 1975); quadratic, enough
// for outlines of some dozen corners. Crossing outlines give some filling, never an endless loop.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "report/page.h"

namespace hitchwright {

/// Indices into the corners; nothing for fewer than three.
std::vector<std::array<std::size_t, 3>> fill_with_triangles(const std::vector<PagePoint>& corners);

}  // namespace hitchwright
