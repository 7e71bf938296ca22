// What is read directly on the coupled machine, where, and what the model says should be read there.
//
// A distance is simulated between the points it was taken between (direct_check.h); pitch, height of a point and ball heights
// come from the pose; the upper link's length from ball height and pitch alone, however long the model takes it to be.
// A floating link leaves a range: the value of it nearest to what was read counts, and without a reading the link in
// tension, as it hangs when raised. In the side plane. Lengths m, angles rad, frame T.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/drawn_model.h"
#include "geometry/model_fit.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Where and what.
struct DirectPlace {
    DirectKind kind{};
    LengthReference reference = LengthReference::joint_centres;  ///< shaft_length
    double ball_height = 0.0;  ///< not for the two ball heights
    double pitch = 0.0;        ///< upper_link_length
    double turn = 0.0;         ///< drawn: yaw, right positive; level
    std::string point;         ///< tail_height: outline point
};

/// What the model says; nothing where the pose does not close or something it needs is not known.
std::optional<double> predict_at(const DirectPlace& place, const std::optional<double>& read, const Setup& setup, const MountedModel& model);

/// The same for a drawn implement: distances alone.
std::optional<double> predict_at(const DirectPlace& place, const Setup& setup, const DrawnModel& model);

/// The lists a reading can stand in.
enum class ObservationList { direct, pose, turn };

/// One reading of the set-up's lists.
struct Observation {
    std::string key;           ///< "direct_reading[low]", "pose_reading[2]"
    ObservationList list{};
    std::size_t index = 0;
    DirectPlace place;
    Dimension dimension = Dimension::length;
    double read = 0.0;
    double error = 0.0;        ///< two sigma; the usual one where the file says none
};

/// All readings of the lists for the implement as it is hitched.
std::vector<Observation> list_observations(const Setup& setup);

/// The same reading's place with the readings of `moved`: its ball height is a reading too.
DirectPlace find_place_of(const Observation& observation, const Setup& moved);

/// Dimension of what is read.
Dimension find_dimension(DirectKind kind);

/// Usual two-sigma error of taking it.
double find_usual_error(DirectKind kind);

}  // namespace hitchwright
