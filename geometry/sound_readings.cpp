#include "geometry/sound_readings.h"

#include <algorithm>
#include <cmath>

#include "geometry/visit_readings.h"

namespace hitchwright {

namespace {

bool is_impossible(const Reading& r, const FieldSpec& spec) {
    if (!r.known) return false;
    const double most = 1000.0 * std::max(std::fabs(spec.least), std::fabs(spec.most));
    const bool tiny = r.value != 0.0 && std::fabs(r.value) < 0.001 * spec.least;
    return tiny || !(std::fabs(r.value) <= most && r.tolerance >= 0.0 && r.tolerance <= most);
}

}  // namespace

std::optional<SoundReadings> drop_impossible_readings(const Setup& setup) {
    if (!any_reading(setup, is_impossible)) return std::nullopt;
    SoundReadings sound{setup, {}};
    visit_readings(sound.setup, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!is_impossible(r, spec)) return;
        r = Reading{};
        sound.dropped.push_back(key);
    });
    return sound;
}

}  // namespace hitchwright
