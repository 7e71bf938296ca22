// See measure_hint.h. A set-up with one item in each list has every key once; names in brackets do not count.
#include "report/measure_hint.h"

#include <map>

#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

Setup make_specimen() {
    Setup s;
    s.has_driveline = true;
    s.tractor.upper_link_pins.resize(1);
    s.tractor.cab_line.resize(1);
    s.tractor.drawbar_pins.resize(1);
    s.tractor.ball_readings.resize(1);
    s.direct_readings.resize(1);
    s.pose_readings.resize(1);
    s.turn_readings.resize(1);
    s.implement.mast_pins.resize(1);
    s.implement.pic.fitted = true;
    s.implement.ground_contacts.resize(1);
    s.implement.points.resize(1);
    s.implement.drawn.bars.resize(1);
    s.implement.drawn.steady_bearing.fitted = true;
    s.choices.drawn.ditch.points.resize(1);
    visit_parts(s.parts, [](const char*, auto& part) { part.fitted = true; });
    return s;
}

std::string strip_brackets(std::string_view key) {
    std::string plain;
    bool inside = false;
    for (const char c : key) {
        if (c == '[') inside = true;
        if (!inside) plain += c;
        if (c == ']') inside = false;
    }
    return plain;
}

/// The first field of each key.
const std::map<std::string, FieldSpec>& all_specs() {
    static const std::map<std::string, FieldSpec> specs = [] {
        std::map<std::string, FieldSpec> all;
        Setup specimen = make_specimen();
        visit_readings(specimen, [&](const std::string& key, const Reading&, const FieldSpec& spec) { all.emplace(strip_brackets(key), spec); });
        return all;
    }();
    return specs;
}

}  // namespace

std::optional<FieldSpec> find_reading_spec(std::string_view key) {
    const auto found = all_specs().find(strip_brackets(key));
    return found == all_specs().end() ? std::nullopt : std::optional<FieldSpec>(found->second);
}

std::string find_measure_hint(std::string_view key, bool drawn) {
    const std::optional<FieldSpec> spec = find_reading_spec(key);
    return spec ? spec->measure_for(drawn) : std::string();
}

}  // namespace hitchwright
