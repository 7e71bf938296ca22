// See measuring_words.h.
#include "report/measuring_words.h"

#include <fmt/format.h>

#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr double fine_error = 1e-3;  // m; lengths read finer than this are no tape readings

struct StationWords {
    Station station;
    std::string_view title, method;
};

constexpr StationWords stations[] = {
    {Station::rear_axle, "Rear axle of the tractor",
     "Hard level floor, tyres at working pressure and equal. Plumb the rear hub centre to the floor on both sides; the line between the two marks is the hub mark."},
    {Station::lower_links, "Lower links",
     "Pin centres, not edges: to the near edge, plus half the pin. The front pins are hidden: take each twice, both sides, and average."},
    {Station::upper_link, "Upper-link holes and upper link",
     "Every hole of the bracket, named as the manual names it. Plumb each to the floor and measure back to the hub mark."},
    {Station::lift, "Lift: ball heights",
     "Implement on. Somebody on the seat, alone, moves the lever; then engine off, implement down or on stands, and only then the tape."},
    {Station::pto, "PTO stub", "Plumb the end of the stub to the floor, measure back to the hub mark. Read the plate; count the splines."},
    {Station::drawbar, "Drawbar", "As it will stand while this implement works."},
    {Station::cab, "Cab, window or ROPS at the rear", "The points that stand out furthest to the rear, from top to bottom."},
    {Station::add_on_parts, "Parts between tractor and implement", "Each part as it will be used, its latches closed."},
    {Station::implement_pins, "Lower pins of the implement", "Implement on the ground or on stands, frame level."},
    {Station::mast, "Mast", "Lay a straight edge across the two lower pins and another up from them, square to the frame."},
    {Station::input_shaft, "Input shaft of the implement",
     "From the straight edge across the lower pins, frame level: back to the END of the shaft and up to its centre."},
    {Station::outline, "Outline, ground contact, centre of gravity",
     "From the line of the lower pins, frame level; behind and above are positive. Points that could touch something, then what stands on the ground."},
    {Station::shaft_on_bench, "The shaft, on the bench",
     "Pushed fully home, the length between two points of the same kind at both ends, and write down which. Pull the halves apart for the tubes."},
    {Station::coupled, "Coupled: as it works, and at three heights",
     "Each time engine off and the implement on the ground or on stands."},
};

const StationWords& words_of(Station station) {
    for (const StationWords& words : stations) {
        if (words.station == station) return words;
    }
    return stations[0];
}

bool is_fine(const FieldSpec& spec) {
    return spec.dimension == Dimension::length && spec.tolerance > 0.0 && spec.tolerance < fine_error;
}

std::string format_value(double value, const FieldSpec& spec, UnitSystem units, Rounding rounding) {
    const SafeWords words{units};
    switch (spec.dimension) {
        case Dimension::length:
            if (is_fine(spec)) return words.fine(value);
            return format_length(value, units, rounding, MillimetrePlaces::tenth);
        case Dimension::angle: return format_angle(value, rounding);
        case Dimension::mass: return format_mass(value, units);
        case Dimension::force: return format_force(value, units);
        case Dimension::power: return format_power(value, units);
        case Dimension::rotation_speed: return format_rotation_speed(value);
        case Dimension::ratio: return format_ratio(value);
        case Dimension::length_per_turn: break;
    }
    return format_decimal_quantity(value, Dimension::length_per_turn, units);
}

}  // namespace

std::string_view station_title(Station station) { return words_of(station).title; }

std::string_view station_method(Station station) { return words_of(station).method; }

std::vector<Caution> list_station_cautions(Station station, bool driven) {
    switch (station) {
        case Station::lift: return {Caution::nobody_between, Caution::never_under_raised};
        case Station::pto: return {Caution::stop_before_touching, Caution::keep_from_turning_shaft};
        case Station::add_on_parts:
        case Station::implement_pins:
        case Station::input_shaft:
        case Station::outline: return {Caution::never_under_raised};
        case Station::shaft_on_bench: return {Caution::stop_before_touching, Caution::guards_complete};
        case Station::coupled:
            if (!driven) return {Caution::nobody_between, Caution::never_under_raised};
            return {Caution::nobody_between, Caution::never_under_raised, Caution::measure_before_cutting, Caution::tug_both_ends};
        default: return {};
    }
}

std::string describe_item(const MeasuringItem& item) {
    std::string before;
    if (item.plain.starts_with("tractor.upper_link_pin.")) before = "hole ";
    if (item.plain.starts_with("implement.mast_pin.")) before = "mast hole ";
    if (item.plain.starts_with("driveline.tractor_joint.")) before = "tractor end";
    if (item.plain.starts_with("driveline.implement_joint.")) before = "implement end";
    if (!item.item.empty()) before += printable_text(item.item, 40);
    return before.empty() ? item.what : before + ": " + item.what;
}

std::string find_item_unit(const MeasuringItem& item, UnitSystem units) {
    if (item.form != ItemForm::reading) return {};
    const bool inch = units == UnitSystem::inch;
    switch (item.spec.dimension) {
        case Dimension::length: return inch ? "in" : "mm";
        case Dimension::angle: return "deg";
        case Dimension::mass: return inch ? "lb" : "kg";
        case Dimension::force: return inch ? "lbf" : "N";
        case Dimension::power: return inch ? "hp" : "kW";
        case Dimension::rotation_speed: return "rpm";
        case Dimension::length_per_turn: return inch ? "in/turn" : "mm/turn";
        case Dimension::ratio: break;
    }
    return {};
}

std::string format_item_error(const MeasuringItem& item, UnitSystem units) {
    if (item.form != ItemForm::reading) return {};
    if (item.spec.tolerance == 0.0) return "from plate or manual";
    return format_value(item.spec.tolerance, item.spec, units, Rounding::up);
}

std::string format_item_known(const MeasuringItem& item, UnitSystem units) {
    if (!item.known()) return {};
    if (item.form == ItemForm::reading) {
        return fmt::format("[{}, {}]", format_value(item.reading.value, item.spec, units, Rounding::nearest),
                           origin_word(item.reading.origin));
    }
    return fmt::format("[{}]", item.value);
}

std::string format_item_blank(const MeasuringItem& item, UnitSystem units) {
    if (item.form == ItemForm::choice) {
        std::string ticks;
        for (const std::string& word : item.words) ticks += fmt::format("{}( ) {}", ticks.empty() ? "" : "  ", word);
        return ticks;
    }
    const std::string unit = find_item_unit(item, units);
    return fmt::format("______________{}{}", unit.empty() ? "" : " ", unit);
}

}  // namespace hitchwright
