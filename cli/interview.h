// The dialogue behind "new": short questions in walking order, answered with a line each.
//
// The questions are the lines of a measuring card (card_lines.h), for the parts that are not taken from a preset.
// Each answer is checked by the same reader that will read the file; a wrong one is asked again with what is allowed.
// The end of the input ends the dialogue and loses nothing.
#pragma once

#include <iosfwd>
#include <string>

#include "presets/setup_draft.h"

namespace hitchwright {

/// What is not asked, because the command line said it already.
struct KnownAnswers {
    bool name = false, units = false, tractor = false, implement = false, driveline = false;
    bool kind = false;  ///< mounted or drawn, with or without a shaft
};

/// How a dialogue went.
struct InterviewResult {
    SetupDraft draft;
    std::size_t answered = 0;  ///< values typed, names included
    bool ended_early = false;  ///< the input ended, or the person said "quit"
};

/// Holds the dialogue. `folder`: where the file will stand, with its slash. Never throws for bad input.
InterviewResult hold_interview(std::istream& in, std::ostream& out, SetupDraft draft, const KnownAnswers& known,
                               const Library& library, const std::string& folder);

}  // namespace hitchwright
