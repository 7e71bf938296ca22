// What can be seen at a machine, as a list to tick: each with the words of `trace --seen` that say it, so that a window
// and the command line mean the same.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "geometry/setup.h"
#include "geometry/trace_seen.h"

namespace hitchwright {

/// One thing that can be seen. With a number it is measured, else a complaint.
struct SeenItem {
    SeenKind kind{};
    const char* words;   ///< for the list: "Tail of the implement too high or too low"
    const char* phrase;  ///< of `--seen`: "tail"
    const char* more = nullptr;  ///< sense of the number: "high"; with neither the number is what was read itself
    const char* less = nullptr;
    bool mounted = true, drawn = true;  ///< implements it can be seen on
    bool at_lift = true;  ///< where along the lift matters
};

/// All of them: measured ones first.
std::span<const SeenItem> seen_items();
bool is_there(const SeenItem& item, const Setup& setup);

/// A place it can have been seen at, with its words of `--seen`; the first, with empty words, leaves it open.
struct SeenSpot {
    const char* words;
    const char* phrase;
};
std::vector<SeenSpot> list_spots(const SeenItem& item, const Setup& setup);

/// The text for `--seen`: "tail 3 in high at working height". `number` as typed; `more` chooses between the senses.
std::string compose_seen(const SeenItem& item, const std::string& number, bool more, const SeenSpot& spot);

}  // namespace hitchwright
