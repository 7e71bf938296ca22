// Bounded extremes of whatever machine: no pose that is looked at lies beyond them.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/drawn_extremes.h"
#include "geometry/mounted_extremes.h"
#include "tests/properties/any_setup.h"
#include "tests/properties/check_property.h"

using namespace hitchwright;
using properties::any_setup;
using properties::AnySetup;
using properties::check_property;
using properties::Values;

namespace {

constexpr double rounding = 1e-9;  // m
constexpr double nearly_straight = 2e-8;  // rad: a cosine next to 1 tells no more of its angle

double draw_between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000.0;
}

/// Where the joint centres meet the shaft has no direction and its joints no angle: then nothing less than half a turn is a bound.
bool is_angle_within(double angle, double bound) {
    return std::isfinite(angle) ? angle <= bound + nearly_straight : bound >= std::acos(-1.0) - nearly_straight;
}

void look_at_attitudes(const DrawnModel& model) {
    const DrawnExtremes e = find_drawn_extremes(model, model.box);
    RC_ASSERT(e.shortest.bound <= e.shortest.value);
    RC_ASSERT(e.longest.bound >= e.longest.value);
    for (int i = 0; i < 30; ++i) {
        Attitude at;
        at.yaw = draw_between(model.box.yaw.low, model.box.yaw.high);
        at.pitch = draw_between(model.box.pitch.low, model.box.pitch.high);
        at.roll = draw_between(model.box.roll.low, model.box.roll.high);
        const DrivelineState s = find_driveline_state(model, at);
        RC_LOG() << at.yaw << " " << at.pitch << " " << at.roll << ": " << s.length << " " << s.tractor_angle << " " << s.implement_angle << "\n";
        RC_ASSERT(s.length >= e.shortest.bound - rounding);
        RC_ASSERT(s.length <= e.longest.bound + rounding);
        RC_ASSERT(is_angle_within(s.tractor_angle, e.tractor_angle.bound));
        RC_ASSERT(is_angle_within(s.implement_angle, e.implement_angle.bound));
        if (e.turns && s.turns) RC_ASSERT(s.non_uniformity <= e.non_uniformity.bound + rounding);
    }
}

void look_at_places(const MountedModel& model) {
    const TravelBox box = make_travel_box(model);
    const ShaftExtremes e = find_shaft_extremes(model, box);
    for (int i = 0; i < 30; ++i) {
        TravelBox place = box;
        for (HeightRange* r : {&place.heights, &place.upper_lengths, &place.sway, &place.tilt_sine}) r->low = r->high = draw_between(r->low, r->high);
        const std::optional<ShaftState<double>> s = find_shaft_at(model, place);
        if (!s) continue;
        RC_LOG() << place.heights.low << " " << place.upper_lengths.low << " " << place.sway.low << " " << place.tilt_sine.low << ": " << s->length << "\n";
        RC_ASSERT(s->length >= e.shortest.bound - rounding);
        RC_ASSERT(s->length <= e.longest.bound + rounding);
        RC_ASSERT(std::acos(std::clamp(s->cos_tractor_joint, -1.0, 1.0)) <= e.tractor_angle.bound + nearly_straight);
        RC_ASSERT(std::acos(std::clamp(s->cos_implement_joint, -1.0, 1.0)) <= e.implement_angle.bound + nearly_straight);
    }
}

}  // namespace

TEST_CASE("property: no attitude or place of any machine that has a shaft lies beyond its bounded extremes", "[random]") {
    check_property(40, [] {
        const AnySetup any = *any_setup(Values::possible);
        const Setup s = any.build();
        if (s.implement.attachment == Attachment::drawn) {
            const DrawnModelResult r = make_drawn_model(s);
            if (r.hitch_ok && r.model.has_shaft) look_at_attitudes(r.model);
        } else {
            const MountedModelResult r = make_mounted_model(s);
            if (r.linkage_ok && r.model.has_shaft) look_at_places(r.model);
        }
    });
}
