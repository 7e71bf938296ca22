// The letter sketches of drawn implements; see letter_sketch.h. Drawn by hand.
#include "report/letter_sketch.h"

namespace hitchwright {
namespace {

constexpr std::string_view hitch_drawing = R"(
            :                             Tractor and hitch from the left
     .------:------.
     |      :      |======S==A            S end of the stub, A of an adapter
     |      H      |                      H rear hub
     |      :      |               J o=== J middle of the hitch joint
     '------:------'==============P==|=T  P centre of the pin
            :                             T top of the drawbar at the pin
 -----------G--------------------------   G hub mark on the floor
)";
constexpr SketchSpan hitch_spans[] = {{"tractor.tyre.rear_radius", "floor to H"},
                                      {"tractor.pto.stub_x", "G to S, level"},
                                      {"tractor.pto.stub_z", "floor to S"},
                                      {"tractor.drawbar_pin[].length", "S to P, level"},
                                      {"tractor.drawbar.top_height", "floor to T"},
                                      {"tractor.drawbar_pin[].top_height", "floor to T"},
                                      {"tractor.drawbar.drop", "S to T, plumb"},
                                      {"tractor.drawbar.articulation_above_top", "T to J, plumb"},
                                      {"tractor.drawbar.adapter_length", "S to A"}};

constexpr std::string_view tyres_drawing = R"(
     .-----------. W                      Tractor from above
     |     T     |
     '-----------' W                      W edges, T middle of a rear tyre
     - - - =====S- - -(P)===========      S stub, P pin with the tongue on it
     .-----------.
     |     T     |
     '-----------'
)";
constexpr SketchSpan tyres_spans[] = {{"tractor.tyre.rear_width", "W to W"}, {"tractor.tyre.rear_track", "T to T"}};

constexpr std::string_view front_drawing = R"(
     .-M-.             .-M-.              Front axle from the front
     | F |------Q------| F |              F front hub, M middle of a tyre
     '---'             '---'              Q pin the axle rocks on
 --------------------------------------   floor
       F - - - - - - - - - - - - H        from the left, H rear hub
)";
constexpr SketchSpan front_spans[] = {{"tractor.tyre.front_radius", "floor to F"},
                                      {"tractor.tyre.front_track", "M to M"},
                                      {"tractor.tyre.front_pivot_height", "floor to Q"},
                                      {"tractor.mass.wheelbase", "F to H, level"}};

constexpr std::string_view driven_drawing = R"(
                      .--------------.    Implement from the left, frame level
         I============|              |    I end of the input shaft
                      |              |
   J o================|              |    J middle of the hitch joint
                      '-------(W)----'    W axle of the wheels
)";
constexpr std::string_view towed_drawing = R"(
                      .--------------.    Implement from the left, frame level
                      |              |
   J o================|              |    J middle of the hitch joint
                      '-------(W)----'    W axle of the wheels
)";
constexpr SketchSpan side_spans[] = {{"implement.pic.x", "J to I, level"},
                                     {"implement.pic.z", "J to I, plumb"},
                                     {"implement.ground_contact[].x", "J to W, level"},
                                     {"implement.ground_contact[].z", "J to W, plumb"}};

constexpr std::string_view frame_drawing = R"(
                      .-----[N]------.    Implement from above
         W .----------|              |    W edges of a bar
   J o   F |----------R - - -M- - - -|    J hitch pin, F front, R rear end
         W '----------|              |    M middle of the frame
                      '-----[N]------'    N middle of a wheel
)";
constexpr SketchSpan frame_spans[] = {{"implement.tongue_bar[].front_x", "J to F, level"},
                                      {"implement.tongue_bar[].rear_x", "J to R, level"},
                                      {"implement.tongue_bar[].width", "W to W"},
                                      {"implement.ground_contact[].half_track", "M to N"}};

constexpr std::string_view bearing_drawing = R"(
   J o                                    J middle of the hitch joint
            B=[###]====(L)=I====          B front end of the bearing's shaft
                                          L joint at I, the input shaft's end
)";
constexpr SketchSpan bearing_spans[] = {{"implement.steady_bearing.x", "J to B, level"},
                                        {"implement.steady_bearing.z", "J to B, plumb"},
                                        {"implement.steady_bearing.rear_joint_offset", "I to L"}};

constexpr std::string_view ditch_drawing = R"(
 -------A                      D-------   Ground, cut square to the ditch
         '.                  .'           A, D edges
           '.              .'
             B------------C               B, C ends of the bottom
)";
constexpr SketchSpan ditch_spans[] = {{"choices.ditch.depth", "A to B, plumb"},
                                      {"choices.ditch.bottom_width", "B to C, level"},
                                      {"choices.ditch.side_slope", "A to B, slope"}};

constexpr LetterSketch sketches[] = {
    {Station::rear_axle, hitch_drawing, hitch_spans, SketchedShaft::either, Hitched::drawn},
    {Station::rear_axle, tyres_drawing, tyres_spans, SketchedShaft::either, Hitched::drawn},
    {Station::front_axle, front_drawing, front_spans, SketchedShaft::either, Hitched::drawn},
    {Station::implement_pins, driven_drawing, side_spans, SketchedShaft::with, Hitched::drawn},
    {Station::implement_pins, towed_drawing, side_spans, SketchedShaft::without, Hitched::drawn},
    {Station::implement_pins, frame_drawing, frame_spans, SketchedShaft::either, Hitched::drawn},
    {Station::input, bearing_drawing, bearing_spans, SketchedShaft::either, Hitched::drawn},
    {Station::way, ditch_drawing, ditch_spans, SketchedShaft::either, Hitched::drawn}};

}  // namespace

std::span<const LetterSketch> list_drawn_letter_sketches() { return sketches; }

}  // namespace hitchwright
