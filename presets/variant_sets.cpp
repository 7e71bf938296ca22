#include "presets/variant_sets.h"

namespace hitchwright {
namespace {

std::string find_key(VariantKind kind) {
    switch (kind) {
        case VariantKind::link_extender: return "link_extender.fitted";
        case VariantKind::coupler: return "coupler.fitted";
        case VariantKind::overrunning_clutch: return "overrunning_clutch.fitted";
        case VariantKind::spline_extender: return "spline_extender.fitted";
        case VariantKind::tyres: return "choices.tyre_set";
        case VariantKind::upper_link_pin: return "choices.upper_link_pin";
        case VariantKind::lift_rod_hole: return "choices.lift_rod_hole";
        case VariantKind::mast_pin: return "choices.mast_pin";
        case VariantKind::drawbar_pin: return "choices.drawbar_pin";
        case VariantKind::driveline: break;
    }
    return "driveline.use";
}

}  // namespace

std::vector<std::pair<std::string, std::string>> list_variant_sets(const Setup& setup, const Variant& v) {
    std::vector<std::pair<std::string, std::string>> sets;
    sets.emplace_back(find_key(v.kind), is_part(v.kind) ? (v.fitted ? "true" : "false") : v.to);
    if (v.kind == VariantKind::driveline) {
        sets.emplace_back("choices.cut_tractor_half", "");
        sets.emplace_back("choices.cut_implement_half", "");
    }
    if (!drops_distances(setup, v)) return sets;
    // Items without a name are taken from the back, where taking one away does not change the number of another.
    const auto drop = [&](const char* list, const auto& readings) {
        for (std::size_t i = readings.size(); i-- > 0;) {
            const std::string& name = readings[i].name;
            sets.emplace_back(std::string(list) + "[" + (name.empty() ? std::to_string(i + 1) : name) + "]", "");
        }
    };
    drop("direct_reading", setup.direct_readings);
    drop("pose_reading", setup.pose_readings);
    drop("turn_reading", setup.turn_readings);
    return sets;
}

}  // namespace hitchwright
