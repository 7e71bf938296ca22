#include "report/card_words.h"

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

struct StationWords {
    Station station;
    std::string_view word, title, method;
    std::string_view drawn_method = {};  ///< of a drawn implement, where it is another
};

constexpr StationWords words[] = {
    {Station::rear_axle, "rear_axle", "Tractor: rear axle",
     "Hang a plumb line at the centre of the rear hub and mark the floor, left and right. The line between the marks is "
     "the hub mark: everything behind it is measured on the floor, from this line rearward."},
    {Station::lower_links, "lower_links", "Tractor: lower links",
     "To pin centres: to the near edge of a pin, plus half the pin. The front pin is hidden; take it twice, left and "
     "right."},
    {Station::upper_link, "upper_link", "Tractor: upper link",
     "Every hole of the bracket, named as the manual names them. Then the link itself: as it is now, screwed right in, "
     "and at its longest; count the turns of its body for a measured inch."},
    {Station::lift, "lift", "Tractor: lift arm and rod",
     "Not needed where ball heights are taped and the rods stay as they are. These are here because the set-up has "
     "values for them, which count."},
    {Station::pto, "pto", "Tractor: PTO stub",
     "The end of the stub is plumbed to the floor and measured back to the hub mark. Angle finder on the machined stub, "
     "zeroed on the floor."},
    {Station::drawbar, "drawbar", "Tractor: drawbar", "Its rearmost upper edge, in the place it will have at work.",
     "Hold a straight edge plumb against the end of the stub; from it level to the centre of the pin, for every position "
     "the drawbar can be pinned in. Its height to the upper face at the pin, the implement hitched. The load it may carry "
     "is on the tractor's plate or in its manual: never a guess."},
    {Station::front_axle, "front_axle", "Tractor: front axle",
     "Only for a ditch or ridge across the way. Wheels straight; to the middle of each tyre. The pin it rocks on is at the "
     "middle of the axle."},
    {Station::cab, "cab", "Tractor: rear of cab or ROPS",
     "The points a raised implement or its mast could touch, from top to bottom. None near: leave them empty."},
    {Station::add_on_parts, "add_on_parts", "Parts between tractor and implement",
     "Each by itself. A coupler stood upright on a level floor, a pin of the implement's size in each hook. A clutch or "
     "extender locked on the stub."},
    {Station::implement_pins, "implement_pins", "Implement: hitch pins",
     "Frame level, on the ground or on stands. Which pins, and whether bushings go with them."},
    {Station::mast, "mast", "Implement: mast",
     "Straight edge up from the line of the lower pins, square to the frame. Every hole. Pull the upper link by hand: "
     "does its pin have free travel at the mast?"},
    {Station::hitch_joint, "hitch_joint", "Implement: hitch joint",
     "All readings of the implement count from its middle: the centre of the ball, or half way up the tongue's eye on the "
     "pin. A ball lets it pitch and roll freely, a clevis by its free play only."},
    {Station::input, "input", "Implement: input shaft (PIC)",
     "Straight edge across the two lower pins, frame level. To the end of the shaft, not to its groove.",
     "To the end of the shaft that the shaft from the tractor is coupled to, not to its groove. Does it end at a bearing on "
     "the tongue, with a second shaft behind it? Then the set-up needs [implement.steady_bearing]."},
    {Station::tongue, "tongue", "Implement: tongue and frame from above",
     "Each straight bar that a rear tyre could meet in a turn: plumb both its ends to the floor and measure from the hitch "
     "pin. Its width with hoses, jack and guards on it."},
    {Station::outline, "outline", "Implement: points that could touch",
     "Front edge of the deck, top of the gearbox or mast, rear end: from the line of the lower pins, frame level."},
    {Station::contacts, "contacts", "Implement: what it stands on",
     "Wheel or roller: its axle. Skid or edge: the point that touches.",
     "Each axle, the front one first, the frame as level as at work. Without wheels the angle of the frame stands for them."},
    {Station::weight, "weight", "Implement: balance",
     "Pins on one scale, rear on another: what the rear scale shows, divided by what both show, times the distance from "
     "the pins to the rear scale. Or from the manual."},
    {Station::shaft, "shaft", "Shaft, on the bench",
     "Pushed fully home first, then pulled apart. Both ends between points of the same kind: joint centres, locking "
     "grooves, or shaft ends. For the joint offset slide each yoke over its machine's shaft until it locks, measure, "
     "pull it off."},
    {Station::coupled, "coupled", "Coupled, shaft off",
     "Implement on, holes and rods as they will be used. Three heights: lever right down, working, lever right up. At "
     "each, engine off again and the implement on stands or on the ground before anybody measures."},
    {Station::way, "way", "The way: turns, dips, ditch",
     "What the driver keeps to, not what the machine could do. Left open, the limits of the rule set hold. The tightest "
     "circle is driven without the implement. A ditch or ridge: board and angle finder for its sides, tape for depth and "
     "bottom."},
};

const StationWords& find_words(Station station) {
    for (const StationWords& w : words) {
        if (w.station == station) return w;
    }
    return words[0];
}

// Small things are read with a calliper, and 1/16 in says little about a pin.
bool is_fine(const FieldSpec& spec) {
    return spec.dimension == Dimension::length && spec.tolerance > 0.0 && spec.tolerance < metres_per_sixteenth / 2.0;
}

std::string format_value(double value, const FieldSpec& spec, UnitSystem units) {
    switch (spec.dimension) {
        case Dimension::length: return is_fine(spec) ? SafeWords{units}.fine(value) : format_length(value, units);
        case Dimension::angle: return format_angle(value);
        case Dimension::mass: return format_mass(value, units);
        case Dimension::force: return format_force(value, units);
        case Dimension::power: return format_power(value, units);
        case Dimension::rotation_speed: return format_rotation_speed(value);
        case Dimension::ratio: return format_ratio(value);
        case Dimension::pressure: return format_pressure(value, units);
        case Dimension::torque: return format_torque(value, units);
        case Dimension::count: return format_ratio(value, 0);
        case Dimension::length_per_turn: break;
    }
    return format_length(value, units, Rounding::nearest, MillimetrePlaces::tenth) + "/turn";
}

// "tractor.upper_link_pin[].x" -> "hole", "tractor.cab_line[].x" -> "point".
std::string_view item_word(std::string_view pattern) {
    if (pattern.find("drawbar_pin[]") != std::string_view::npos) return "position";
    if (pattern.find("_pin[]") != std::string_view::npos) return "hole";
    if (pattern.find("tongue_bar[]") != std::string_view::npos) return "bar";
    if (pattern.find("ground_contact[]") != std::string_view::npos) return "contact";
    if (pattern.find("_reading[]") != std::string_view::npos) return "reading";
    return "point";
}

}  // namespace

std::string_view station_title(Station station) { return find_words(station).title; }
std::string_view station_word(Station station) { return find_words(station).word; }
std::string_view station_method(Station station, bool drawn) {
    const StationWords& w = find_words(station);
    return drawn && !w.drawn_method.empty() ? w.drawn_method : w.method;
}

std::vector<std::string> station_cautions(Station station) {
    const auto said = [](Caution caution) { return std::string(caution_sentence(caution)); };
    switch (station) {
        case Station::lift:
            return {"Keep hands out from between arm, rod and link: they come down when pressure is let go."};
        case Station::pto: return {"Key out, PTO lever off, nothing turns: before a hand touches the stub."};
        case Station::add_on_parts:
            return {"A coupler stands safely or lies: it falls over easily. " + said(Caution::stop_before_touching)};
        case Station::implement_pins: return {said(Caution::never_under_raised)};
        case Station::hitch_joint:
            return {"Wheels chocked and the tongue on its jack before a pin is drawn: it can drop or fly up. Move it with a jack "
                    "or a bar, never with a hand below it.",
                    "The load: with a scale rated for it below the jack; nobody below or beside where the tongue would fall."};
        case Station::outline:
        case Station::contacts:
            return {"Measure beside it, not below it. " + said(Caution::never_under_raised)};
        case Station::weight:
            return {"Lift only with gear rated for more than its weight; nobody below or beside where it would fall."};
        case Station::shaft:
            return {"Never couple, slide or cut a shaft with the key in the tractor.",
                    "Hold both halves when they come apart: the heavier end drops. Lay it where it cannot roll."};
        case Station::way:
            return {"The circle: one person on the seat, alone; all others stand clear until the engine is off and the key is out.",
                    said(Caution::cross_ditches_slowly)};
        case Station::coupled:
            return {said(Caution::nobody_between),
                    "For the lever one person sits on the seat, alone at the controls; all others stand clear until the "
                    "engine is off, the key is out and the implement is on stands or on the ground."};
        default: break;
    }
    return {};
}

std::vector<std::string> opening_cautions() {
    std::vector<std::string> list;
    for (const Caution caution : {Caution::stop_before_touching, Caution::never_under_raised, Caution::nobody_between,
                                  Caution::manual_rules}) {
        list.emplace_back(caution_sentence(caution));
    }
    list.insert(list.begin() + 1, "Brake on. Wait until nothing turns.");
    return list;
}

std::string card_preparation(const Setup& setup) {
    const char* const coupled = setup.implement.attachment == Attachment::drawn
                                    ? "Implement hitched in the position it will be used in, straight behind the tractor, its "
                                      "wheels chocked"
                                    : "Implement coupled as it will be used, on the ground or on stands";
    const char* const tools = setup.implement.attachment == Attachment::drawn ? "chalk, chocks, a jack" : "chalk, two stands";
    return fmt::format("Hard, level floor; tyres at working pressure, left and right the same. {}{}. Tape, straight edge, plumb "
                       "line, angle finder, {}. To centres, not edges. Write down what you read and what you did not get: a gap "
                       "is better than a guess.",
                       coupled, has_shaft_job(setup) ? ", the shaft taken off" : "", tools);
}

std::string card_unit(const CardLine& line, UnitSystem units) {
    if (line.form != CardForm::quantity) return {};
    const bool inch = units == UnitSystem::inch;
    switch (line.spec.dimension) {
        case Dimension::length: return inch ? "in" : "mm";
        case Dimension::angle: return "deg";
        case Dimension::mass: return inch ? "lb" : "kg";
        case Dimension::force: return inch ? "lbf" : "N";
        case Dimension::power: return inch ? "hp" : "kW";
        case Dimension::rotation_speed: return "rpm";
        case Dimension::pressure: return inch ? "psi" : "kPa";
        case Dimension::torque: return inch ? "lbf ft" : "N m";
        case Dimension::count:
        case Dimension::ratio: return {};
        case Dimension::length_per_turn: break;
    }
    return inch ? "in/turn" : "mm/turn";
}

std::string card_error(const CardLine& line, UnitSystem units) {
    const FieldSpec& spec = line.spec;
    if (line.form != CardForm::quantity || !(spec.tolerance > 0.0)) return {};
    const bool fine = is_fine(spec) || spec.dimension == Dimension::length_per_turn;
    // Small errors in tenths; whole millimetres would make 1/16 in a third too large.
    const std::string shown = !fine && units == UnitSystem::inch && spec.dimension == Dimension::length
                                  ? format_inches(spec.tolerance)
                              : spec.dimension == Dimension::length && units == UnitSystem::millimetre
                                  ? format_millimetres(spec.tolerance, MillimetrePlaces::tenth)
                              : fine ? SafeWords{units}.fine(spec.tolerance)
                                     : format_value(spec.tolerance, spec, units);
    return "+-" + shown;
}

std::string card_value(const CardLine& line, UnitSystem units) {
    if (line.form != CardForm::quantity) return printable_text(line.text);
    if (!line.known) return {};
    return fmt::format("{}, {}", format_value(line.reading.value, line.spec, units), origin_word(line.reading.origin));
}

std::string card_question(const CardLine& line) {
    if (line.pattern.find("[]") == std::string::npos) return line.what;
    const std::string_view kind = item_word(line.pattern);
    if (line.blank_item) return fmt::format("{} ______: {}", kind, line.what);
    return fmt::format("{} {}: {}", kind, printable_text(line.item, 24), line.what);
}

std::string format_runs(const std::vector<int>& numbers) {
    std::string text;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        std::size_t end = i;
        while (end + 1 < numbers.size() && numbers[end + 1] == numbers[end] + 1) ++end;
        text += fmt::format("{}{}", text.empty() ? "" : ", ", numbers[i]);
        if (end > i) text += fmt::format("{}{}", end == i + 1 ? ", " : " to ", numbers[end]);
        i = end;
    }
    return text;
}

std::string card_title(const Setup& setup) {
    if (!setup.name.empty()) return printable_text(setup.name, 100);
    if (!setup.key.empty()) return printable_text(setup.key, 100);
    return fmt::format("{} implement {}", setup.implement.attachment == Attachment::drawn ? "drawn" : "mounted",
                       has_shaft_job(setup) ? "with a PTO shaft" : "without a shaft");
}

}  // namespace hitchwright
