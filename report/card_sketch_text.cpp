// See card_sketch_text.h. Drawn by hand; a test holds the letters of the lists to those in the drawings.
#include "report/card_sketch_text.h"

#include <algorithm>
#include <span>

#include <fmt/format.h>

#include "report/card_sketches.h"
#include "report/card_words.h"
#include "report/letter_sketch.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

using Shaft = SketchedShaft;

constexpr std::string_view side_drawing = R"(
            :                             Tractor from the left
     .------:------. o U-------------V    U hole of the bracket, V link's pin
     |      :      |
     |      :      |====S                 S end of the PTO stub
     |      H      |
     |      :   P o|------------------B   H hub, P front pin, B ball
     '------:------'  =====D              D end of the drawbar
            :
 -----------G--------------------------   G hub mark on the floor
)";
constexpr SketchSpan side_spans[] = {{"tractor.tyre.rear_radius", "floor to H"},
                                     {"tractor.lower_link.pivot_x", "G to P, level"},
                                     {"tractor.lower_link.pivot_z", "floor to P"},
                                     {"tractor.lower_link.length", "P to B"},
                                     {"tractor.upper_link_pin[].x", "G to U, level"},
                                     {"tractor.upper_link_pin[].z", "floor to U"},
                                     {"tractor.upper_link.length_least", "U to V"},
                                     {"tractor.upper_link.length_most", "U to V"},
                                     {"choices.upper_link_length", "U to V"},
                                     {"choices.upper_link_length_now", "U to V"},
                                     {"tractor.pto.stub_x", "G to S, level"},
                                     {"tractor.pto.stub_z", "floor to S"},
                                     {"tractor.drawbar.end_x", "G to D, level"},
                                     {"tractor.drawbar.end_z", "floor to D"}};

constexpr std::string_view plan_drawing = R"(
     .-----------. W                      Tractor from above
     |     T     |
     '-----------' W                      W edges, T middle of a rear tyre
              P o---------------o B       P front pin, B ball
     - - - - - -M- - - - - - - - N - -    M, N middle of the tractor
              P o---------------o B
     .-----------.
     |     T     |
     '-----------'
)";
constexpr SketchSpan plan_spans[] = {{"tractor.tyre.rear_width", "W to W"},
                                     {"tractor.tyre.rear_track", "T to T"},
                                     {"tractor.lower_link.half_spread_at_pivot", "M to P"},
                                     {"tractor.lower_link.half_spread_at_ball", "N to B"}};

constexpr std::string_view ball_drawing = R"(
            :                    . o B    B the same ball at three heights or
            :                .            more, far apart
            :   P o - - - - - - - o B
            :                .
            :                    . o B    P front pin, which cannot be taped
 -----------G--------------------------   G hub mark on the floor
)";
constexpr SketchSpan ball_spans[] = {{"tractor.ball_reading[].x", "G to B, level"}, {"tractor.ball_reading[].z", "floor to B"}};

constexpr std::string_view lift_drawing = R"(
            :  K o=========o L            K rockshaft, L end of the lift arm
            :              |
            :              |
            :   P o--------o R-------B    R rod on the lower link, P front pin
            :
 -----------G--------------------------   G hub mark on the floor
)";
constexpr SketchSpan lift_spans[] = {{"tractor.lift_arm.pivot_x", "G to K, level"},
                                     {"tractor.lift_arm.pivot_z", "floor to K"},
                                     {"tractor.lift_arm.length", "K to L"},
                                     {"tractor.lift_rod.length", "L to R"},
                                     {"tractor.lift_rod.pin_along_link", "P to R"},
                                     {"tractor.lift_rod_hole[].pin_along_link", "P to R"}};

constexpr std::string_view coupler_drawing = R"(
      N o--------.                        Coupler upright, from the left
                 |_o M                    N its own pin for the upper link
                 |                        M pin seated in the top hook
                 |_o B                    B pin in a lower hook
      A o--------'                        A its own lower pin
)";
constexpr SketchSpan coupler_spans[] = {{"coupler.set_back", "A to B, level"},   {"coupler.hook_rise", "A to B, plumb"},
                                        {"coupler.hook_height", "B to M, plumb"}, {"coupler.hook_offset", "B to M, level"},
                                        {"coupler.pin_height", "A to N, plumb"},  {"coupler.pin_offset", "A to N, level"}};

constexpr std::string_view extender_drawing = R"(
      P o----------------o B====o C       P front pin, B ball, C extender's ball
)";
constexpr SketchSpan extender_spans[] = {{"link_extender.length", "B to C"}};

constexpr std::string_view stub_drawing = R"(
     |=======S[          ]====X           S end of the stub, below the part
     |                                    X end of the part's own shaft
)";
constexpr SketchSpan stub_spans[] = {{"overrunning_clutch.added_length", "S to X"}, {"spline_extender.added_length", "S to X"}};

constexpr std::string_view implement_drawing = R"(
      M o                                 Implement from the left, frame level
        |                                 M mast hole
        |        .----.
        |   I====|    |                   I end of the input shaft
        |        |    |      C
      A o---E----'----'------------.      A lower pin, C centre of gravity
            '----------------------'      E a point that could touch
                                  (W)     W axle, or where a skid touches
)";
constexpr std::string_view blade_drawing = R"(
      M o                                 Implement from the left, frame level
        |                                 M mast hole
        |                  C
      A o---E----------------------.      A lower pin, C centre of gravity
            '----------------------'      E a point that could touch
                                  (W)     W axle, or where a skid touches
)";
constexpr SketchSpan implement_spans[] = {{"implement.mast_pin[].height", "A to M, square to the frame"},
                                          {"implement.mast_pin[].offset", "A to M, level"},
                                          {"implement.pic.x", "A to I, level"},
                                          {"implement.pic.z", "A to I, plumb"},
                                          {"implement.point[].x", "A to E, level"},
                                          {"implement.point[].z", "A to E, plumb"},
                                          {"implement.ground_contact[].x", "A to W, level"},
                                          {"implement.ground_contact[].z", "A to W, plumb"},
                                          {"implement.mass.cg_x", "A to C, level"},
                                          {"implement.mass.cg_z", "A to C, plumb"}};

constexpr std::string_view shaft_drawing = R"(
  ==S  (J)==[::::::::::::::::]==(K)  E==  fully home; J, K joint centres
                                          S stub's end, E input shaft's end
       (J)==R[============T               tractor half: R root, T end of tube
             U============]Q==(K)         implement half: Q root, U end of tube
)";
constexpr SketchSpan shaft_spans[] = {{"driveline.shaft.closed_length", "J to K, or the points ticked"},
                                      {"driveline.shaft.tractor_tube", "R to T"},
                                      {"driveline.shaft.implement_tube", "Q to U"},
                                      {"driveline.tractor_joint.offset", "S to J, coupled"},
                                      {"driveline.implement_joint.offset", "E to K, coupled"}};

constexpr std::string_view coupled_drawing = R"(
     |===S - - - - - - - I====[ ]         S stub, I input shaft, both bare
     |                         |
     | o---------------------o B          B ball: lowest, working, highest
 --------------------------------------   floor
)";
constexpr std::string_view carried_drawing = R"(
     | o---------------------o B          B ball: lowest, working, highest
 --------------------------------------   floor
)";
constexpr SketchSpan coupled_spans[] = {{"tractor.travel.ball_height_low", "floor to B"},
                                        {"tractor.travel.ball_height_high", "floor to B"},
                                        {"choices.working_ball_height", "floor to B"},
                                        {"direct_reading[].ball_height", "floor to B"},
                                        {"direct_reading[].distance", "S to I, at the points ticked"}};

constexpr LetterSketch sketches[] = {{Station::rear_axle, side_drawing, side_spans},
                                     {Station::rear_axle, plan_drawing, plan_spans},
                                     {Station::lower_links, ball_drawing, ball_spans},
                                     {Station::lift, lift_drawing, lift_spans},
                                     {Station::add_on_parts, extender_drawing, extender_spans},
                                     {Station::add_on_parts, coupler_drawing, coupler_spans},
                                     {Station::add_on_parts, stub_drawing, stub_spans, Shaft::either, Hitched::either},
                                     {Station::implement_pins, implement_drawing, implement_spans, Shaft::with},
                                     {Station::implement_pins, blade_drawing, implement_spans, Shaft::without},
                                     {Station::shaft, shaft_drawing, shaft_spans, Shaft::either, Hitched::either},
                                     {Station::coupled, coupled_drawing, coupled_spans, Shaft::with},
                                     {Station::coupled, carried_drawing, coupled_spans, Shaft::without}};

constexpr std::size_t entry_width = 26;  ///< three entries to a row of 80

bool has_pattern(const std::vector<CardLine>& lines, std::string_view pattern) {
    return std::any_of(lines.begin(), lines.end(), [&](const CardLine& line) { return line.pattern == pattern; });
}

/// "U to V: 27, 28, 31", what runs between the same points in one entry.
std::vector<std::string> list_entries(const LetterSketch& sketch, const std::vector<CardLine>& lines) {
    std::vector<std::string> entries;
    for (std::size_t i = 0; i < sketch.spans.size(); ++i) {
        std::vector<int> numbers;
        const std::string_view words = sketch.spans[i].words;
        if (i > 0 && sketch.spans[i - 1].words == words) continue;
        for (const CardLine& line : lines) {
            for (std::size_t j = i; j < sketch.spans.size() && sketch.spans[j].words == words; ++j) {
                if (line.pattern == sketch.spans[j].pattern) numbers.push_back(line.number);
            }
        }
        if (!numbers.empty()) entries.push_back(fmt::format("{}: {}", words, format_runs(numbers)));
    }
    return entries;
}

/// Entries in columns; one that is wider than a column takes two, or a row.
std::string format_entries(const std::vector<std::string>& entries, std::size_t width) {
    std::string text, row;
    for (const std::string& entry : entries) {
        const std::size_t at = row.empty() ? 2 : (row.size() + 1 + entry_width - 3) / entry_width * entry_width + 2;
        if (!row.empty() && at + entry.size() > width) {
            text += row + "\n";
            row.clear();
        }
        row = pad_right(row, row.empty() ? 2 : at) + entry;
    }
    return text + row + "\n";
}

}  // namespace

std::string format_card_sketches(Station station, bool begins_part, const std::vector<CardLine>& lines, std::size_t width) {
    std::string text;
    const bool shaft = has_pattern(lines, "implement.pic.x"), drawn = is_drawn_card(lines);
    const auto add = [&](const LetterSketch& sketch) {
        if (sketch.job != Shaft::either && (sketch.job == Shaft::with) != shaft) return;
        if (sketch.hitched != Hitched::either && (sketch.hitched == Hitched::drawn) != drawn) return;
        const bool of_part = begins_part && sketch.station == find_group(station);
        if (!of_part && sketch.station != station) return;
        const std::vector<std::string> entries = list_entries(sketch, lines);
        if (!entries.empty()) text += std::string(sketch.drawing) + format_entries(entries, width);
    };
    for (const LetterSketch& sketch : list_drawn_letter_sketches()) add(sketch);
    for (const LetterSketch& sketch : sketches) add(sketch);
    return text;
}

}  // namespace hitchwright
