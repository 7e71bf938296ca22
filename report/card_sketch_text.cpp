// See card_sketch_text.h. In the rows @x stands for the numbers of the lines with the pattern that the list names x.
#include "report/card_sketch_text.h"

#include <fmt/format.h>

#include "report/card_sketches.h"

namespace hitchwright {
namespace {

struct SketchKey {
    char letter;
    std::string_view pattern;
};

constexpr SketchKey keys[] = {{'a', "tractor.tyre.rear_radius"},
                              {'b', "tractor.lower_link.pivot_x"},
                              {'c', "tractor.lower_link.pivot_z"},
                              {'d', "tractor.lower_link.length"},
                              {'e', "tractor.upper_link_pin[].x"},
                              {'f', "tractor.upper_link_pin[].z"},
                              {'g', "tractor.pto.stub_x"},
                              {'h', "tractor.pto.stub_z"},
                              {'i', "tractor.travel.ball_height_low"},
                              {'j', "tractor.travel.ball_height_high"},
                              {'m', "implement.mast_pin[].height"},
                              {'n', "implement.mast_pin[].offset"},
                              {'p', "implement.pic.x"},
                              {'q', "implement.pic.z"},
                              {'r', "driveline.shaft.closed_length"},
                              {'s', "driveline.shaft.tractor_tube"},
                              {'t', "driveline.shaft.implement_tube"},
                              {'v', "choices.working_ball_height"},
                              {'w', "direct_reading[].distance"},
                              {'x', "direct_reading[].ball_height"}};

constexpr std::string_view tractor[] = {"  hub mark",
                                        "     |<---- @e ---->o   upper-link holes; above the floor: @f",
                                        "     |",
                                        "     |<------ @g ------->]==   end of the PTO stub; above the floor: @h",
                                        "     |",
                                        "    (+)   rear hub; above the floor: @a",
                                        "     |",
                                        "     |<- @b ->o----------- @d -----------O   ball",
                                        "     |        front pin of the lower link; above the floor: @c",
                                        " ----+---------------------------------------------------- floor"};
constexpr std::string_view implement[] = {"     o   mast hole; above the lower pins: @m, behind them: @n",
                                          "     |",
                                          "     |         ==[   input shaft; above the lower pins: @q",
                                          "     |         :",
                                          "     O<--- @p --->:   lower pins; frame level"};
constexpr std::string_view shaft[] = {"    (+)===[::::::::::::::::::::::]===(+)   pushed fully home",
                                      "     |<------------- @r ------------->|   the same kind of points at both ends",
                                      "        [======== @s ========>            tractor half: root to end of its tube",
                                      "            <======== @t ========]        implement half"};
constexpr std::string_view coupled[] = {"  stub ]<- - @w - ->[ input shaft   at ball heights @x",
                                        "              O  ball, above the floor: lowest @i, working @v, highest @j",
                                        " ----------------------------------------------------------- floor"};

std::string find_numbers(char letter, const std::vector<CardLine>& lines) {
    std::string text;
    for (const SketchKey& key : keys) {
        if (key.letter != letter) continue;
        std::vector<int> numbers;
        for (const CardLine& line : lines) {
            if (line.pattern == key.pattern) numbers.push_back(line.number);
        }
        // More than three: the first and the last are enough to find them.
        if (numbers.size() > 3) return fmt::format("{} to {}", numbers.front(), numbers.back());
        for (const int n : numbers) text += fmt::format("{}{}", text.empty() ? "" : ", ", n);
    }
    return text;
}

/// The row with its numbers; empty when it has places for numbers and none is there.
std::string fill_row(std::string_view row, const std::vector<CardLine>& lines, bool& any) {
    std::string text;
    int places = 0, found = 0;
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (row[i] != '@') {
            text += row[i];
            continue;
        }
        const std::string numbers = find_numbers(row[++i], lines);
        ++places;
        found += numbers.empty() ? 0 : 1;
        text += numbers.empty() ? "-" : numbers;
    }
    any = any || found > 0;
    return places > 0 && found == 0 ? std::string{} : text + "\n";
}

template <std::size_t N>
std::string fill(const std::string_view (&rows)[N], const std::vector<CardLine>& lines) {
    std::string text;
    bool any = false;
    for (const std::string_view row : rows) text += fill_row(row, lines, any);
    return any ? text : std::string{};
}

}  // namespace

std::string format_card_sketch(Station group, const std::vector<CardLine>& lines) {
    if (group == find_group(Station::rear_axle)) return fill(tractor, lines);
    if (group == find_group(Station::implement_pins)) return fill(implement, lines);
    if (group == find_group(Station::shaft)) return fill(shaft, lines);
    return group == find_group(Station::coupled) ? fill(coupled, lines) : std::string{};
}

}  // namespace hitchwright
