// Every field of a set-up, known or not, with its key and what is known about it: what a form with all inputs shows.
//
// Built on the one list of fields (setup_fields.h), so that no key can be left out. Unlike a measuring card
// (card_lines.h), which asks for what a job needs, it has all that the set-up can say: decisions, names, figures of a plate.
// Fields of the other kind of implement are left out where nothing is known of them; so are those of an add-on part that
// the set-up does not list, but for its switch, and all of the shaft where there is none.
#pragma once

#include <string>
#include <vector>

#include "geometry/card_lines.h"

namespace hitchwright {

/// Part of the walk round the machine a field is shown in; stations in their order, then what is not measured.
struct EntryPlace {
    Station station = Station::none;  ///< none: the job, or the specification
    bool specification = false;
    bool operator==(const EntryPlace&) const = default;
};

/// One field.
struct SetupEntry {
    EntryPlace place;
    std::string key;      ///< as for --set
    std::string pattern;  ///< without what stands in brackets: tractor.upper_link_pin[].x
    std::string list;     ///< the list it is an item of: tractor.upper_link_pin; empty: none
    std::string item;     ///< name of the item, or its number from 1
    CardForm form = CardForm::quantity;
    FieldSpec spec{};     ///< of a quantity
    std::string what;     ///< from where to where, or what it is
    std::vector<std::string> words;  ///< of a word
    int least = 0, most = 0;         ///< of whole numbers
    bool known = false;
    Reading reading;   ///< of a quantity
    std::string text;  ///< of any other form
};

/// A list of the set-up.
struct EntryList {
    EntryPlace place;
    std::string key;   ///< tractor.upper_link_pin
    std::string what;  ///< what its items are
    std::vector<std::string> items;     ///< names, or numbers from 1
    std::vector<SetupEntry> new_item;   ///< what a further item must have: readings without a value; keys without brackets
};

/// Fields and lists.
struct SetupEntries {
    std::vector<SetupEntry> entries;  ///< in walking order, fields of an item together
    std::vector<EntryList> lists;     ///< in walking order
};

SetupEntries list_setup_entries(const Setup& setup);

}  // namespace hitchwright
