// See load_words.h.
#include "report/load_words.h"

namespace hitchwright {

std::string say_load_state(std::string_view word) {
    if (word == "on_ground") return "implement on the ground";
    if (word == "lowest") return "implement carried at its lowest";
    if (word == "farthest") return "implement carried where it reaches farthest back";
    if (word == "highest") return "implement carried at its highest";
    if (word == "hitched") return "implement on the drawbar";
    return "tractor alone";
}

std::string say_carrying_part(std::string_view word) {
    if (word == "front_axle") return "front axle";
    if (word == "rear_axle") return "rear axle";
    if (word == "front_tyres") return "front tyres";
    if (word == "rear_tyres") return "rear tyres";
    return "whole tractor";
}

std::string say_load_base(std::string_view word) {
    return word == "tractor_empty" ? "of the tractor's empty mass" : "of tractor, implement and ballast together";
}

std::string say_force_source(std::string_view word) {
    if (word == "curve") return "the lift curve";
    if (word == "cylinder") return "the cylinder with its friction";
    if (word == "cylinder_ideal") return "the cylinder without friction";
    if (word == "published_least") return "the least published lift";
    return "nothing";
}

}  // namespace hitchwright
