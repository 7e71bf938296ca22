// The first rule whose beginning fits a key holds, so the narrower one stands before the wider one.
#include "geometry/measuring_rules.h"

#include <algorithm>

namespace hitchwright {
namespace {

struct Case {
    const Setup& setup;
    const MeasuringJob& job;
};
using Ask = Asked (*)(const Case&);

Asked never(const Case&) { return Asked::left_out; }
Asked if_given(const Case&) { return Asked::if_given; }
Asked mounted(const Case& c) { return c.job.mounted ? Asked::by_need : Asked::left_out; }
Asked driven(const Case& c) { return c.job.driven ? Asked::by_need : Asked::left_out; }
Asked always(const Case&) { return Asked::by_need; }

// Only the larger categories have a narrow sister.
Asked narrow(const Case& c, Category category) {
    const bool has = category == Category::cat2 || category == Category::cat3 || category == Category::cat4;
    return c.job.mounted && has ? Asked::offered : Asked::left_out;
}
Asked tractor_narrow(const Case& c) { return narrow(c, c.setup.tractor.hitch.category); }
Asked implement_narrow(const Case& c) { return narrow(c, c.setup.implement.hitch.category); }

Asked travel(const Case& c) { return c.job.mounted && !c.job.lift_by_arm ? Asked::by_need : Asked::left_out; }
Asked arm(const Case& c) { return c.job.mounted && c.job.lift_by_arm ? Asked::required : Asked::left_out; }
Asked rod_detail(const Case& c) { return c.job.mounted && c.job.lift_by_arm ? Asked::offered : Asked::left_out; }

Asked slack(const Case& c) {
    const UpperLinkKind kind = c.setup.implement.upper_link_float.kind;
    const bool free = kind == UpperLinkKind::slot || kind == UpperLinkKind::chain;
    return c.job.mounted && free ? Asked::required : Asked::left_out;
}
Asked strap(const Case& c) {
    const bool has = c.setup.implement.upper_link_float.kind == UpperLinkKind::swing_strap;
    return c.job.mounted && has ? Asked::required : Asked::left_out;
}
Asked strap_detail(const Case& c) { return strap(c) == Asked::required ? Asked::offered : Asked::left_out; }
Asked working_height(const Case& c) {
    if (!c.job.mounted) return Asked::left_out;
    return c.setup.choices.working_ball_height.known ? Asked::offered : Asked::required;
}
Asked drawbar_end(const Case& c) {
    return c.job.driven && c.setup.tractor.drawbar.out_of_the_way != YesNo::yes ? Asked::offered : Asked::left_out;
}

Asked tube(const Case& c) { return c.job.driven && !c.job.overlap_only ? Asked::required : Asked::left_out; }
Asked overlap(const Case& c) { return c.job.driven && c.job.overlap_only ? Asked::required : Asked::left_out; }
Asked reference(const Case& c) { return c.job.driven ? Asked::required : Asked::left_out; }
Asked to_groove(const Case& c) {
    if (!c.job.driven) return Asked::left_out;
    return c.setup.driveline.reference == LengthReference::locking_grooves ? Asked::required : Asked::offered;
}
Asked to_end(const Case& c) {
    const bool wanted = c.setup.driveline.reference == LengthReference::shaft_ends;
    return c.job.driven && wanted ? Asked::required : Asked::left_out;
}
Asked spacing(const Case& c, JointKind kind) {
    return c.job.driven && kind == JointKind::wide_angle ? Asked::required : Asked::left_out;
}
Asked tractor_spacing(const Case& c) { return spacing(c, c.setup.driveline.tractor_joint.kind); }
Asked implement_spacing(const Case& c) { return spacing(c, c.setup.driveline.implement_joint.kind); }

bool runs_at(const Case& c, int rpm) {
    const int speed = c.setup.choices.pto_speed_rpm != 0 ? c.setup.choices.pto_speed_rpm : c.setup.implement.pic.speed_rpm;
    return c.job.driven && (speed == 0 || speed == rpm);
}
Asked power_540(const Case& c) { return runs_at(c, 540) ? Asked::offered : Asked::left_out; }
Asked power_1000(const Case& c) { return runs_at(c, 1000) ? Asked::offered : Asked::left_out; }

struct Rule {
    std::string_view begins;
    Station station;
    Ask ask;
};

constexpr Rule rules[] = {
    {"tractor.tyre.front_radius", Station::rear_axle, never},
    {"tractor.tyre.", Station::rear_axle, mounted},
    {"tractor.hitch.narrow", Station::lower_links, tractor_narrow},
    {"tractor.hitch.upper_pin_diameter", Station::upper_link, mounted},
    {"tractor.hitch.", Station::lower_links, mounted},
    {"tractor.lower_link.", Station::lower_links, mounted},
    {"tractor.upper_link_pin.", Station::upper_link, mounted},
    {"tractor.upper_link.", Station::upper_link, mounted},
    {"tractor.travel.", Station::lift, travel},
    {"tractor.lift_rod.pin_off_link", Station::lift, rod_detail},
    {"tractor.lift_rod.free_rise", Station::lift, rod_detail},
    {"tractor.lift_arm.", Station::lift, arm},
    {"tractor.lift_rod.", Station::lift, arm},
    {"tractor.pto.shaft_diameter", Station::pto, never},
    {"tractor.pto.", Station::pto, driven},
    {"tractor.drawbar.end_", Station::drawbar, drawbar_end},
    {"tractor.drawbar.out_of_the_way", Station::drawbar, driven},
    {"tractor.cab_line.", Station::cab, mounted},
    {"tractor.mass.", Station::rear_axle, never},
    {"implement.attachment", Station::outline, never},
    {"implement.hitch.narrow", Station::implement_pins, implement_narrow},
    {"implement.hitch.upper_pin_diameter", Station::mast, mounted},
    {"implement.hitch.", Station::implement_pins, mounted},
    {"implement.mast_pin.", Station::mast, mounted},
    {"implement.upper_link_float.slack", Station::mast, slack},
    {"implement.upper_link_float.strap_length", Station::mast, strap},
    {"implement.upper_link_float.strap_", Station::mast, strap_detail},
    {"implement.upper_link_float.", Station::mast, mounted},
    {"implement.pic.shaft_diameter", Station::input_shaft, never},
    {"implement.pic.", Station::input_shaft, driven},
    {"implement.work.ball_height", Station::coupled, working_height},
    {"implement.work.", Station::coupled, mounted},
    {"implement.ground_contact.", Station::outline, mounted},
    {"implement.point.", Station::outline, mounted},
    {"implement.mass.mass", Station::outline, never},
    {"implement.mass.", Station::outline, mounted},
    {"driveline.shaft.reference", Station::shaft_on_bench, reference},
    {"driveline.shaft.tractor_tube", Station::shaft_on_bench, tube},
    {"driveline.shaft.implement_tube", Station::shaft_on_bench, tube},
    {"driveline.shaft.overlap_closed", Station::shaft_on_bench, overlap},
    {"driveline.shaft.longest_usable", Station::shaft_on_bench, if_given},
    {"driveline.shaft.power_540", Station::shaft_on_bench, power_540},
    {"driveline.shaft.power_1000", Station::shaft_on_bench, power_1000},
    {"driveline.tractor_joint.spacing", Station::shaft_on_bench, tractor_spacing},
    {"driveline.implement_joint.spacing", Station::shaft_on_bench, implement_spacing},
    {"driveline.tractor_joint.centre_to_groove", Station::shaft_on_bench, to_groove},
    {"driveline.implement_joint.centre_to_groove", Station::shaft_on_bench, to_groove},
    {"driveline.tractor_joint.centre_to_end", Station::shaft_on_bench, to_end},
    {"driveline.implement_joint.centre_to_end", Station::shaft_on_bench, to_end},
    {"driveline.tractor_joint.angle_most", Station::shaft_on_bench, if_given},
    {"driveline.implement_joint.angle_most", Station::shaft_on_bench, if_given},
    {"driveline.", Station::shaft_on_bench, driven},
    {"choices.upper_link_length_now", Station::coupled, mounted},
    {"choices.", Station::coupled, never},
    {"coupler.", Station::add_on_parts, always},
    {"link_extender.", Station::add_on_parts, always},
    {"overrunning_clutch.", Station::add_on_parts, always},
    {"spline_extender.", Station::add_on_parts, always},
};

}  // namespace

std::optional<MeasuringRule> find_measuring_rule(std::string_view plain_key, const Setup& setup, const MeasuringJob& job) {
    const auto* const found = std::find_if(std::begin(rules), std::end(rules),
                                           [&](const Rule& r) { return plain_key.starts_with(r.begins); });
    if (found == std::end(rules)) return std::nullopt;
    return MeasuringRule{found->station, found->ask({setup, job})};
}

}  // namespace hitchwright
