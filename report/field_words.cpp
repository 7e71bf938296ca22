#include "report/field_words.h"

#include <algorithm>
#include <iterator>

namespace hitchwright {
namespace {

struct Word {
    std::string_view key, words;
};

/// Whole keys that the rules below would word badly.
constexpr Word whole_keys[] = {
    {"name", "Name of the set-up"},
    {"note", "Note on the set-up"},
    {"tractor.name", "Tractor"},
    {"tractor.note", "Note on the tractor"},
    {"implement.name", "Implement"},
    {"implement.note", "Note on the implement"},
    {"driveline.name", "Shaft"},
    {"driveline.note", "Note on the shaft"},
    {"tractor.mass.mass", "Tractor, empty"},
    {"implement.mass.mass", "Implement"},
    {"implement.mass.cg_x", "Implement: centre of gravity"},
    {"tractor.mass.lift_at_610", "Published lift 610 mm (24 in) behind the balls"},
    {"tractor.mass.lift_at_balls", "Published lift at the balls"},
    {"tractor.travel.ball_height_low", "Ball height, lever right down"},
    {"tractor.travel.ball_height_high", "Ball height, lever right up"},
    {"tractor.travel.lift_rod_hole", "Lift-rod hole when heights were taped"},
    {"tractor.pto.type", "PTO type"},
    {"implement.pic.type", "PTO type of the input"},
    {"choices.upper_link_pin", "Upper-link hole in use"},
    {"choices.mast_pin", "Mast hole in use"},
    {"choices.lift_rod_hole", "Lift-rod hole in use"},
    {"choices.drawbar_pin", "Position of the pin in use"},
    {"choices.tyre_set", "Tyres it stands on"},
    {"choices.upper_link_length", "Upper link as set"},
    {"choices.upper_link_length_now", "Upper link as it is now"},
    {"choices.pto_speed_rpm", "PTO speed in use, rpm"},
    {"tractor.pto.speeds_rpm", "PTO: speeds, rpm"},
    {"implement.pic.speed_rpm", "Input shaft: speed, rpm"},
    {"choices.cut_tractor_half", "Cut off the tractor half"},
    {"choices.cut_implement_half", "Cut off the implement half"},
    {"choices.lift_stop", "Lift stop, ball height"},
    {"choices.lower_stop", "Lower stop, ball height"},
    {"choices.working_ball_height", "Working ball height"},
    {"choices.working_pitch", "Working pitch, rear up is +"},
    {"implement.work.ball_height", "Working ball height, as the implement has it"},
    {"implement.work.pitch", "Working pitch, as the implement has it"},
    {"driveline.shaft.reference", "Lengths are taken between"},
    {"driveline.shaft.power_540", "Shaft: power at 540 rpm"},
    {"driveline.shaft.power_1000", "Shaft: power at 1000 rpm"},
    {"tractor.ditch_point[].x", "Along the line across"},
    {"choices.ditch_point[].x", "Along the line across"},
    {"choices.ditch_point[].z", "Height of the ground"},
};

constexpr Word tables[] = {
    {"pto", "PTO"},
    {"pic", "input shaft"},
    {"mass", "loads"},
    {"tyre", "tyres"},
    {"upper_link_float", "held by"},
    {"tractor_joint", "joint at the tractor"},
    {"implement_joint", "joint at the implement"},
    {"overrunning_clutch", "overrunning clutch"},
};

constexpr Word lists[] = {
    {"upper_link_pin", "upper-link hole"}, {"mast_pin", "mast hole"},       {"lift_rod_hole", "lift-rod hole"},
    {"ball_reading", "ball reading"},      {"cab_line", "point of the cab"}, {"drawbar_pin", "drawbar position"},
    {"lift_point", "point of the lift curve"}, {"point", "outline point"},  {"tongue_bar", "bar of the tongue"},
    {"specification", "line of the specification"}, {"tyre_set", "other tyres"},
};

/// Ends of a key, and what they say.
constexpr Word ends[] = {{"_most", ", at most"},  {"_least", ", at least"}, {"_low", ", lowest"},
                         {"_high", ", highest"}, {"_rpm", ", rpm"}};

template <std::size_t N>
std::string_view find_word(const Word (&words)[N], std::string_view key) {
    const auto* found = std::find_if(std::begin(words), std::end(words), [&](const Word& w) { return w.key == key; });
    return found == std::end(words) ? std::string_view{} : found->words;
}

std::string with_blanks(std::string_view key) {
    std::string text(key);
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

std::string capital(const std::string& text) {
    const char first = text.empty() ? '?' : text.front();
    const bool small = first >= 'a' && first <= 'z';
    return small ? static_cast<char>(first - 'a' + 'A') + text.substr(1) : text;
}

/// What a coordinate counts from.
std::string_view axis_words(std::string_view pattern, char axis, bool drawn) {
    if (axis == 'y') return "right of the middle";
    const bool tractor = pattern.starts_with("tractor.");
    if (axis == 'x') return tractor ? "behind the hub" : drawn ? "behind the hitch" : "behind the lower pins";
    return tractor ? "above the floor" : drawn ? "above the hitch" : "above the lower pins";
}

std::string leaf_words(std::string_view pattern, std::string_view leaf, bool drawn) {
    if (leaf.size() == 1 && leaf.front() >= 'x' && leaf.front() <= 'z') return std::string(axis_words(pattern, leaf.front(), drawn));
    const bool axis = leaf.size() > 2 && leaf[leaf.size() - 2] == '_' && leaf.back() >= 'x' && leaf.back() <= 'z';
    if (axis) {
        std::string base = with_blanks(leaf.substr(0, leaf.size() - 2));
        if (base == "cg") base = "centre of gravity";
        return base + ", " + std::string(axis_words(pattern, leaf.back(), drawn));
    }
    for (const Word& end : ends) {
        if (leaf.size() > end.key.size() && leaf.ends_with(end.key))
            return with_blanks(leaf.substr(0, leaf.size() - end.key.size())) + std::string(end.words);
    }
    return with_blanks(leaf);
}

}  // namespace

std::string field_label(std::string_view pattern, bool drawn) {
    const std::string_view whole = find_word(whole_keys, pattern);
    if (!whole.empty()) return std::string(whole);
    const std::size_t dot = pattern.rfind('.');
    const std::string_view leaf = pattern.substr(dot == std::string_view::npos ? 0 : dot + 1);
    const std::string words = leaf_words(pattern, leaf, drawn);
    const std::string_view before = dot == std::string_view::npos ? std::string_view{} : pattern.substr(0, dot);
    const std::size_t second = before.rfind('.');
    const std::string_view table = second == std::string_view::npos ? before : before.substr(second + 1);
    const bool alone = table.empty() || table.ends_with("]") || table == "tractor" || table == "implement" || table == "driveline" ||
                       table == "choices" || table == "job";
    if (alone) return capital(words);
    const std::string_view named = find_word(tables, table);
    return capital((named.empty() ? with_blanks(table) : std::string(named)) + ": " + words);
}

std::string list_label(std::string_view list) {
    const std::size_t dot = list.rfind('.');
    const std::string_view leaf = list.substr(dot == std::string_view::npos ? 0 : dot + 1);
    const std::string_view named = find_word(lists, leaf);
    return named.empty() ? with_blanks(leaf) : std::string(named);
}

}  // namespace hitchwright
