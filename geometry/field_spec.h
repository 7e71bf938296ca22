// What the field lists need to describe one field: key facts, words of choices, usual errors.
//
// Apart from setup_fields.h so that lists of single kinds of machine (drawn_fields.h) can share it. Usual errors are two
// sigma; their sources stand in docs/references.md, "Measuring".
#pragma once

#include "geometry/reading.h"

namespace hitchwright {

/// Who needs a field: the file itself, every linkage answer, the driveline answer, or nobody by force.
enum class Need { file, linkage, driveline, optional };

/// What is known about a numeric field besides its key.
struct FieldSpec {
    Dimension dimension;
    double least, most;  ///< SI, both allowed
    double tolerance;    ///< usual error, two sigma, SI; used when the file states none and the origin is measured
    Need need;
    const char* measure;  ///< from where to where, or what it is
};

/// A word of a file and the value it stands for.
template <class E>
struct ChoiceName {
    const char* word;
    E value;
};

namespace field {
inline constexpr double inch = 0.0254;
inline constexpr double degree = 3.14159265358979323846 / 180.0;
inline constexpr double pin_error = inch / 16;    ///< tape between reachable pin centres
inline constexpr double floor_error = inch / 8;   ///< tape to a floor or a plumb mark
inline constexpr double hidden_error = inch * 3 / 8;  ///< plumbing a pivot one can hardly see
inline constexpr double groove_error = inch / 8;  ///< locking groove to locking groove, in the air
inline constexpr double frame_error = inch / 8;   ///< straight edge across the lower pins
inline constexpr double angle_error = 0.3 * degree;

constexpr FieldSpec length(double least, double most, double tolerance, Need need, const char* measure) {
    return {Dimension::length, least, most, tolerance, need, measure};
}
constexpr FieldSpec angle(double least_deg, double most_deg, Need need, const char* measure) {
    return {Dimension::angle, least_deg * degree, most_deg * degree, angle_error, need, measure};
}
}  // namespace field

}  // namespace hitchwright
