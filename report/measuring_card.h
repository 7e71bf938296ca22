// A measuring card: the readings a job needs as numbered lines in walking order, and its form for a terminal.
#pragma once

#include <string>
#include <vector>

#include "geometry/measuring_round.h"
#include "report/text_layout.h"

namespace hitchwright {

/// One numbered line.
struct CardLine {
    int number = 0;  ///< from 1, as in the sketches
    MeasuringItem item;
};

/// The lines of one station.
struct CardSection {
    Station station = Station::rear_axle;
    std::vector<CardLine> lines;
};

/// The whole card.
struct MeasuringCard {
    std::string title;     ///< the set-up's name; printable
    std::string subtitle;  ///< its machines; printable
    bool driven = false;   ///< a PTO shaft belongs to it
    bool blank = false;    ///< values known so far are not shown
    std::vector<CardSection> sections;
};

/// The card of a set-up; `given`: see list_measuring_items.
MeasuringCard make_measuring_card(const Setup& setup, const GivenKeys& given, bool blank);

/// Numbers of the lines an answer waits for, "3, 7, 12-14"; empty: none.
std::string format_needed_numbers(const MeasuringCard& card);

/// How to read and to use the card, sentence by sentence, above the lines of every form of it.
std::vector<std::string> list_card_notes(const MeasuringCard& card);

/// The card as text.
std::string format_measuring_card(const MeasuringCard& card, const TextStyle& style);

}  // namespace hitchwright
