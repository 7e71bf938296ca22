// A mounted set-up reduced to what the kernels need: plain numbers, lengths projected, choices made.
//
// Turns readings into a planar linkage (lower_link.h projects), the travel in force (lift_travel.h: the narrower of tape
// and lift arm, then stops), the upper link's length (typed, or the one that gives the working pitch), the driveline's
// ends and halves. Add-on parts that are fitted are in it: a longer lower link, a longer stub, a coupler. With a coupler
// "frame I" of linkage, shaft and clearances is frame I moved to the ball (coupler.h): the link acts on the coupler's pin
// and every point of the implement is shifted (find_body_point). A reading that is needed and not there is named, never
// replaced. On other tyres all of it is where it is there (standing_tractor.h). Frame T, SI.
#pragma once

#include <string>
#include <vector>

#include "geometry/closure.h"
#include "geometry/coupler.h"
#include "geometry/height_range.h"
#include "geometry/hidden_pins.h"
#include "geometry/lift_travel.h"
#include "geometry/mounted_space.h"
#include "geometry/planar_linkage.h"
#include "geometry/setup.h"
#include "geometry/shaft_kernel.h"
#include "geometry/special_members.h"
#include "geometry/telescoping.h"
#include "geometry/tractor_lift.h"
#include "geometry/tyre_change.h"

namespace hitchwright {

/// Where the upper link's length comes from.
enum class UpperLinkSource { typed, for_working_pitch };

/// A mounted set-up in numbers.
struct MountedModel {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(MountedModel);
    std::size_t tractor_pin = 0;  ///< index into tractor.upper_link_pins
    std::size_t mast_pin = 0;     ///< index into implement.mast_pins
    PlanarLinkage linkage;        ///< upper_length: the link as set, its slack not counted
    bool has_coupler = false;     ///< the linkage's mast pin is then the coupler's own pin
    CouplerFit coupler_fit;       ///< how the mast pin in use sits in it
    CoupledBody coupled;          ///< with a coupler: its points in the moved frame I; else all at the ball
    double lower_length_own = 0.0;  ///< projected lower link without an extender
    TyreChange tyres;             ///< how the tractor stands; everything of it is where it is on these tyres
    RodHoles rod_holes;           ///< of the lift rod in the lower links
    std::string rod_hole;         ///< name of the one the rod is in; empty when none are listed
    bool travel_moved_to_hole = false;  ///< heights taped with the rod in another hole were carried over, by arm and rod
    HeightRange lift_share_in_hole;  ///< then: lift at the balls as a share of that in the taped hole; low, high: at the ends
                                     ///< of the travel
    bool travel_moved_by_extender = false;  ///< heights taped without the link extender were carried over to it
    UpperLinkSource upper_link_source = UpperLinkSource::for_working_pitch;
    UpperLinkKind float_kind = UpperLinkKind::rigid;
    double slack = 0.0;           ///< m, slot or chain: beyond upper_length; swing strap: its length
    bool strap_has_stops = false; ///< swing strap whose two stops were given
    double strap_stop_low = 0.0, strap_stop_high = 0.0;  ///< rad, frame I, mast pin to the upper link's pin
    HeightRange travel;           ///< ball heights in force
    CombinedTravel travel_bounds; ///< which information binds each end; stops not included
    bool lift_stop_binds = false, lower_stop_binds = false;
    bool has_working_height = false;
    double working_height = 0.0;
    double working_pitch = 0.0;  ///< level when nobody asks for another
    bool working_pitch_typed = false;
    HeightRange working_band;     ///< heights at which the shaft is driven; the working height alone when not typed, always in it
    bool working_band_typed = false;

    MountedSpace space;           ///< what leaves the side plane; its ranges are those of the travel
    bool travel_moved_to_rods = false;  ///< heights taped with the tractor's own rods were carried over to those set

    PinDecision pin_decision;     ///< what the ball readings were used for; empty without any

    bool has_shaft = false;       ///< the driveline's ends are known
    DrivelineEnds ends;
    bool has_halves = false;
    AssumedHalves uncut;          ///< as measured
    TelescopingHalves halves;     ///< after the cuts of the set-up
    bool has_guard = false;
    TelescopingHalves guard;      ///< after the cuts of the set-up
};

/// Something that keeps the model from being built.
struct ModelObstacle {
    enum class Kind {
        missing,        ///< a needed reading is not there; `key` names it
        no_such_pin,    ///< `key` names a hole, or tyres, that do not exist
        pin_not_chosen, ///< several holes, none chosen; `key`
        cannot_close,   ///< `closure` names part and shortfall, at `height`
        past_dead_centre, ///< the working pitch lies beyond the dead centre of upper link and mast
        empty_travel,   ///< typed travel, lift arm and stops leave no height
        bad_halves,     ///< lengths of the shaft or its guard (`key`) contradict each other, or a cut takes a whole tube
        mast_beside_hook, ///< the mast is shorter than a coupler's top hook stands off sideways
        not_modelled    ///< wide-angle joints at both ends
    };
    Kind kind{};
    std::string key;
    Closure closure{};
    double height = 0.0;
    HalvesStatus halves = HalvesStatus::ok;
    std::vector<std::string> holes = {};  ///< no_such_pin, pin_not_chosen: names of the holes there are; mast_beside_hook: the mast pin's
};

/// Model and everything in its way. The linkage part is usable when `linkage_ok`, the shaft when model.has_shaft.
struct MountedModelResult {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(MountedModelResult);
    MountedModel model;
    bool linkage_ok = false;
    std::vector<ModelObstacle> linkage_obstacles;
    std::vector<ModelObstacle> shaft_obstacles;
};

/// Builds the model of a mounted set-up. Never throws on readings; errors are obstacles. Pins nobody could tape come from
/// the ball readings (hidden_pins.h); `decided`: with this use of them, for readings moved by their tolerances, and then mostly
/// without a bounded search of sway and tilt.
MountedModelResult make_mounted_model(const Setup& setup, const PinDecision* decided = nullptr,
                                      RangeSearch side_search = RangeSearch::bounded);

/// The linkage as the upper link sees it: a strap between known stops is taken at its middle, and the link ends at the
/// strap's pin, not at the mast's. Else the linkage as it is.
PlanarLinkage find_linkage_to_strap(const MountedModel& model);

/// A point of the implement, read in frame I, where linkage and shaft see it: moved back by a coupler.
Point find_body_point(const MountedModel& model, const Reading& x, const Reading& z);

/// Distances upper-link pin to mast pin that the link allows (m): the link's own length when rigid, [e, e + slack] for
/// a slot or chain, [e - strap, e + strap] for a swing strap whose stops are not known (wider than any stops).
HeightRange effective_upper_lengths(const MountedModel& model);

/// Finds `side` of a space over the travel and the upper-link lengths of a model, of whose linkage it is.
void set_side_ranges(MountedSpace& space, const MountedModel& model, RangeSearch search);

}  // namespace hitchwright
