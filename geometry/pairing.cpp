#include "geometry/pairing.h"

#include <algorithm>

#include "geometry/link_length.h"
#include "geometry/mounted_model.h"

namespace hitchwright {
namespace {

/// Share of the tractor's mass that an implement in the linkage may weigh.
constexpr double heaviest_share = 0.30;

const char* part_word(LinkagePart part) {
    switch (part) {
        case LinkagePart::lower_link: return "lower link";
        case LinkagePart::upper_link: return "upper link";
        case LinkagePart::lift_arm: return "lift arm";
        case LinkagePart::lift_rod: return "lift rod";
        case LinkagePart::mast: return "mast";
        case LinkagePart::none: break;
    }
    return "linkage";
}

void name_obstacle(const ModelObstacle& o, PairingCheck& check) {
    check.part = o.key.empty() ? part_word(o.closure.part) : o.key;
    check.shortfall = o.closure.shortfall;
    check.height = o.height;
}

PairingCheck check_pins(const Setup& setup) {
    PairingCheck check;
    check.tractor_pin = setup.choices.upper_link_pin;
    check.mast_pin = setup.choices.mast_pin;
    const MountedModelResult result = make_mounted_model(setup);
    if (!result.linkage_obstacles.empty()) {
        name_obstacle(result.linkage_obstacles.front(), check);
        return check;
    }
    check.closes = true;
    check.upper_length = result.model.linkage.upper_length;
    const UpperLinkReadings& u = setup.tractor.upper_link;
    check.link_reaches = (!u.length_least.known || u.length_least.value <= check.upper_length) &&
                         (!u.length_most.known || check.upper_length <= u.length_most.value);
    return check;
}

}  // namespace

PairingObstacle find_pairing_obstacle(const Tractor& t, const Implement& i) {
    if (i.attachment != Attachment::mounted) return PairingObstacle::not_mounted;
    const Category a = t.hitch.category, b = i.hitch.category;
    if (a != Category::none && b != Category::none && a != b) return PairingObstacle::category;
    if (t.mass.mass.known && i.mass.mass.known && i.mass.mass.value > heaviest_share * t.mass.mass.value) return PairingObstacle::too_heavy;
    if (!i.pic.fitted) return PairingObstacle::none;
    const std::vector<int>& speeds = t.pto.speeds_rpm;
    const bool has_speed = std::find(speeds.begin(), speeds.end(), i.pic.speed_rpm) != speeds.end();
    if (!speeds.empty() && i.pic.speed_rpm != 0 && !has_speed) return PairingObstacle::speed;
    return PairingObstacle::none;
}

std::vector<PairingCheck> check_pairing(const Tractor& tractor, const Implement& implement) {
    std::vector<PairingCheck> checks;
    Setup setup;
    setup.tractor = tractor;
    setup.implement = implement;
    for (const NamedPoint& pin : tractor.upper_link_pins) {
        for (const MastPin& mast : implement.mast_pins) {
            setup.choices.upper_link_pin = pin.name;
            setup.choices.mast_pin = mast.name;
            checks.push_back(check_pins(setup));
        }
    }
    return checks;
}

}  // namespace hitchwright
