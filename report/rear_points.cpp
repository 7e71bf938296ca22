// The named points of the picture from behind (rear_view.h).
#include "geometry/standing_tractor.h"
#include "report/rear_parts.h"
#include "report/rear_view.h"

namespace hitchwright {
namespace {

std::string item_key(const char* list, const std::string& name, std::size_t index) {
    return std::string(list) + "[" + (name.empty() ? std::to_string(index + 1) : name) + "].";
}

void add_side(const MountedModel& m, const SpacePose& p, TractorSide side, std::vector<PicturePoint>& points) {
    const bool right = side == TractorSide::right;
    const std::string word = right ? ", right" : ", left", rod_key = right ? "choices.right_lift_rod_length" : "choices.left_lift_rod_length";
    points.push_back({"front pin of the lower link" + word, from_behind(right ? p.right_pivot : p.left_pivot), {"tractor.lower_link.half_spread_at_pivot", "tractor.lower_link.pivot_z"}});
    PicturePoint ball{"ball end of the lower link" + word, from_behind(right ? p.hitch.right_ball : p.hitch.left_ball), {"tractor.lower_link.half_spread_at_ball", rod_key}};
    if (p.on_rods) ball.drag = right ? PointDrag::right_lift_rod : PointDrag::left_lift_rod;
    else ball.note = "Without lift arm and rods the hitch is drawn level.";
    points.push_back(ball);
    if (p.on_rods) {
        points.push_back({"end of the lift arm" + word, from_behind(right ? p.rods.right_arm_end : p.rods.left_arm_end), {"tractor.lift_arm.length", "tractor.lift_arm.half_spread"}});
        const std::string along = m.rod_hole.empty() ? "tractor.lift_rod.pin_along_link" : "tractor.lift_rod_hole[" + m.rod_hole + "].pin_along_link";
        points.push_back({"foot of the lift rod" + word, from_behind(right ? p.rods.right_foot : p.rods.left_foot), {along, rod_key, "tractor.lift_rod.length"}});
    }
    if (m.space.sway_source != SwaySource::chains) return;
    const ChainLine c = find_chain_line(m.space, p, side);
    const std::string length = right ? "choices.right_check_chain_length" : "choices.left_check_chain_length";
    points.push_back({"pin of the check chain on the tractor" + word, from_behind(c.anchor), {"tractor.check_chain.anchor_half_spread", "tractor.check_chain.anchor_z", length}});
    points.push_back({"pin of the check chain on the lower link" + word, from_behind(c.pin), {"tractor.check_chain.pin_along_link", length, "tractor.check_chain.length"}});
}

void add_implement(const Setup& s, const MountedModel& m, const SpacePose& p, std::vector<PicturePoint>& points) {
    points.push_back({m.has_coupler ? "coupler's own pin for the upper link" : "mast pin", from_behind(p.mast_pin), {item_key("implement.mast_pin", s.implement.mast_pins[m.mast_pin].name, m.mast_pin) + "height"}});
    const PicReadings& pic = s.implement.pic;
    if (pic.fitted && pic.x.known && pic.z.known)
        points.push_back({"end of the input shaft", from_behind(place_in_space(m, p, pic.x, pic.z, pic.y.value_or(0.0))), {"implement.pic.y", "implement.pic.z"}});
    for (std::size_t i = 0; i < s.implement.points.size(); ++i) {
        const ImplementPoint& q = s.implement.points[i];
        if (!q.x.known || !q.z.known || !q.half_width.known) continue;
        const std::string key = item_key("implement.point", q.name, i), name = q.name.empty() ? "point " + std::to_string(i + 1) : q.name;
        for (const bool right : {false, true}) {
            const double y = q.y.value_or(0.0) + (right ? q.half_width.value : -q.half_width.value);
            points.push_back({name + (right ? ", right end" : ", left end"), from_behind(place_in_space(m, p, q.x, q.z, y)), {key + "half_width", key + "z"}});
        }
    }
}

}  // namespace

std::vector<PicturePoint> list_rear_points(const Setup& s, const Analysis& analysis, const HitchView& at) {
    std::vector<PicturePoint> points;
    if (!analysis.linkage) return points;
    const MountedModel& m = analysis.linkage->model;
    const SpacePose p = find_space_pose(m, at);
    if (!p.closes) return points;
    const StandingSetup on(s);
    const Tractor& t = on->tractor;
    points.push_back({"upper-link hole in use", {0.0, m.linkage.upper_pin.y()}, {item_key("tractor.upper_link_pin", t.upper_link_pins[m.tractor_pin].name, m.tractor_pin) + "z"}});
    if (t.pto.stub_x.known && t.pto.stub_z.known) points.push_back({"end of the PTO stub", {t.pto.stub_y.value_or(0.0), t.pto.stub_z.value}, {"tractor.pto.stub_y", "tractor.pto.stub_z"}});
    PicturePoint middle{"middle between the lower hitch points", from_behind(p.hitch.pose.hitch), {"tractor.sway.total_at_ball"}};
    if (m.space.sway_source == SwaySource::chains) middle.keys = {"tractor.check_chain.length"};
    if (m.space.sway_source != SwaySource::none) middle.drag = PointDrag::sway;
    else middle.note = "Nobody measured how far the hitch can sway.";
    points.push_back(middle);
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) add_side(m, p, side, points);
    add_implement(s, m, p, points);
    return points;
}

}  // namespace hitchwright
