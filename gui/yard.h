// The yard: one's own tractors, implements and shafts, and the built-in examples; pairing one of each, and putting
// those of the set-up shown among one's own. Nothing here draws.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/shaft_cut.h"
#include "presets/file_kind.h"
#include "presets/library.h"
#include "report/format_length.h"

namespace hitchwright {

struct AppState;

/// A machine of the yard.
struct YardMachine {
    std::string key, title;
    bool own = false;  ///< from the user's folder; else built in, an example
};

struct YardLists {
    std::vector<YardMachine> tractors, implements, drivelines;  ///< one's own first
};

/// Which of each; an empty driveline: none.
struct YardChoice {
    std::string tractor, implement, driveline;
    bool operator==(const YardChoice&) const = default;
};

/// What a pairing comes to.
struct YardAnswer {
    std::string verdict;  ///< the sentence of `fit`, holes chosen by their rank; empty: it cannot be judged
    std::vector<std::string>
        words;          ///< is the pair worth trying, in how many holes it closes, which were taken, what is wrong
    std::string text;   ///< of the set-up; empty: there is none
    std::string title;  ///< what to call it
};

struct YardView {
    YardChoice choice;
    std::string own_key;                ///< name under which a machine of the set-up is to be put into the yard
    std::string message;                ///< what came of it
    FileKind kind = FileKind::tractor;  ///< of the machine to be put there
    bool asks_name = false;
    /// Lists and answer with what they were made from.
    std::shared_ptr<const YardLists> lists;
    std::shared_ptr<const YardAnswer> answer;
    YardChoice answered;
    UnitSystem units = UnitSystem::inch;
};

YardLists list_yard(const Library& library);

/// Pairs one of each: the set-up as `hitchwright new` would begin it, with the holes that stand first.
YardAnswer try_pairing(const Library& library, const YardChoice& choice, const Mark& mark, UnitSystem units);

/// Opens the pairing as a set-up that has no file yet, unless changes are not saved: then the window asks first.
void open_pairing(AppState& app, const YardAnswer& answer);

/// Puts tractor, implement or driveline of the set-up shown, as it now is, into the user's folder under that name.
/// Never over something that exists. Empty: written; else why not, in a sentence.
std::string put_into_yard(AppState& app, FileKind kind, const std::string& key);

/// A name for it that is free: its own, else with a number.
std::string propose_yard_key(const AppState& app, FileKind kind);

}  // namespace hitchwright
