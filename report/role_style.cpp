// See role_style.h.
#include "report/role_style.h"

#include <array>

namespace hitchwright {
namespace {

constexpr Colour ink{0x1A, 0x1C, 0x20};
constexpr Colour slate{0x5A, 0x62, 0x6C};
constexpr Colour mist{0x8C, 0x93, 0x9B};
constexpr Colour blue{0x12, 0x47, 0x80};
constexpr Colour rust{0x8A, 0x4B, 0x08};
constexpr Colour vermilion{0xB8, 0x24, 0x0E};
constexpr Colour black{0x00, 0x00, 0x00};
constexpr Colour white{0xFF, 0xFF, 0xFF};
constexpr Colour pale_grey{0xF1, 0xF2, 0xF3};
constexpr Colour pale_blue{0xE3, 0xEC, 0xF5};
constexpr Colour pale_sand{0xF8, 0xF1, 0xE4};
constexpr Colour pale_red{0xFB, 0xE4, 0xDF};

constexpr std::array<double, 0> solid_pattern{};
constexpr std::array<double, 2> dashed_pattern{2.4, 1.3};
constexpr std::array<double, 2> short_pattern{1.1, 0.9};
constexpr std::array<double, 2> dotted_pattern{0.35, 1.15};
constexpr std::array<double, 4> centre_pattern{4.0, 1.0, 0.8, 1.0};

using Dash = std::span<const double>;
constexpr Dash solid{solid_pattern};
constexpr Dash dashed{dashed_pattern};
constexpr Dash shorter{short_pattern};
constexpr Dash dotted{dotted_pattern};
constexpr Dash centre{centre_pattern};

// name, layer, line width, dash, line colour, filled, fill, hatch, hatch spacing, crossing weight
constexpr std::array<RoleStyle, role_count> styles = {{
    {"ground", 10, 0.50, solid, ink, false, white, Hatch::none, 0.0, 4.0},
    {"ghost", 26, 0.22, dashed, slate, false, white, Hatch::none, 0.0, 0.7},
    {"travel_arc", 27, 0.35, dotted, ink, false, white, Hatch::none, 0.0, 0.7},
    {"swept", 8, 0.20, solid, mist, false, white, Hatch::none, 0.0, 0.3},
    {"obstacle", 16, 0.45, centre, ink, false, white, Hatch::none, 0.0, 2.0},
    {"tyre", 20, 0.35, solid, mist, true, pale_grey, Hatch::none, 0.0, 1.2},
    {"tractor_outline", 22, 0.30, solid, slate, true, white, Hatch::none, 0.0, 1.5},
    {"drawbar", 24, 0.30, solid, slate, true, pale_grey, Hatch::none, 0.0, 2.0},
    {"pto_stub", 50, 0.35, solid, ink, true, pale_grey, Hatch::none, 0.0, 4.0},
    {"lift_arm", 34, 0.30, solid, slate, true, white, Hatch::none, 0.0, 2.0},
    {"lift_rod", 36, 0.30, solid, slate, true, white, Hatch::none, 0.0, 2.0},
    {"lower_link", 38, 0.45, solid, blue, true, pale_blue, Hatch::none, 0.0, 3.0},
    {"upper_link", 42, 0.45, solid, blue, true, pale_blue, Hatch::none, 0.0, 3.0},
    {"implement_outline", 28, 0.45, solid, rust, true, pale_sand, Hatch::none, 0.0, 2.5},
    {"mast", 32, 0.40, solid, rust, true, white, Hatch::none, 0.0, 3.0},
    {"ground_contact", 30, 0.40, solid, rust, true, white, Hatch::none, 0.0, 2.0},
    {"input_shaft", 50, 0.35, solid, ink, true, pale_grey, Hatch::none, 0.0, 4.0},
    {"guard", 51, 0.18, shorter, slate, false, white, Hatch::none, 0.0, 1.5},
    {"shaft_tractor_half", 52, 0.35, solid, ink, true, white, Hatch::none, 0.0, 4.0},
    {"shaft_implement_half", 52, 0.35, solid, ink, true, white, Hatch::none, 0.0, 4.0},
    {"joint", 58, 0.40, solid, ink, true, white, Hatch::none, 0.0, 6.0},
    {"overlap", 54, 0.20, solid, ink, false, white, Hatch::diagonal, 0.9, 4.0},
    {"gap", 55, 0.25, shorter, ink, false, white, Hatch::none, 0.0, 4.0},
    {"clash", 56, 0.55, solid, vermilion, true, pale_red, Hatch::cross, 1.0, 5.0},
    {"separation", 56, 0.55, dashed, vermilion, true, pale_red, Hatch::back_diagonal, 1.6, 5.0},
    {"cut", 57, 0.60, shorter, vermilion, false, white, Hatch::none, 0.0, 5.0},
    {"pin", 60, 0.35, solid, ink, true, white, Hatch::none, 0.0, 8.0},
    {"pin_chosen", 62, 0.35, solid, ink, true, ink, Hatch::none, 0.0, 8.0},
    {"clearance", 64, 0.45, solid, ink, false, white, Hatch::none, 0.0, 5.0},
    {"dimension", 66, 0.18, solid, ink, false, white, Hatch::none, 0.0, 2.5},
    {"arrow", 67, 0.05, solid, ink, true, ink, Hatch::none, 0.0, 2.5},
    {"leader", 68, 0.15, solid, slate, false, white, Hatch::none, 0.0, 3.0},
    {"label", 70, 0.0, solid, ink, false, white, Hatch::none, 0.0, 0.0},
    {"title", 72, 0.0, solid, ink, false, white, Hatch::none, 0.0, 0.0},
    {"verdict", 72, 0.55, solid, ink, true, white, Hatch::none, 0.0, 0.0},
    {"caution", 74, 0.45, solid, ink, true, white, Hatch::none, 0.0, 0.0},
    {"legend", 74, 0.25, solid, ink, false, white, Hatch::none, 0.0, 0.0},
    {"frame", 5, 0.20, solid, mist, false, white, Hatch::none, 0.0, 0.0},
    {"error_band", 6, 0.15, dotted, slate, true, pale_blue, Hatch::none, 0.0, 0.0},
    {"code", 76, 0.0, solid, black, true, black, Hatch::none, 0.0, 0.0},
}};

}  // namespace

const RoleStyle& style_of(Role role) { return styles[static_cast<std::size_t>(role)]; }

}  // namespace hitchwright
