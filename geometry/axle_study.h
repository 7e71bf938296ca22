// What the axles of a set-up carry, implement on the ground and raised, and the ballast that keeps the front one down.
//
// Masses at their places (axle_loads.h): the tractor's two axles empty, ballast, coupler, and the implement's centre of
// gravity, which moves fore and aft as it is lifted: the farthest place over the whole travel is bounded. A drawn
// implement puts its vertical load on the drawbar's pin. On the ground the implement carries itself. Static, level: no
// draught, slope or bumps.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "geometry/axle_loads.h"
#include "geometry/drawn_model.h"
#include "geometry/error_model.h"
#include "geometry/mounted_model.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// How the implement hangs on the tractor.
enum class LoadState {
    unhitched,  ///< tractor with its ballast alone
    on_ground,  ///< mounted: the implement stands on the ground, a coupler hangs on the links
    lowest,     ///< mounted: carried at the lowest height
    farthest,   ///< mounted: carried where its centre of gravity is farthest behind: least on the front axle
    highest,    ///< mounted: carried at the greatest height
    hitched     ///< drawn: its vertical load on the drawbar
};

/// Axle loads in one state, kg.
struct AxleState {
    LoadState state = LoadState::unhitched;
    double height = 0.0;  ///< ball height; mounted only
    double load_x = 0.0;  ///< where the implement's load acts behind the rear axle, m
    AxleLoads loads;
    bool operator==(const AxleState&) const = default;
};

/// Something the maker limits, with what it carries at most over the states.
enum class CarryingPart { front_axle, rear_axle, front_tyres, rear_tyres, whole_tractor };
struct CarriedLoad {
    CarryingPart part{};
    double most = 0.0;  ///< kg, in the state where it is most
    LoadState state{};
    double allowed = 0.0;  ///< kg
    ErrorBand band;        ///< kg, of `most` less `allowed`, which may have an error of its own
    bool operator==(const CarriedLoad&) const = default;
};

/// Front-axle share by one definition, in the lightest state.
struct FrontShare {
    LoadBase base{};
    double base_mass = 0.0;  ///< kg
    double share = 0.0;
    double wanted = 0.0;
    std::optional<double>
        ballast;  ///< kg in front altogether that keeps it (what is fitted counted in); nothing: none can
    bool operator==(const FrontShare&) const = default;
};

struct AxleStudy {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(AxleStudy);
    bool known = false;
    std::vector<std::string> missing;               ///< keys; with `known` false
    double tractor_empty = 0.0, wheelbase = 0.0;    ///< kg, m
    double front_empty = 0.0, rear_empty = 0.0;     ///< kg on the axles without ballast and implement
    double implement = 0.0;                         ///< kg carried: the implement, or the vertical load of a drawn one
    double coupler = 0.0;                           ///< kg; 0 without, or where nobody weighed it
    double front_ballast = 0.0, front_ahead = 0.0;  ///< kg, m ahead of the front axle
    double rear_ballast = 0.0, rear_behind = 0.0;   ///< kg, m behind the rear axle
    bool front_place_assumed = false;  ///< nobody said where front weights hang: at the front axle, where they do least
    bool cg_height_assumed = false;    ///< centre of gravity taken level with the lower pins
    bool coupler_mass_missing = false;  ///< a coupler is fitted and nobody weighed it: it counts for nothing
    bool ballast_breaks = false;  ///< the ballast that keeps the binding share breaks a limit of axle, tyres or tractor
    std::vector<AxleState> states;
    std::size_t lightest = 0;                    ///< state with the least front load
    std::array<FrontShare, 2> shares;            ///< tractor_empty, all_together
    LoadBase binding = LoadBase::tractor_empty;  ///< as the set-up says
    ErrorBand front_band;                        ///< of the least front load, kg
    ErrorBand share_band;  ///< of the share that binds; the tractor's own mass counts in both parts of it
    ErrorBand rear_band;   ///< of rear_share
    double rear_share = 0.0,
           rear_wanted = 0.0;  ///< of the tractor's empty mass, in the state with the least on the rear axle
    std::optional<double> rear_ballast_least;  ///< kg at the rear altogether that keeps it
    std::vector<CarriedLoad> carried;          ///< what has a limit
};

/// Axles of a mounted set-up, that of `errors`; needs a linkage that is ok.
AxleStudy study_axles(const ErrorModel& errors, const MountedModel& model);

/// Axles of a drawn set-up.
AxleStudy study_axles(const ErrorModel& errors, const DrawnModel& model);

}  // namespace hitchwright
