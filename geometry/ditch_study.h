// The way of a drawn machine across a ditch or ridge: states at every station, the worst of them, what still passes.
//
// Stations are places of the rig (terrain.h) not further apart than `station_step`, marched from the run-up to the run-out,
// and back again as a check; both headings are marched, the second on the mirrored ground (once
// only when that is the same ground). The worst states are then looked
// for between the stations beside the worst ones, by dividing until a place is known to `place_closeness`: the attitude is
// continuous and piecewise smooth along the way, and no bound is claimed beyond that.
// What still passes: the ditch is made shallower, or crossed at another angle, until every limit is kept. Looked for over a
// row of values and then halved; `monotone` says whether the row went from passing to not passing once only.
#pragma once

#include <optional>
#include <vector>

#include "geometry/terrain.h"
#include "geometry/turn_limits.h"

namespace hitchwright {

/// Which way the rig heads over the ground of the set-up.
enum class Heading { as_given, other_way };

inline constexpr double station_step = 0.030;       ///< m along the way
inline constexpr double place_closeness = 1.0e-6;   ///< m

/// Limits along the way; unset angles are not judged.
struct DitchLimits {
    double gap = 0.0, overlap = 0.0;  ///< m
    std::optional<double> tractor_angle, implement_angle, pitch_play, roll_play;  ///< rad
};
DitchLimits make_ditch_limits(const Setup& setup, const DrawnModel& model, JointHold hold);

/// One station, with the driveline's state when there is a shaft.
struct DitchStation {
    TerrainPose pose;
    DrivelineState shaft;
};

/// What a station can be the worst in.
enum class DitchQuantity { shortest, longest, tractor_angle, implement_angle, pitch_up, pitch_down, roll };

/// A worst state: value of its quantity (m or rad), where and how the rig stands.
struct DitchWorst {
    DitchQuantity quantity{};
    double value = 0.0;
    Heading heading = Heading::as_given;
    DitchStation station;
};

/// One heading.
struct DitchWay {
    Heading heading = Heading::as_given;
    bool complete = false;  ///< every station has a pose
    double return_difference = 0.0;  ///< greatest difference of an attitude angle between the march there and back, rad
    std::vector<DitchStation> stations;  ///< driving forward
};

/// A search for the last value that passes.
struct StillPasses {
    bool any = false;      ///< some value of the row passes
    bool monotone = true;  ///< between passing and not passing the row changes once at most
    double value = 0.0;    ///< depth factor 0 to 1, or crossing angle (rad); on the passing side
};

/// Everything about a crossing.
struct DitchStudy {
    std::vector<DitchWay> ways;     ///< both headings
    std::vector<DitchWorst> worst;  ///< in the order of DitchQuantity; shaft quantities only with a shaft
    bool passes = false;            ///< every limit is kept, at every station and worst state
    StillPasses depth;              ///< share of the depth that still passes at this angle; 1 when all of it does
    StillPasses angle;              ///< crossing angle nearest to square that still passes with this ditch
};

/// Marches both ways and finds the worst states; `depth` and `angle` are not searched.
DitchStudy study_ditch(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits);

/// `depth` of the study of a crossing.
StillPasses find_passing_depth(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits,
                               const DitchStudy& study);
/// `angle` of it.
StillPasses find_passing_angle(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits,
                               const DitchStudy& study);

/// `passes` of the study, without the study: ends at the first station that breaks a limit, and leaves out those that no
/// quantity could bring to its limit at three times the fastest change seen on the way (a rule tried, not a proof). Each
/// straight piece of the ground is looked at twice at least; a station left out is taken to stand.
bool passes_ditch(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits);

/// The march alone. `step`: greatest distance of stations, m, above 0.
DitchWay march(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, Heading heading, double step);

/// True when a station keeps every limit (those of the shaft only with a shaft).
bool keeps_limits(const DrawnModel& model, const DitchStation& station, const DitchLimits& limits);

/// What a station that stands has in hand of the limit on one quantity, m or rad; negative: broken, endless (1e300) without one.
double find_room(const DrawnModel& model, const DitchStation& station, const DitchLimits& limits, DitchQuantity quantity);

/// The state that tells most: the first that breaks the limit of its own quantity, the shaft's lengths first; where none is
/// broken the shaft's length with the least room, without a shaft the greatest pitch. Nothing when no station stands.
const DitchWorst* find_telling_state(const DitchStudy& study, const DrawnModel& model, const DitchLimits& limits);

}  // namespace hitchwright
