// Undo and redo: whole snapshots of the inputs; everything else is computed anew from them.
#pragma once

#include <vector>

#include "geometry/setup.h"
#include "gui/edits.h"

namespace hitchwright {

/// The inputs at one moment.
struct Snapshot {
    Edits edits;
    Setup setup;  ///< the file with the edits
    bool operator==(const Snapshot&) const = default;
};

/// Inputs before and after the present ones.
struct History {
    std::vector<Snapshot> past, future;  ///< the nearest in time last

    /// Remembers what `now` was before a change; what had been undone is gone.
    void remember(Snapshot before) {
        past.push_back(std::move(before));
        if (past.size() > most_steps) past.erase(past.begin());
        future.clear();
    }
    /// Swaps the present with the step before it, or after it. False: there is none.
    bool step_back(Snapshot& now) { return step(past, future, now); }
    bool step_forward(Snapshot& now) { return step(future, past, now); }

private:
    static constexpr std::size_t most_steps = 500;
    static bool step(std::vector<Snapshot>& from, std::vector<Snapshot>& to, Snapshot& now) {
        if (from.empty()) return false;
        to.push_back(std::move(now));
        now = std::move(from.back());
        from.pop_back();
        return true;
    }
};

}  // namespace hitchwright
