// The two halves of a telescoping shaft as shapes: roots, tubes, overlap to scale, and gap, clash or separation by
// form.
//
//   joint |>--root--[==== tractor tube ====]
//                        [==== implement tube ====]--root--<| joint
//
// The tractor half is drawn as the outer tube and the roots as equal; neither changes a length. Frame: drawing.h.
#pragma once

#include "geometry/telescoping.h"
#include "report/drawing.h"

namespace hitchwright {

/// Widths across the shaft, m; not measured, only drawn.
struct ShaftLook {
    double outer_width = 0.055, inner_width = 0.038;
    bool mark_gap = false;  ///< draw the gap that is left; clash and separation are drawn in any case
};

/// Where the parts of the shaft lie, m from the tractor joint centre along the shaft.
struct ShaftLayout {
    double tractor_root = 0.0, tractor_end = 0.0;      ///< tube of the tractor half
    double implement_end = 0.0, implement_root = 0.0;  ///< tube of the implement half
    /// Gap before the tractor tube's end meets the implement root; negative: they meet.
    double tractor_gap() const { return implement_root - tractor_end; }
    double implement_gap() const { return implement_end - tractor_root; }
    double overlap() const { return tractor_end - implement_end; }
};

/// Layout of halves at `length` between joint centres.
ShaftLayout lay_out_shaft(const TelescopingHalves& halves, double length);

/// Adds the shaft between two joint centres. `length` is the length in space; where the side view shows the distance
/// shorter, all parts are drawn shorter in the same ratio.
void draw_shaft(Drawing& drawing, DrawingPoint tractor_joint, DrawingPoint implement_joint, double length,
                const TelescopingHalves& halves, const ShaftLook& look);

/// Adds saw marks `cut` metres from the ends of the tubes; a cut of 0 adds none.
void draw_cut_marks(Drawing& drawing, DrawingPoint tractor_joint, DrawingPoint implement_joint, double length,
                    const TelescopingHalves& halves, const CutPair& cut, const ShaftLook& look);

/// Middle of the clash or separation, or of the smallest gap: what a word about it points to.
DrawingPoint find_gap_point(DrawingPoint tractor_joint, DrawingPoint implement_joint, double length,
                            const TelescopingHalves& halves);

}  // namespace hitchwright
