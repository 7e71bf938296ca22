// How far one reading can be off before the answer is another one: the verdict of the set-up, or one finding.
//
// Method: the analysis is done anew with the reading at `scan_steps` values to either side, close together near the
// reading and farther apart away from it (step i of n lies at D (i/n)^2), then the first pair of neighbours between which
// the answer changes is halved until it is known to `precision`. The answer need not be monotone: it is looked at up to D,
// and `comes_back` says that the old answer holds again farther on. An island narrower than a step is not seen.
// D: ten times the reading's own error, else its usual one, else a quarter of its value; never past the range of the
// possible (setup_fields.h). A reading that at D to both sides leaves every finding as it is, to the last digit, is taken
// to have no part in the answer. Error and origin stay those of the reading. All SI.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/field_spec.h"

namespace hitchwright {

/// Values looked at on each side before halving.
inline constexpr int scan_steps = 8;

/// Which finding is meant: the worst of this kind about this part, whatever its number says.
struct FindingName {
    FindingKind kind{};
    std::string subject;
    bool operator==(const FindingName&) const = default;
};

/// The name of a finding.
FindingName name_finding(const Finding& finding);

/// How the finding of that name stands in an analysis; none: it is not among the findings.
std::optional<Severity> find_severity(const Analysis& analysis, const FindingName& name);

/// One side of a reading.
struct RoomSide {
    double searched = 0.0;    ///< how far was looked; 0: the reading stands at the end of its range
    bool changes = false;     ///< somewhere within it the answer is another one
    double holds = 0.0;       ///< up to here it is the same at every value looked at
    double changes_at = 0.0;  ///< here it is another one: `holds` and at most the precision more
    bool comes_back = false;  ///< farther on, within what was searched, the old one holds again
    Verdict verdict{};        ///< of the whole set-up there
    std::optional<Severity> severity;  ///< of the finding there; none: it is gone, or none was asked about
};

/// Both sides of one reading.
struct ReadingRoom {
    std::string key;
    Reading reading;
    FieldSpec spec{};
    double error = 0.0;      ///< of the reading: its own, else the usual one; 0: none is known
    double precision = 0.0;  ///< to which `changes_at` is found
    bool idle = false;       ///< it has no part in the answer: no finding moves by it
    RoomSide lower, higher;  ///< until the verdict changes
    bool asked_finding = false;
    RoomSide finding_lower, finding_higher;  ///< until the finding changes its severity or is gone
};

/// The search for all or some readings of a set-up, one analysis at a time, so that a window need not wait for it.
class RoomSearch {
public:
    RoomSearch(Setup setup, const Mark& mark, std::vector<std::string> keys, std::optional<FindingName> finding);

    /// Does one analysis. False: there is nothing left to do.
    bool step();
    bool finished() const { return place_ == keys_.size(); }
    std::size_t done() const { return place_; }
    std::size_t total() const { return keys_.size(); }
    /// The reading at hand; needs !finished().
    const std::string& key() const { return keys_[place_]; }
    /// Readings done so far, in the order of the keys.
    const std::vector<ReadingRoom>& rooms() const { return rooms_; }

private:
    /// The answer at one value.
    struct Seen {
        Verdict verdict{};
        std::optional<Severity> severity;
        bool untouched = false;  ///< every finding is as it was
    };
    struct Scan;

    const Seen* look(double change);
    bool find_room(ReadingRoom& room);
    bool scan(double reach, int sign, Scan& scan);
    template <class Same>
    bool find_side(const Scan& scan, int sign, double precision, const Same& same, RoomSide& side);

    Setup setup_;
    Mark mark_;
    std::vector<std::string> keys_;
    std::optional<FindingName> finding_;
    std::vector<Finding> now_;  ///< with everything as it is
    bool begun_ = false;
    std::size_t place_ = 0;
    ReadingRoom room_;             ///< of the reading at hand
    std::map<double, Seen> seen_;  ///< answers for the reading at hand, by its change
    std::optional<double> wanted_; ///< the change that has to be looked at next
    std::vector<ReadingRoom> rooms_;
};

/// Keys of the readings that can be looked at: all that are known, in the order of the files.
std::vector<std::string> list_room_keys(const Setup& setup);

/// Room of one reading; nothing for a key that is no known reading.
std::optional<ReadingRoom> find_reading_room(const Setup& setup, const Mark& mark, std::string_view key,
                                             const std::optional<FindingName>& finding = std::nullopt);

/// The smaller of both sides, of the finding where one was asked about; none: neither changes.
std::optional<double> find_least_room(const ReadingRoom& room);

/// True when `a` has less room for its error than `b`. Readings without an error come behind those with one, and
/// those that change nothing last.
bool is_tighter(const ReadingRoom& a, const ReadingRoom& b);

/// The setup with one reading at another value. False: there is no such reading.
bool move_reading(Setup& setup, std::string_view key, double value);

}  // namespace hitchwright
