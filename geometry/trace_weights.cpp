// Words, weights and usual sizes of causes; see trace_cause.h. All of it judgement, grade P.
#include "geometry/field_spec.h"
#include "geometry/trace_cause.h"

namespace hitchwright {

std::string_view cause_word(CauseKind kind) {
    switch (kind) {
        case CauseKind::reading:
            return "reading";
        case CauseKind::link_turned:
            return "link_turned";
        case CauseKind::rod_changed:
            return "rod_changed";
        case CauseKind::rear_tyre:
            return "rear_tyre";
        case CauseKind::front_tyre:
            return "front_tyre";
        case CauseKind::cut_made:
            return "cut_made";
        case CauseKind::stop_moved:
            return "stop_moved";
        case CauseKind::tractor_hole:
            return "tractor_hole";
        case CauseKind::mast_hole:
            return "mast_hole";
        case CauseKind::rod_hole:
            return "rod_hole";
        case CauseKind::drawbar_position:
            return "drawbar_position";
        case CauseKind::cut_forgotten:
            return "cut_forgotten";
        case CauseKind::one_half_cut:
            return "one_half_cut";
        case CauseKind::shaft_points:
            return "shaft_points";
        case CauseKind::part_missing:
            return "part_missing";
        case CauseKind::part_fitted:
            return "part_fitted";
        case CauseKind::sign_slip:
            return "sign_slip";
        case CauseKind::float_blocked:
            return "float_blocked";
    }
    return "reading";
}

double find_cause_weight(CauseKind kind) {
    switch (kind) {
        // Pinned anew at every change of implement; pulled out and turned over; proposed and not yet made.
        case CauseKind::tractor_hole:
        case CauseKind::drawbar_position:
        case CauseKind::cut_forgotten:
            return 4.0;
        // Turned by hand, and on its own by vibration; a table's length taken as another's.
        case CauseKind::mast_hole:
        case CauseKind::link_turned:
        case CauseKind::shaft_points:
            return 3.0;
        // Turned to level the implement; pressure, ballast, another tyre; a thumb screw at the lever; pinned for
        // transport.
        case CauseKind::rod_changed:
        case CauseKind::rear_tyre:
        case CauseKind::stop_moved:
        case CauseKind::rod_hole:
        case CauseKind::one_half_cut:
        case CauseKind::part_missing:
        case CauseKind::part_fitted:
        case CauseKind::float_blocked:
            return 2.0;
        default:
            return 1.0;
    }
}

double find_usual_size(CauseKind kind, double tolerance) {
    switch (kind) {
        // A turn or two of the body, half the tyre's pressure, a saw set to another mark.
        case CauseKind::link_turned:
        case CauseKind::rod_changed:
        case CauseKind::rear_tyre:
        case CauseKind::front_tyre:
        case CauseKind::cut_made:
            return 0.5 * field::inch;
        case CauseKind::stop_moved:
            return field::inch;
        default:
            return usual_blunder * tolerance;
    }
}

}  // namespace hitchwright
