// What the window changed against the file: value by value, with the verdict and the findings before and after, as
// `hitchwright diff` compares two set-ups. Nothing here draws.
#pragma once

#include <string>
#include <vector>

#include "gui/app_state.h"

namespace hitchwright {

/// One edit of the window.
struct ChangedValue {
    std::string key;                   ///< of the edit, "rules" for the rule set
    std::string what;                  ///< in words, from where to where; empty: the key says it
    std::string was, is;               ///< in the file, and now
    std::vector<std::string> with_it;  ///< other values that changed by it: those of another shaft, of other rules
};

/// Everything that is not as in the file.
struct ChangeList {
    std::string verdict_before, verdict_now;  ///< sentences
    std::vector<ChangedValue> values;         ///< in the order of the edits, rules last
    std::vector<std::string> unexplained;     ///< values that differ though no edit of the window touches them
    std::vector<std::string> findings;        ///< new, gone, or in other words
    std::string message;                      ///< why nothing can be compared; empty: it was
};

/// Reads the file anew; takes as long as an analysis.
ChangeList list_changes(const AppState& app);

/// The same, made anew only when set-up or units are others.
const ChangeList& shown_changes(AppState& app);

/// Takes one edit back: the file's value counts again. With the shaft go its cuts and values, as they came.
std::vector<Problem> take_back(AppState& app, const std::string& key);

}  // namespace hitchwright
