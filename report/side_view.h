// The side view of a mounted set-up: what is on the page, from plain points and lengths.
//
// A SideViewScene holds everything that is shown and nothing that is computed: points in the tractor frame (m; x
// rearward of the rear axle, z above the ground, seen from the left), lengths and angles as the analysis found them.
// Lengths in space are handed over, not measured from the picture, since a side view shows a sideways offset short.
// draw_side_view gives the machine as a Drawing; compose_side_view the whole page: verdict first, picture, shaft drawn
// straight, legend in words, cautions. What the scene lacks is left out; cautions are always printed.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "geometry/finding.h"
#include "geometry/special_members.h"
#include "geometry/telescoping.h"
#include "report/drawing.h"
#include "report/format_length.h"
#include "report/open_linkage.h"
#include "report/page.h"

namespace hitchwright {

/// A hole that can hold a pin.
struct PinHole {
    DrawingPoint at;
    std::string name;
    bool chosen = false;
};

/// Wheel, roller or skid the implement stands on; radius 0 is a skid.
struct ContactWheel {
    DrawingPoint centre;
    double radius = 0.0;
};

/// Lift arm and lift rod in one pose.
struct LiftParts {
    DrawingPoint arm_pivot, arm_end, rod_pin;
};

/// The tractor, which does not move; positions are drawn only with a tractor.
struct TractorView {
    std::optional<double> rear_tyre_radius;  ///< m, loaded
    DrawingPoint lower_link_pivot;
    std::vector<PinHole> upper_link_pins;  ///< exactly one chosen, when known
    std::optional<DrawingPoint> pto_stub_end;
    double pto_slope = 0.0;                   ///< rad, rear end up positive
    std::optional<DrawingPoint> drawbar_end;  ///< rearmost upper edge
    std::vector<DrawingPoint> cab_line;       ///< rear of cab or ROPS, top to bottom
};

/// A quick coupler between linkage and implement.
struct CouplerView {
    DrawingPoint lower_hook;  ///< where the implement's lower pins are
    DrawingPoint top_hook;    ///< where its mast pin is
};

/// Linkage and implement at one ball height.
struct PoseView {
    DrawingPoint lower_hitch_point;
    DrawingPoint upper_hitch_point;  ///< pin the upper link acts on: the mast pin in use, or a coupler's own
    std::optional<CouplerView> coupler;
    std::vector<PinHole> mast_pins;
    std::vector<std::vector<DrawingPoint>> outlines;  ///< closed outlines of the implement
    std::vector<ContactWheel> wheels;
    std::vector<DrawingPoint> points;  ///< measured points of the implement, marked by crosses
    std::optional<LiftParts> lift;
    std::optional<DrawingPoint> input_shaft_end;
    std::optional<DrawingPoint> tractor_joint, implement_joint;  ///< joint centres; both or none
    double shaft_length = 0.0;                                   ///< m in space between the joint centres
    double tractor_joint_angle = 0.0;                            ///< rad, in space
    double implement_joint_angle = 0.0;                          ///< rad, in space
    double pitch = 0.0;                                          ///< rad, rear of the implement up positive
};

/// The least room found between two parts, with its two nearest points in the pose where it happens.
struct ClearanceView {
    DrawingPoint from, to;
    double clearance = 0.0;          ///< m; negative: they overlap by that much
    std::optional<double> required;  ///< m
    std::string what;                ///< "guard to deck lip"
};

/// One row of the shaft drawn straight: a state of the shaft at one length.
struct ShaftRow {
    std::string title;    ///< "Shortest", "Longest, after the cut"
    std::string where;    ///< "hitch fully down, ball height 8 in"
    double length = 0.0;  ///< m between joint centres
    TelescopingHalves halves;
    std::optional<double> gap_needed;      ///< m; shown beside the gap when set
    std::optional<double> overlap_needed;  ///< m; shown beside the overlap when set
    CutPair cut_marks;                     ///< m from each tube's end; drawn as saw marks, 0: none
};

/// The shaft of the set-up.
struct ShaftView {
    std::optional<TelescopingHalves> halves;  ///< as drawn in the working pose; none: a centre line is drawn
    bool halves_assumed = false;              ///< tubes were not measured
    std::optional<double> guard_radius;       ///< m
    std::vector<ShaftRow> rows;
};

/// Everything shown on the page.
struct SideViewScene {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(SideViewScene);
    UnitSystem units = UnitSystem::inch;
    Verdict verdict = Verdict::not_known;
    std::string verdict_sentence;
    std::string caption;   ///< the user's own line under the header; empty: none
    std::string subtitle;  ///< machines, shaft and rule set in one line
    std::optional<TractorView> tractor;
    std::optional<PoseView> working;                  ///< none: no position can be drawn, and `no_position` says why
    std::string position_words = "working position";  ///< what the solid position is
    std::string no_position;                          ///< reason in one sentence, shown in place of the position
    std::optional<OpenLinkage> open;                  ///< in place of a position: where the linkage does not close
    std::optional<PoseView> lifted;                   ///< ghosted
    std::optional<TractorView> lifted_tractor;        ///< where its links are pinned; none: to `tractor`
    std::string lifted_words = "lifted";              ///< what the ghosted position is
    std::optional<double> upper_link_length;          ///< m, pin to pin, as set
    std::vector<DrawingPoint> ball_travel;            ///< path of the ball ends, lowest to highest
    std::vector<DrawingPoint> joint_travel;           ///< path of the implement joint
    std::optional<ShaftView> shaft;                   ///< none: the implement has no PTO input, or no shaft was given
    std::vector<ClearanceView> clearances;
    std::vector<std::string> findings;  ///< what must be known or done, one line each, under the verdict
    std::vector<std::string> notes;     ///< further sentences under the picture
    std::vector<std::string> cautions;  ///< those that apply; standing_cautions are printed in any case
};

/// The machine in working pose with the lifted pose ghosted, with labels and dimensions; empty without a tractor.
Drawing draw_side_view(const SideViewScene& scene);

/// The whole page. A scene without a tractor or with an impossible coordinate gives a page that says so
/// in place of the picture.
PagePicture compose_side_view(const SideViewScene& scene, const PageSetup& page, const TextMeasure& measure);

/// Cautions printed on every page, whatever the scene says; the one about a turning shaft where there is a shaft.
inline constexpr std::array<Caution, 5> standing_cautions = {Caution::stop_before_touching,
                                                             Caution::keep_from_turning_shaft, Caution::nobody_between,
                                                             Caution::never_under_raised, Caution::manual_rules};

}  // namespace hitchwright
