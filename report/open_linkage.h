// A linkage that cannot close, as a picture: where the upper link and the mast would have to meet and do not.
//
//        U o======link======>|  gap  |<===mast===o H        (or one inside the other)
// Both are laid on the line through upper-link pin U and ball H, where their circles come nearest; what lies between
// their ends is the shortfall of the closure (geometry/closure.h). Frame T, m.
#pragma once

#include <optional>
#include <string>

#include "geometry/analysis.h"
#include "report/drawing.h"

namespace hitchwright {

/// Link and mast at one ball height at which they do not meet.
struct OpenLinkage {
    DrawingPoint lower_pivot, ball, upper_pin;
    DrawingPoint link_end, mast_end;  ///< nearest points of the two circles
    double link = 0.0, mast = 0.0;    ///< lengths, m
    double height = 0.0;              ///< ball height, m
    std::string words;                ///< what is wrong, with its number
};

/// The first height at which the upper link does not close; none when the set-up closes, readings are missing, or
/// another part is at fault.
std::optional<OpenLinkage> find_open_linkage(const Setup& setup);

/// Adds it to a drawing.
void draw_open_linkage(Drawing& drawing, const OpenLinkage& open);

}  // namespace hitchwright
