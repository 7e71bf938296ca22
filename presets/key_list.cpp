// See key_list.h.
#include "presets/key_list.h"

#include <algorithm>

namespace hitchwright {
namespace {

std::vector<std::string> list_drawn_keys() {
    std::vector<std::string> keys;
    DrawbarReadings drawbar;
    visit_drawbar(drawbar, KeyCollector(keys, "tractor.drawbar."));
    std::vector<DrawbarPin> pins;
    visit_drawbar_pins(pins, KeyCollector(keys, "tractor."));
    FrontAxleReadings front;
    visit_front_axle(front, KeyCollector(keys, "tractor.tyre."));
    SteeringReadings steering;
    visit_steering(steering, KeyCollector(keys, "tractor."));
    DrawnImplementReadings implement;
    visit_drawn_implement(implement, KeyCollector(keys, "implement."));
    keys.emplace_back("implement.ground_contact.half_track");
    DrawnChoices choices;
    visit_drawn_choices(choices, KeyCollector(keys, "choices."));
    return keys;
}

}  // namespace

bool is_drawn_key(const std::string& key) {
    static const std::vector<std::string> keys = list_drawn_keys();
    std::string plain;
    bool inside = false;
    for (const char c : key) {
        if (c == '[') inside = true;
        if (!inside) plain += c;
        if (c == ']') inside = false;
    }
    return std::find(keys.begin(), keys.end(), plain) != keys.end();
}

}  // namespace hitchwright
