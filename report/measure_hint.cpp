// See measure_hint.h. A set-up with one item in each list has every key once; names in brackets do not count.
#include "report/measure_hint.h"

#include <algorithm>
#include <utility>
#include <vector>

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
    if (key.find('[') == std::string_view::npos) return std::string(key);
    std::string plain;
    bool inside = false;
    for (const char c : key) {
        if (c == '[') inside = true;
        if (!inside) plain += c;
        if (c == ']') inside = false;
    }
    return plain;
}

/// In the order of the fields; of a key that comes twice the first counts.
using Specs = std::vector<std::pair<std::string, FieldSpec>>;

const Specs& all_specs() {
    static const Specs specs = [] {
        Specs all;
        Setup specimen = make_specimen();
        visit_readings(specimen, [&](const std::string& key, const Reading&, const FieldSpec& spec) { all.emplace_back(strip_brackets(key), spec); });
        return all;
    }();
    return specs;
}

}  // namespace

std::optional<FieldSpec> find_reading_spec(std::string_view key) {
    const Specs& all = all_specs();
    const std::string plain = strip_brackets(key);
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& spec) { return spec.first == plain; });
    return found == all.end() ? std::nullopt : std::optional<FieldSpec>(found->second);
}

std::string find_measure_hint(std::string_view key, bool drawn) {
    const std::optional<FieldSpec> spec = find_reading_spec(key);
    return spec ? spec->measure_for(drawn) : std::string();
}

}  // namespace hitchwright
