// The picture from behind, and sway in the one from above: every number is the analysis', a mirrored machine gives a mirrored picture.
#include "report/rear_view.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "report/mounted_plan_view.h"
#include "report/mounted_pages.h"
#include "report/safe_words.h"
#include "report/side_view_scene.h"
#include "report/text_measure.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double inch = 0.0254;

/// A mounted machine with unlike rods, sway, tyres and links measured.
Setup make_tilted_setup() {
    Setup s = make_space_setup();
    return s;
}

bool says(const Drawing& d, const std::string& text) {
    const auto has = [&](const auto& all) { return std::any_of(all.begin(), all.end(), [&](const auto& l) { return l.text.find(text) != std::string::npos; }); };
    return has(d.labels) || has(d.dimensions);
}

}  // namespace
