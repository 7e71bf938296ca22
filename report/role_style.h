// What each part of a drawing is (its role) and how a role looks on paper: one table for screen, SVG, PDF and PNG.
//
// Form and words come before colour: every pair of roles that must be told apart differs in line width, dash or hatch,
// so a black-and-white print says the same. The palette is our own: dark ink, one blue, one rust, one vermilion; these
// stay apart in the common kinds of colour blindness because they also differ in lightness.
#pragma once

#include <cstdint>
#include <span>

namespace hitchwright {

/// What a shape shows. The order is the order of the style table, not the order of drawing.
enum class Role {
    ground,
    ghost,
    travel_arc,
    swept,
    obstacle,
    tyre,
    tractor_outline,
    drawbar,
    pto_stub,
    lift_arm,
    lift_rod,
    lower_link,
    upper_link,
    implement_outline,
    mast,
    ground_contact,
    input_shaft,
    guard,
    shaft_tractor_half,
    shaft_implement_half,
    joint,
    overlap,
    gap,
    clash,
    separation,
    cut,
    pin,
    pin_chosen,
    clearance,
    dimension,
    arrow,
    leader,
    label,
    title,
    verdict,
    caution,
    legend,
    frame,
    error_band,
    code
};

/// Count of roles.
inline constexpr std::size_t role_count = static_cast<std::size_t>(Role::code) + 1;

/// Red, green, blue, 0 to 255.
struct Colour {
    std::uint8_t red = 0, green = 0, blue = 0;
    bool operator==(const Colour&) const = default;
};

/// Pattern of parallel lines inside a closed shape. Angles are as seen: diagonal rises to the right.
enum class Hatch { none, diagonal, back_diagonal, cross };

/// How a role looks on paper.
struct RoleStyle {
    const char* name;                 ///< the role in snake_case, for data and SVG classes
    int layer;                        ///< lower layers are drawn first
    double line_mm;                   ///< line width on paper; 0: no outline
    std::span<const double> dash_mm;  ///< lengths of dash, gap, ...; empty: solid
    Colour line;                      ///< colour of lines, hatch and text
    bool filled;                      ///< closed shapes are filled with `fill`
    Colour fill;
    Hatch hatch;
    double hatch_spacing_mm;
    double crossing_weight;  ///< how bad it is when a label lies across a line of this role; 0: no matter
};

/// Width of hatch lines on paper, mm.
inline constexpr double hatch_line_mm = 0.12;

/// The style of a role.
const RoleStyle& style_of(Role role);

}  // namespace hitchwright
