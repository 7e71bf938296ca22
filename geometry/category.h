// Single figures of the three-point categories and the PTO types, each with its grade; sources in docs/references.md.
//
// Never forced on a typed figure: old gear ignores the standard. Used to compare what was typed, and for the standard
// transport height. A figure that is not known for a category is 0.
#pragma once

#include "geometry/reading.h"
#include "geometry/setup.h"

namespace hitchwright {

/// A figure of a standard or of common tables; value 0: none known.
struct Figure {
    double value = 0.0;
    Grade grade = Grade::C;
};

/// Figures of one category; m.
struct CategoryFigures {
    const char* name;         ///< "1", "2", ...
    Figure shoulder_span;     ///< between the shoulders of the lower hitch pins
    Figure ball_width;
    Figure lower_pin, upper_pin;  ///< diameters
    Figure mast_height;
    Figure transport_height;  ///< standard transport height of the hitch points
};

/// Figures of a category; for `none` all are 0. Narrow (N) hitches have the span of the next smaller category.
CategoryFigures find_category_figures(Category category);

/// Standard transport height: as typed (grade D), else the category's; value 0: neither is known. m.
Figure find_transport_height(Category category, const Reading& typed);

/// Figures of a PTO type of ISO 500-1.
struct PtoFigures {
    const char* name;
    int splines;
    Figure diameter;  ///< nominal, m
    int speed_rpm;    ///< the speed it is made for
};

/// Figures of a PTO type; splines 0 for `unknown` and `other`.
PtoFigures find_pto_figures(PtoType type);

}  // namespace hitchwright
