// What the present set-up (B) is compared with (A), and what is only looked at for a moment: the holes under the
// cursor.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/hole_numbers.h"
#include "geometry/variant.h"
#include "gui/edits.h"
#include "report/format_length.h"

namespace hitchwright {

struct SetupDifference;

/// A set-up with its answer, kept apart from the one in the window.
struct KeptSetup {
    std::string name;   ///< as opened: preset or path
    std::string draft;  ///< text of a set-up that is in no file; `name` is what it is called then
    std::string title;  ///< what to call it
    Edits edits;        ///< over the file
    Setup setup;
    Analysis analysis;
};

/// What is one switch away, as far as it was looked for.
struct SwitchState {
    int revision = -1;  ///< of the results they belong to
    bool wanted = false;  ///< the list is on the screen
    std::vector<Variant> variants;
    std::vector<VariantAnswer> answers;  ///< of the first of them
};

struct CompareState {
    std::optional<KeptSetup> a;
    int kept = 0;                            ///< counts up whenever `a` is another
    std::optional<HoleCombination> hovered;  ///< holes under the cursor, drawn as a ghost while they are
    std::string typed;                       ///< name of another set-up, as typed
    std::string message;                     ///< why it was not kept
    /// What the table shows, with what it was made from.
    std::shared_ptr<const SetupDifference> difference;
    int difference_revision = -1, difference_kept = -1;
    UnitSystem difference_units = UnitSystem::inch;
    SwitchState switches;
};

}  // namespace hitchwright
