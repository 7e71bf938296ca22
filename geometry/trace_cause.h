// What can be otherwise on a machine than its set-up says: every reading, and the usual slips, each with its weight.
//
// A cause is one single change. Readings and things set by hand are out by an amount, weighed against their tolerance
// (two sigma); slips (another hole, a cut forgotten) are either so or not. A weight says how often that kind of thing
// turns out to be the cause, against 1 for a reading taken wrong. All weights, and how far out a wrong reading usually
// is, are judgement: grade P, no source; they order causes that what is seen cannot tell apart, and
// docs/theory/trace.md lists them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/trace_machine.h"

namespace hitchwright {

/// Kinds of causes. Up to `stop_moved` out by an amount.
enum class CauseKind {
    reading,      ///< a reading of the set-up is wrong, or has changed since it was taken
    link_turned,  ///< the upper link has another length than believed
    rod_changed,  ///< lift rod turned, or its foot moved along the link, since heights were taped
    rear_tyre,    ///< rear tyres stand at another radius than when heights were taped
    front_tyre,
    cut_made,      ///< another cut came off a half of the shaft
    stop_moved,    ///< a stop of the lift stands elsewhere
    tractor_hole,  ///< upper link in another hole of the tractor
    mast_hole,     ///< of the mast
    rod_hole,      ///< lift rod in another hole of the lower link
    drawbar_position,
    cut_forgotten,  ///< the cuts of the set-up were not made
    one_half_cut,   ///< only one of the two halves was cut
    shaft_points,   ///< the shaft was measured between other points than stated
    part_missing,   ///< an add-on part of the set-up is not on the machine
    part_fitted,    ///< one that is switched off is
    sign_slip,      ///< a reading was taken to the other side
    float_blocked   ///< slot, chain or strap does not move
};
constexpr bool is_by_amount(CauseKind kind) { return kind <= CauseKind::stop_moved; }

/// Fixed word of a kind.
std::string_view cause_word(CauseKind kind);

/// One single change.
struct Cause {
    CauseKind kind{};
    std::string key;       ///< of the reading or choice that is otherwise
    std::string from, to;  ///< not by amount: as believed, and instead
    std::string place;     ///< of a list: what a person calls the item
    Dimension dimension = Dimension::length;
    double believed = 0.0;           ///< by amount: SI
    double tolerance = 0.0;          ///< two sigma of it
    double least = 0.0, most = 0.0;  ///< possible values
    double usual_size = 0.0;  ///< by amount: when it is otherwise, it is so by more than this in one case of two, SI
    double weight = 1.0;

    bool operator==(const Cause&) const = default;
};

/// A change that cannot be tried, and the key for want of which.
struct CauseNotTried {
    CauseKind kind{};
    std::string key;
};

struct CauseList {
    std::vector<Cause> causes;
    std::vector<CauseNotTried> not_tried;
};

/// All causes of a believed machine, readings in file order, slips behind them. `loads`: masses and forces of the lift too,
/// which move nothing that is measured with a tape.
CauseList list_causes(const TraceMachine& believed, bool loads = false);

/// Weight of a kind, shared by its alternatives. Judgement.
double find_cause_weight(CauseKind kind);

/// A wrong reading is out by more than this many tolerances in one case of two (Cauchy's distribution, which has a long
/// tail: any size happens). Judgement.
inline constexpr double usual_blunder = 3.0;

/// The same in SI for a cause of this kind: what is set by hand or changes by itself has sizes of its own. Judgement.
double find_usual_size(CauseKind kind, double tolerance);

/// The machine with a cause on it. `change`: SI, added to what is believed; not by amount: ignored.
TraceMachine change_machine(const TraceMachine& believed, const Cause& cause, double change);

/// A machine on which causes are put and taken off again.
class TraceBench {
public:
    explicit TraceBench(const TraceMachine& believed);
    TraceBench(const TraceBench&) = delete;
    TraceBench& operator=(const TraceBench&) = delete;

    /// What would be seen with `cause` out by `change`, as change_machine.
    std::vector<std::optional<double>> see(const Cause& cause, double change, std::span<const Seen> seen);
    /// The same with nothing changed.
    std::vector<std::optional<double>> see(std::span<const Seen> seen) { return predict_seen(work_, seen); }

    const TraceMachine& believed() const { return work_; }

private:
    Reading* find(const std::string& key);

    TraceMachine work_;
    std::vector<std::pair<std::string, Reading*>> readings_;
};

}  // namespace hitchwright
