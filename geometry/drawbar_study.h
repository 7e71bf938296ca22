// Every position of the drawbar's pin for the implement and the shaft there are: numbers, reasons, the best first.
//
// The order of the trade: drawbar first, cut last. A position that needs no cut goes before one that does. Ranked by, one
// after the other: vertical load within the tractor's limit; shaft (fits as it is, after a cut, not known, no cut works)
// over the whole box of attitudes; joints within the PTO-off limit over the level turn; length within 10 mm of the figure
// for the PTO; how unequally the bend of a turn is split. Shaft lengths are judged by their proven bounds.
// Split: in a level turn of plain joints sin B1 / q = sin B2 / p, equal angles where p = q. A wide-angle joint wants the pin
// under its centre, p = 0: its plain partner then runs straight.
#pragma once

#include <string>
#include <vector>

#include "geometry/drawbar_figures.h"
#include "geometry/drawn_extremes.h"
#include "geometry/shaft_cut.h"

namespace hitchwright {

/// How the shaft does in a position.
enum class ShaftFit { fits, after_cut, not_known, no_cut_works };

/// What a position is ranked by, in this order; the last two are told but do not rank.
enum class PinReasonKind { vertical_load, shaft, joint_angles, figure, split, drawbar_top, drop };

/// One reason: value against limit, both SI.
struct PinReason {
    PinReasonKind kind{};
    bool known = false;
    bool good = false;
    double value = 0.0;  ///< kg; m of gap (shaft); rad beyond (joint_angles: greatest over the turn); m off the figure; rad of split; m; m
    double limit = 0.0;

    bool operator==(const PinReason&) const = default;
};

/// One position studied.
struct PinStudy {
    std::size_t pin = 0;  ///< index into tractor.drawbar_pins
    std::string name;
    DrawnModel model;
    double length = 0.0;             ///< PTO end to pin, m
    DrawnExtremes whole, turn;       ///< over the box; over the level turn. Only with model.has_shaft
    PinDistances distances;          ///< p and q
    double turn_for_split = 0.0;     ///< the sharper turn of the box, signed yaw, rad
    DrivelineState at_turn;          ///< there, level: the split of the bend
    double length_for_best_split = 0.0;  ///< drawbar length with p = q, or p = 0 with a wide-angle joint at the tractor
    double gap_straight = 0.0;       ///< m left when straight and level: 50 to 100 mm is an extra check, never a substitute
    bool has_plan = false;
    CutPlan plan;                    ///< with the admissible cuts in this position
    ShaftFit fit = ShaftFit::not_known;
    std::vector<PinReason> reasons;  ///< in the order of PinReasonKind
};

/// Drawbar lengths with which the present shaft keeps its gap and overlap over the whole box, m.
struct DrawbarInterval {
    bool known = false;   ///< false: no shaft or no halves
    bool any = false;     ///< false: no length does; low and high are then the least for the gap and the most for the overlap
    double low = 0.0, high = 0.0;
    bool low_open = false, high_open = false;  ///< the end is that of the search (100 mm, 1.5 m), not of the shaft
    bool rises = false;   ///< proven: every longer drawbar lengthens the shaft at every attitude, so that nothing between
                          ///< the ends breaks a limit and nothing outside keeps both. false: only the ends are certain
    int evaluations = 0;
};

/// All positions, best first.
struct DrawbarStudy {
    std::vector<PinStudy> pins;
    std::vector<ModelObstacle> obstacles;  ///< hitch and shaft of the first position that has any
    DrawbarInterval lengths;               ///< for the shaft as it is (cuts of the set-up made)
};

/// True when the vertical load is known to be over the tractor's limit in this position. The first choice is only where all are.
bool is_overloaded(const PinStudy& pin);

/// Studies every position. Never throws on readings.
DrawbarStudy study_drawbar(const Setup& setup, const Mark& mark);

/// The admissible lengths alone, box and level attitude as in `model`.
DrawbarInterval find_drawbar_interval(const DrawnModel& model, const CutLimits& limits);

}  // namespace hitchwright
