// Readings taken once more: checked as --set checks them, and compared with what the set-up has. Nothing is changed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/recheck_list.h"
#include "presets/library.h"
#include "presets/load_setup.h"
#include "presets/problem.h"
#include "presets/reading_log.h"
#include "presets/setup_values.h"

namespace hitchwright {

/// What a value taken once more says.
enum class RecheckOutcome {
    within_error,  ///< the errors of both readings explain what they differ by
    moved,         ///< they do not
    not_measured,  ///< the value before was no reading of this machine: a movement cannot be told
    not_known,     ///< there was no value before
    same,          ///< a word or name, as it was
    other          ///< another word or name
};

/// "within_error", "moved", ...
std::string_view recheck_outcome_word(RecheckOutcome outcome);

/// One value taken once more.
struct RecheckedValue {
    std::string key, typed;
    FieldNote note;                           ///< of the value in effect; `file` empty: nobody gave one
    std::optional<SetupValue> before, after;  ///< `before` empty: not known
    std::optional<LogEntry> earlier;   ///< entry of the log it is compared with, where the set-up's was not measured
    std::optional<Movement> movement;  ///< of two readings; empty: words, names, or no value before
    RecheckOutcome outcome = RecheckOutcome::not_known;
};

/// All of them, or all problems: of the values, else of the set-up's files.
struct RecheckedValues {
    std::vector<RecheckedValue> values;  ///< in the order typed
    LoadedSetup setup;                   ///< as it is
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// Compares each "KEY=VALUE" with the set-up; where nobody measured that value on this machine, with the last entry of
/// the log. A value typed without error has that of taking it again (find_retake_error).
RecheckedValues recheck_values(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                               const std::vector<LogEntry>& log = {});

/// The last entry of a key; null: there is none.
const LogEntry* find_last_entry(const std::vector<LogEntry>& log, const std::string& key);

}  // namespace hitchwright
