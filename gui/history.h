// Undo and redo without a limit: every state of the inputs is kept, and what two neighbours have in common only once.
#pragma once

#include <memory>
#include <vector>

#include "geometry/setup.h"
#include "gui/edits.h"
#include "presets/field_note.h"

namespace hitchwright {

/// The inputs at one moment.
struct Snapshot {
    Edits edits;
    Setup setup;  ///< the file with the edits
    FieldNotes notes = {};  ///< where its values are from, and how they were typed
    /// Where something stands in a file is no change of the set-up.
    bool operator==(const Snapshot& o) const { return edits == o.edits && setup == o.setup; }
};

/// What of a set-up is short.
struct SetupHead {
    std::string key, name, note;
    JobDetails job;
    bool has_driveline = false;
    bool operator==(const SetupHead&) const = default;
};

/// A snapshot in parts, each shared with the step kept before it where they are the same. A change touches one or two
/// of them, so a step costs its list of edits and little else.
struct KeptStep {
    template <class T>
    using Shared = std::shared_ptr<const T>;
    Edits edits;
    Shared<SetupHead> head;
    Shared<Tractor> tractor;
    Shared<Implement> implement;
    Shared<Driveline> driveline;
    Shared<RuleSet> rules;
    Shared<Choices> choices;
    Shared<std::vector<DirectReading>> direct_readings;
    Shared<std::vector<PoseReading>> pose_readings;
    Shared<std::vector<TurnReading>> turn_readings;
    Shared<std::vector<SpecificationLine>> specification;
    Shared<Parts> parts;
    Shared<FieldNotes> notes;
};

/// The snapshot in parts. `neighbour`: a step to share parts with; may be null.
KeptStep keep_step(Snapshot snapshot, const KeptStep* neighbour);
/// And whole again, equal to what was kept.
Snapshot restore_step(const KeptStep& step);

/// Inputs before and after the present ones.
struct History {
    std::vector<KeptStep> past, future;  ///< the nearest in time last

    /// Remembers what `now` was before a change; what had been undone is gone.
    void remember(Snapshot before);
    /// Swaps the present with the step before it, or after it. False: there is none.
    bool step_back(Snapshot& now) { return step(past, future, now); }
    bool step_forward(Snapshot& now) { return step(future, past, now); }

private:
    static bool step(std::vector<KeptStep>& from, std::vector<KeptStep>& to, Snapshot& now);
};

}  // namespace hitchwright
