// The readings a set-up's job needs, in walking order round the machines: what a measuring card lists.
//
// Every field comes from the one list (setup_fields.h): key, usual error, who needs it, from where to where. Added
// here is only where somebody stands who takes it (station), and which readings the parts of this set-up make
// pointless: no shaft readings for a blade, no strap for a plain pin, no lift arm where ball heights are read.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "geometry/setup_fields.h"

namespace hitchwright {

/// Where somebody stands, in walking order.
enum class Station {
    rear_axle,
    lower_links,
    upper_link,
    lift,
    pto,
    drawbar,
    cab,
    add_on_parts,
    implement_pins,
    mast,
    input_shaft,
    outline,
    shaft_on_bench,
    coupled
};

/// What is written on the line of an item.
enum class ItemForm { reading, choice, whole, whole_list };

/// One thing to read, count or tick.
struct MeasuringItem {
    std::string key;    ///< as in files and `--set`: "tractor.upper_link_pin[2].z"; empty: checked, not typed in
    std::string plain;  ///< the key without names in brackets: "tractor.upper_link_pin.z"
    std::string item;   ///< name of the hole or point, for items of a list
    Station station = Station::rear_axle;
    ItemForm form = ItemForm::reading;
    std::string what;  ///< from where to where, or what is asked
    FieldSpec spec{Dimension::length, 0.0, 0.0, 0.0, Need::optional, ""};  ///< of a reading
    std::vector<std::string> words;  ///< of a choice, without "unknown"
    Reading reading;                 ///< of a reading: what is known so far
    std::string value;               ///< of the other forms: what is known so far; empty: nothing
    Origin origin = Origin::assumed; ///< of `value`
    bool required = false;           ///< an answer waits for it
    bool known() const { return form == ItemForm::reading ? reading.known : !value.empty(); }
    /// Required and not there.
    bool needed() const { return required && !known(); }
};

/// Dotted keys that somebody gave a value to, with its origin: tells a word that was typed from one nobody chose.
using GivenKeys = std::map<std::string, Origin>;

/// Which parts decide what has to be read.
struct MeasuringJob {
    bool mounted = true;
    bool driven = false;        ///< a PTO shaft belongs to it
    bool lift_by_arm = false;   ///< ball heights are not read, the lift arm is
    bool overlap_only = false;  ///< the tubes are not read, the closed overlap is
};

/// The job of a set-up.
MeasuringJob find_measuring_job(const Setup& setup);

/// All items the job needs, by station and within one in file order. A list nobody filled in yet has a few empty items.
std::vector<MeasuringItem> list_measuring_items(const Setup& setup, const GivenKeys& given);

/// "tractor.upper_link_pin[2].z" as "tractor.upper_link_pin.z".
std::string find_plain_key(const std::string& key);

}  // namespace hitchwright
