// The readings a job needs, in walking order round the machine: what a measuring card shows and a dialogue asks for.
//
// Method: the one list of fields (setup_fields.h) is visited with its facts: where one stands (Station), which jobs ask
// (Asked), who needs it (Need), what the set-up has fitted and what it already knows. Lists that are empty, or that are
// still being filled, get a blank item. The order is that of the stations, within one that of the list of fields.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/setup_fields.h"

namespace hitchwright {

/// What is written on a line.
enum class CardForm {
    quantity,    ///< a value with its unit
    word,        ///< one of some words
    whole,       ///< a whole number, counted or read off a plate
    whole_list,  ///< several of them
    name,        ///< the name of a hole or point, as it is called on the machine
    flag         ///< true or false
};

/// One line of a card.
struct CardLine {
    int number = 0;  ///< from 1, in walking order; sketches use the same
    Station station = Station::none;
    std::string key;      ///< as for `--set`; a blank item stands under its place: tractor.upper_link_pin[1].x
    std::string pattern;  ///< the key with nothing in its brackets: tractor.upper_link_pin[].x
    std::string item;     ///< name of the hole or point; empty: none, or a blank item
    bool blank_item = false;
    CardForm form = CardForm::quantity;
    FieldSpec spec{};  ///< of a quantity
    std::string what;  ///< from where to where, or what to look for
    std::vector<std::string> words;  ///< of a word or a flag, in the order of the file form
    int least = 0, most = 0;         ///< of whole numbers
    bool needed = false;             ///< an answer of this job cannot be given without it
    bool known = false;              ///< the set-up has a value
    Reading reading;                 ///< the value of a quantity
    std::string text;                ///< the value of any other form

    /// Needed, and nobody gave a value.
    bool missing() const { return needed && !known; }
};

/// Which items of lists are shown besides those the set-up has.
enum class BlankItems {
    where_empty,  ///< a printed card: room for some where the list is empty
    one_more      ///< a dialogue: one behind the last
};

/// The lines of a card for the set-up.
std::vector<CardLine> list_card_lines(const Setup& setup, BlankItems blanks = BlankItems::where_empty);

/// True when the job has a PTO shaft: the implement has an input, or the set-up names a driveline.
bool has_shaft_job(const Setup& setup);

/// True for the lines of a drawn implement.
bool is_drawn_card(const std::vector<CardLine>& lines);

/// A set-up in which nothing is known, with or without a PTO input.
Setup make_blank_setup(bool with_shaft, Attachment attachment = Attachment::mounted);

}  // namespace hitchwright
