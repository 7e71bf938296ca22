// What the panel of inputs keeps between frames: what is looked for, which parts are open, what is to be gone to.
#pragma once

#include <map>
#include <set>
#include <string>

#include "geometry/setup_entries.h"

namespace hitchwright {

/// Why a reading is wanted that is not there.
enum class Wanted { for_the_verdict, for_a_question };

struct InputState {
    std::string find;              ///< words somebody looks for
    std::set<std::string> open;    ///< parts and lists that are unfolded
    std::string hint;              ///< key of the field whose hint stays open
    std::string keyed;             ///< key of the field that has the keyboard without being typed into: a choice, a switch
    int keyed_frame = -1;          ///< in which it had it last
    std::string go_to;             ///< key of the field to be shown and typed into; a list's key, too
    int tries = 0;                 ///< frames in which it was looked for
    std::set<std::string> shown;   ///< keys shown in this frame
    int revision = -1;             ///< of the results that `all` and `wanted` belong to
    SetupEntries all;
    std::map<std::string, Wanted> wanted;  ///< keys a finding misses, or a question
};

}  // namespace hitchwright
