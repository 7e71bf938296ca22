// See picture_sizes.h.
#include "report/picture_sizes.h"

#include <fmt/format.h>

#include <cmath>

#include "geometry/clearance.h"
#include "geometry/pose_report.h"
#include "report/clearance_view.h"
#include "report/side_view_scene.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr int height_rank = 4, length_rank = 5;
constexpr double smallest_shown = 0.0008;  // m: half a sixteenth; less has no room for arrows and no meaning on a tape

class SizeList {
public:
    explicit SizeList(UnitSystem units) : units_(units) {}

    /// A distance of the picture itself.
    void add(DrawingPoint from, DrawingPoint to, DimensionDirection direction, const char* what, int rank) {
        const PictureDistance d = find_distance(from, to);
        const double size = direction == DimensionDirection::aligned      ? d.straight
                            : direction == DimensionDirection::horizontal ? std::fabs(d.horizontal)
                                                                          : std::fabs(d.vertical);
        add_reading(from, to, direction, what, size, rank);
    }
    /// A length in space, as taped; the picture may show it short.
    void add_reading(DrawingPoint from, DrawingPoint to, DimensionDirection direction, const char* what, double size, int rank) {
        if (std::fabs(size) >= smallest_shown) marks.push_back({from, to, direction, fmt::format("{} {}", what, format_length(size, units_)), rank});
    }

    std::vector<DimensionMark> marks;

private:
    UnitSystem units_;
};

const PinHole* find_chosen(const std::vector<PinHole>& holes) {
    for (const PinHole& h : holes) {
        if (h.chosen) return &h;
    }
    return nullptr;
}

void add_tractor(const Setup& s, const TractorView& t, SizeList& list) {
    const auto height = [&](DrawingPoint p, const char* what) { list.add({p.x, 0.0}, p, DimensionDirection::vertical, what, height_rank); };
    height(t.lower_link_pivot, "link's front pin");
    if (const PinHole* hole = find_chosen(t.upper_link_pins)) height(hole->at, "hole");
    if (!t.pto_stub_end) return;
    height(*t.pto_stub_end, "PTO");
    if (s.tractor.tyre.rear_radius.known)
        list.add({0.0, t.pto_stub_end->z}, *t.pto_stub_end, DimensionDirection::horizontal, "axle to PTO", height_rank);
}

void add_links(const Setup& s, const TractorView& t, const PoseView& pose, SizeList& list) {
    if (s.tractor.lower_link.length.known)
        list.add_reading(t.lower_link_pivot, pose.lower_hitch_point, DimensionDirection::aligned, "lower link", s.tractor.lower_link.length.value, length_rank);
    if (pose.lift && s.tractor.lift_rod.length.known)
        list.add_reading(pose.lift->arm_end, pose.lift->rod_pin, DimensionDirection::aligned, "lift rod", s.tractor.lift_rod.length.value, length_rank);
}

void add_implement(const PoseView& pose, double mast_height, SizeList& list) {
    // Square to the frame, as a mast is measured.
    const DrawingPoint hitch = pose.coupler ? pose.coupler->lower_hook : pose.lower_hitch_point;
    const DrawingPoint top{hitch.x - mast_height * std::sin(pose.pitch), hitch.z + mast_height * std::cos(pose.pitch)};
    if (mast_height > 0.0) list.add_reading(hitch, top, DimensionDirection::aligned, "mast", mast_height, length_rank);
    if (!pose.input_shaft_end) return;
    list.add(hitch, *pose.input_shaft_end, DimensionDirection::horizontal, "pins to input shaft", length_rank);
    list.add({pose.input_shaft_end->x, 0.0}, *pose.input_shaft_end, DimensionDirection::vertical, "input shaft", length_rank);
}

void add_nearest(const Setup& s, const MountedModel& m, const SideViewScene& scene, double height, double upper_length, UnitSystem units, SizeList& list) {
    const std::optional<Clearance> nearest = find_nearest_clearance(s, m, height, upper_length);
    if (!nearest) return;
    for (const ClearanceView& c : make_clearance_views(s, m, *scene.tractor, {*nearest}, units)) {
        const std::string room = c.clearance < 0.0 ? "touch by " + format_length(-c.clearance, units, Rounding::up) : "room " + format_length(c.clearance, units, Rounding::down);
        list.marks.push_back({c.from, c.to, DimensionDirection::aligned, room, length_rank});
    }
}

const char* plain_direction(PictureFrame frame, bool horizontal, double signed_part) {
    if (frame == PictureFrame::rear && horizontal) return signed_part > 0.0 ? "to the right" : "to the left";
    if (horizontal) return frame == PictureFrame::ditch ? (signed_part > 0.0 ? "back along the way" : "forward along the way") : (signed_part > 0.0 ? "rearward" : "forward");
    if (frame == PictureFrame::plan) return signed_part > 0.0 ? "to the right" : "to the left";
    return signed_part > 0.0 ? "up" : "down";
}

}  // namespace

std::vector<DimensionMark> list_size_marks(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units) {
    const SideViewScene scene = make_bare_scene(setup, analysis, ball_height, units);
    if (!scene.tractor || !scene.working || !analysis.linkage) return {};
    const MountedModel& m = analysis.linkage->model;
    SizeList list(units);
    add_tractor(setup, *scene.tractor, list);
    add_links(setup, *scene.tractor, *scene.working, list);
    add_implement(*scene.working, setup.implement.mast_pins[m.mast_pin].height.value_or(0.0), list);
    const double height = std::min(std::max(ball_height, m.travel.low), m.travel.high);
    add_nearest(setup, m, scene, height, make_pose_report(setup, m, height).upper_length, units, list);
    return list.marks;
}

PictureDistance find_distance(DrawingPoint from, DrawingPoint to) {
    const double dx = to.x - from.x, dz = to.z - from.z;
    return {std::hypot(dx, dz), dx, dz};
}

std::vector<DimensionMark> measure_between(DrawingPoint from, DrawingPoint to, UnitSystem units) {
    const PictureDistance d = find_distance(from, to);
    std::vector<DimensionMark> marks{{from, to, DimensionDirection::aligned, format_length(d.straight, units), 0}};
    if (std::fabs(d.horizontal) < smallest_shown || std::fabs(d.vertical) < smallest_shown) return marks;
    marks.push_back({from, to, DimensionDirection::horizontal, format_length(std::fabs(d.horizontal), units), 0});
    marks.push_back({from, to, DimensionDirection::vertical, format_length(std::fabs(d.vertical), units), 0});
    return marks;
}

std::string say_distance(const PicturePoint& from, const PicturePoint& to, PictureFrame frame, UnitSystem units) {
    const PictureDistance d = find_distance(from.at, to.at);
    const auto part = [&](double size, bool horizontal) { return fmt::format("{} {}", format_length(std::fabs(size), units), plain_direction(frame, horizontal, size)); };
    return fmt::format("From {} to {}: {}; {}, {}. In the picture: {} is not in it.", printable_text(from.name, 60), printable_text(to.name, 60),
                       format_length(d.straight, units), part(d.horizontal, true), part(d.vertical, false),
                       frame == PictureFrame::plan ? "a difference of height" : frame == PictureFrame::rear ? "an offset fore and aft" : "an offset sideways");
}

}  // namespace hitchwright
