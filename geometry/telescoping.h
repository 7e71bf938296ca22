// The two telescoping halves of a shaft: closed length, overlap, bottoming, cutting, and their guard tubes.
//
//   joint A |--root--[=========== tube a ===========]
//                        [=========== tube b ===========]--root--| joint B
//           |<------------------------- S ------------------------->|
//
// A free tube runs from its root (where it leaves yoke or bell) to its end. Pushed home, the longer tube meets the
// other half's root: closed length S_0 = rho + max(t_a, t_b), with rho the two roots brought together. Overlap at a
// length S between joint centres is O(S) = rho + t_a + t_b - S = S_0 + min(t_a, t_b) - S; below 0 the halves are apart
// by that much. Half a is the tractor's, half b the implement's. All lengths in m, S between joint centres.
//
// The sense of a cut of X: X comes off EACH half, both tubes and both guard tubes. With equal halves the closed length
// falls by X and the overlap at a given length by 2 X. With unequal halves only the longer is cut up to their
// difference; beyond it both are.
#pragma once

#include <optional>

namespace hitchwright {

/// The two halves as they are.
struct TelescopingHalves {
    double closed_length = 0.0;  ///< S_0, m between joint centres, pushed home
    double tube_a = 0.0;         ///< m, free tube of the tractor half, root to end
    double tube_b = 0.0;         ///< m, free tube of the implement half, root to end

    bool operator==(const TelescopingHalves&) const = default;
};

/// What is wrong with halves, or with readings of them.
enum class HalvesStatus {
    ok,
    not_finite,
    length_not_positive,        ///< closed length or a tube is not above 0
    tube_longer_than_shaft,     ///< a free tube is longer than the closed shaft: rho would be below 0
    overlap_longer_than_tube,   ///< the closed overlap exceeds a tube that is given
    overlap_disagrees,          ///< both tubes and the closed overlap are given and differ by more than 3 mm
    longest_not_beyond_closed,  ///< the longest usable length is not above the closed length
    longest_beyond_tubes,       ///< at the longest usable length the tubes as given would have parted
    nothing_known               ///< neither tubes, nor closed overlap, nor longest usable length
};

/// ok, or the first thing wrong with the halves.
HalvesStatus check_halves(const TelescopingHalves& halves);

/// rho = S_0 - max(t_a, t_b): distance of the joint centres if both tubes had no length (m).
double find_root_length(const TelescopingHalves& halves);

/// Overlap of the tubes at `length` between joint centres (m); negative: the halves are apart by that much.
double find_overlap(const TelescopingHalves& halves, double length);

/// Gap left before the halves bottom at `length` (m); negative: the shaft cannot be that short.
double find_gap(const TelescopingHalves& halves, double length);

/// True when the shaft bottoms at `length`, keeping `gap` (m, >= 0) free.
bool bottoms_out(const TelescopingHalves& halves, double length, double gap = 0.0);

/// What comes off each half (m).
struct CutPair {
    double a = 0.0;  ///< tractor half: tube and guard tube
    double b = 0.0;  ///< implement half: tube and guard tube

    bool operator==(const CutPair&) const = default;
};

/// Whether a cut can be made at all.
enum class CutStatus {
    ok,
    not_finite,
    negative,   ///< a cut is below 0
    whole_tube  ///< a cut leaves nothing of a tube
};

/// Halves after a cut; the halves as given unless status is ok.
struct CutHalves {
    CutStatus status = CutStatus::not_finite;
    TelescopingHalves halves;

    bool operator==(const CutHalves&) const = default;
};

/// Halves after taking `cut` off: tubes shorter, roots as they were.
CutHalves cut_halves(const TelescopingHalves& halves, const CutPair& cut);

/// Cuts that bring the closed length down to `target_closed_length` (m), each the least: c = max(0, rho + t - target).
/// May exceed the tubes: `cut_halves` then refuses them.
CutPair find_cuts_for_closed_length(const TelescopingHalves& halves, double target_closed_length);

/// What was assumed because it was not measured. Shown with every result that rests on it.
enum class HalvesAssumption {
    none,                       ///< both tubes measured
    equal_halves,               ///< equal halves with the measured closed overlap: t_a = t_b = O_0
    equal_halves_from_longest,  ///< as before, O_0 = 2 (longest usable - closed): the table's longest leaves half
                                ///< of the overlap and is never the point of separation
    other_tube_from_overlap,    ///< one tube measured: the other taken as the closed overlap
    other_tube_from_longest,    ///< one tube measured: the other taken as 2 (longest usable - closed)
    other_tube_equal            ///< one tube measured and nothing else: the other taken as equal
};

/// What is known of a shaft, all between joint centres (m). Nothing: not measured.
struct HalvesReadings {
    double closed_length = 0.0;
    std::optional<double> tube_a, tube_b;
    std::optional<double> overlap_closed;  ///< overlap when pushed home
    std::optional<double> longest_usable;  ///< a supplier's table's longest length in use

    bool operator==(const HalvesReadings&) const = default;
};

/// Halves built from readings, with what had to be assumed. `halves` is zero unless status is ok.
struct AssumedHalves {
    HalvesStatus status = HalvesStatus::nothing_known;
    HalvesAssumption assumption = HalvesAssumption::none;
    TelescopingHalves halves;

    bool operator==(const AssumedHalves&) const = default;
};

/// Halves from what is known. Measured tubes come first, then the closed overlap, then the table's longest length.
AssumedHalves make_halves(const HalvesReadings& readings);

/// Guard halves (taken as equal) from the joint centre distance at which the guards bottom and the guard overlap that
/// shows when the SHAFT is pushed home (m).
AssumedHalves make_guard_halves(double guard_closed_length, double overlap_with_shaft_closed,
                                double shaft_closed_length);

/// How the guard tubes do over a travel. They telescope like the tubes, with lengths of their own.
struct GuardResult {
    HalvesStatus status = HalvesStatus::nothing_known;  ///< of the guard's halves; nothing else holds unless ok
    bool bottom_before_steel = false;                   ///< true: the guards meet before the tubes do
    double gap_at_shortest = 0.0;     ///< m left before the guards meet at the shortest length; negative: they clash
    double overlap_at_longest = 0.0;  ///< m of guard overlap at the longest length; negative: bare shaft

    bool operator==(const GuardResult&) const = default;
};

/// Guard tubes `guard` (closed length = joint centre distance at which they bottom) over a shaft's travel from
/// `shortest` to `longest` (m between joint centres). Cut guards with `cut_halves`, like the tubes they cover.
GuardResult check_guard_tubes(const TelescopingHalves& steel, const TelescopingHalves& guard, double shortest,
                              double longest);

}  // namespace hitchwright
