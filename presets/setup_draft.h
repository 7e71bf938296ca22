// A set-up file in the making: what was answered so far, and the file it becomes.
//
// Every field of setup_fields.h gets a comment (what it is, from where to where, unit, usual error) and stands as
// `key = value` when it was answered, else as a comment to be filled in. A hole or point that lacks a value its item
// must have stands as a comment whole, with what was typed, so that the file can always be read. Keys are those of
// `--set` with items by their place: tractor.upper_link_pin[1].x.
#pragma once

#include <map>
#include <string>

#include "geometry/setup.h"
#include "presets/load_setup.h"

namespace hitchwright {

/// What is known of a set-up that is being written.
struct SetupDraft {
    std::string unit = "in";  ///< of bare lengths in the file: "in" or "mm"
    std::string name;
    std::string rules;      ///< empty: general, of a drawn implement drawn-machine
    std::string tractor;    ///< preset or path to use; empty: measured
    std::string implement;  ///< the same
    std::string driveline;  ///< the same; meaningful with `with_driveline`
    bool with_pto = true;        ///< a measured implement has a PTO input
    bool drawn = false;  ///< the implement is on the drawbar: its keys are listed, not those of the three-point hitch
    bool with_steady_bearing = false;  ///< drawn, measured: the shaft ends at a bearing on the tongue
    bool with_ditch = false;           ///< drawn: a ditch or ridge is to be judged
    bool choose_pin = false;           ///< drawn: the tractor's file has several positions of the pin
    bool with_driveline = true;  ///< the set-up has a driveline
    std::map<std::string, std::string> answers;  ///< key by place -> what was typed

    bool operator==(const SetupDraft&) const = default;
};

/// The file. Ends in a line end.
std::string format_setup_draft(const SetupDraft& draft);

/// The file read back, as if it stood in `folder` (with its slash; empty: the working folder).
LoadedSetup load_setup_draft(const SetupDraft& draft, const Library& library, const std::string& folder);

/// True when the implement that the draft uses has a PTO input; for a measured one what the draft says.
bool has_driven_implement(const SetupDraft& draft, const Library& library, const std::string& folder);

/// True when the implement that the draft uses is on the drawbar; for a measured one what the draft says.
bool has_drawn_implement(const SetupDraft& draft, const Library& library, const std::string& folder);

/// True when a drawn job has several positions of the drawbar's pin to choose from.
bool needs_pin_chosen(const SetupDraft& draft, const Library& library, const std::string& folder);

/// Says how a measured implement is hitched.
void set_attachment(SetupDraft& draft, bool drawn);

/// The set-up as far as it is known, for choosing what to ask next: presets read, answered kinds and counts of items
/// taken over, items nameless and by their place. Answered readings are known, their values are of no meaning.
Setup make_draft_specimen(const SetupDraft& draft, const LoadedSetup& loaded);

/// A text as a TOML basic string with its quotes.
std::string quote_toml(const std::string& text);

}  // namespace hitchwright
