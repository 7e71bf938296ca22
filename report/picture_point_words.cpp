// Points and parts of a picture in words, and the shapes under the cursor (picture_points.h).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/visit_readings.h"
#include "report/picture_points.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

double segment_distance(DrawingPoint a, DrawingPoint b, DrawingPoint p) {
    const double dx = b.x - a.x, dz = b.z - a.z, d2 = dx * dx + dz * dz;
    const double t = d2 > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.z - a.z) * dz) / d2, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - t * dx, p.z - a.z - t * dz);
}

double line_distance(const std::vector<DrawingPoint>& points, bool closed, DrawingPoint p) {
    double least = farthest_drawn;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) least = std::min(least, segment_distance(points[i], points[i + 1], p));
    if (closed && points.size() > 2) least = std::min(least, segment_distance(points.back(), points.front(), p));
    return least;
}

bool is_inside(const std::vector<DrawingPoint>& area, DrawingPoint p) {
    bool inside = false;
    for (std::size_t i = 0, j = area.size() - 1; i < area.size(); j = i++) {
        const DrawingPoint &a = area[i], &b = area[j];
        if ((a.z > p.z) != (b.z > p.z) && p.x < a.x + (b.x - a.x) * (p.z - a.z) / (b.z - a.z)) inside = !inside;
    }
    return inside;
}

/// Distance of a place from what a shape covers, m; 0 inside.
struct ShapeDistance {
    DrawingPoint p;
    bool filled = false;
    double operator()(const Polyline& l) const { return line_distance(l.points, false, p); }
    double operator()(const Polygon& g) const { return filled && !g.points.empty() && is_inside(g.points, p) ? 0.0 : line_distance(g.points, true, p); }
    double operator()(const Circle& c) const {
        const double off = std::hypot(p.x - c.centre.x, p.z - c.centre.z) - c.radius;
        return filled ? std::max(off, 0.0) : std::fabs(off);
    }
    double operator()(const Arc& a) const { return line_distance(flatten_arc(a, 0.01 * std::max(a.radius, 1e-3)), false, p); }
    double operator()(const Marker& m) const { return std::hypot(p.x - m.at.x, p.z - m.at.z); }
};

std::string beside(double metres, const char* positive, const char* negative, const char* none, UnitSystem units) {
    const std::string size = format_length(std::fabs(metres), units);
    if (size == format_length(0.0, units)) return none;
    return size + " " + (metres > 0.0 ? positive : negative);
}

const char* action_of(const PicturePoint& p) {
    switch (p.drag) {
        case PointDrag::lift: return "Drag it up or down: the lift follows.";
        case PointDrag::turn: return "Drag it: the implement turns about the hitch.";
        case PointDrag::tractor_hole: return "Drag it to another hole of the tractor.";
        case PointDrag::mast_hole: return "Drag it to another hole of the mast.";
        case PointDrag::drawbar_pin: return "Drag it to another position of the drawbar.";
        case PointDrag::left_lift_rod: return "Drag it up or down: the left lift rod becomes shorter or longer, the lift arms stay.";
        case PointDrag::right_lift_rod: return "Drag it up or down: the right lift rod becomes shorter or longer, the lift arms stay.";
        case PointDrag::sway: return "Drag it to a side: the hitch sways as far as it can.";
        case PointDrag::readings: return "Drag it, or press Enter to type its readings.";
        case PointDrag::none: break;
    }
    return p.x_key.empty() ? "It follows from these readings and cannot be pulled itself." : "Press Enter to type its readings.";
}

/// A lift rod or a check chain, of one side where the picture shows both.
std::vector<std::string> find_rod_keys(const std::string& name) {
    const bool chain = name.starts_with("check chain");
    const std::string part = chain ? "check_chain" : "lift_rod", own = "tractor." + part + ".length";
    if (name.ends_with(", right")) return {"choices.right_" + part + "_length", own};
    if (name.ends_with(", left")) return {"choices.left_" + part + "_length", own};
    return {own};
}

}  // namespace

std::string say_place(DrawingPoint place, PictureFrame frame, UnitSystem units) {
    if (frame == PictureFrame::rear)
        return beside(place.x, "right of the tractor's middle", "left of the tractor's middle", "in the tractor's middle", units) + ", " +
               beside(place.z, "above the ground", "below the ground", "at the ground", units);
    const bool ditch = frame == PictureFrame::ditch;
    const std::string along = ditch ? beside(place.x, "before the middle of the ditch", "past the middle of the ditch", "at the middle of the ditch", units)
                                    : beside(place.x, "behind the rear axle", "ahead of the rear axle", "level with the rear axle", units);
    if (frame == PictureFrame::plan)
        return along + ", " + beside(place.z, "right of the tractor's middle", "left of the tractor's middle", "in the tractor's middle", units);
    return along + ", " + beside(place.z, "above the ground", "below the ground", "at the ground", units);
}

std::string say_reading(const std::string& key, const Setup& setup, UnitSystem units) {
    std::string text = printable_text(key, 80) + ": not known";
    Setup copy = setup;
    visit_readings(copy, [&](const std::string& name, const Reading& r, const FieldSpec& spec) {
        if (name != key || !r.known) return;
        const auto value = [&](double v) {
            if (spec.dimension == Dimension::length) return format_length(v, units, Rounding::nearest, MillimetrePlaces::tenth);
            return spec.dimension == Dimension::angle ? format_angle(v) : format_decimal_quantity(v, spec.dimension, units);
        };
        text = fmt::format("{}: {}, {}", printable_text(key, 80), value(r.value), origin_word(r.origin));
        if (r.tolerance > 0.0) text += fmt::format(", usual error +- {}", spec.dimension == Dimension::length ? format_length(r.tolerance, units, Rounding::up) : value(r.tolerance));
    });
    return text;
}

PictureWords say_point(const PicturePoint& point, const Setup& setup, PictureFrame frame, UnitSystem units) {
    PictureWords words;
    words.title = printable_text(point.name, 80) + (point.chosen ? ", in use" : "");
    words.place = say_place(point.at, frame, units);
    for (const std::string& key : point.keys) words.readings.push_back(say_reading(key, setup, units));
    words.action = point.note.empty() ? action_of(point) : point.note;
    return words;
}

PictureWords say_part(const PicturePart& part, const Setup& setup, UnitSystem units) {
    PictureWords words;
    words.title = printable_text(part.name, 80);
    for (const std::string& key : part.keys) words.readings.push_back(say_reading(key, setup, units));
    return words;
}

std::optional<PicturePart> find_part(const Shape& shape, const Setup& setup) {
    if (shape.name.empty() && shape.role != Role::tyre && shape.role != Role::drawbar && shape.role != Role::pto_stub) return std::nullopt;
    PicturePart part{shape.name, {}};
    switch (shape.role) {
        case Role::tyre: part = {shape.name.empty() ? "tyre" : shape.name, {"tractor.tyre.rear_radius", "tractor.tyre.rear_width", "tractor.tyre.rear_track"}}; break;
        case Role::drawbar: part = {"drawbar", {"tractor.drawbar.end_x", "tractor.drawbar.end_z"}}; break;
        case Role::pto_stub: part = {"PTO stub", {"tractor.pto.stub_x", "tractor.pto.stub_z", "tractor.pto.stub_slope"}}; break;
        case Role::lower_link: part.keys = {"tractor.lower_link.length"}; break;
        case Role::upper_link: part = {"upper link", {"choices.upper_link_length", "tractor.upper_link.length_least", "tractor.upper_link.length_most"}}; break;
        case Role::lift_arm: part.keys = {"tractor.lift_arm.length"}; break;
        case Role::lift_rod: part.keys = find_rod_keys(shape.name); break;
        case Role::shaft_tractor_half: part = {"shaft, tractor half", {"driveline.shaft.closed_length", "driveline.shaft.tractor_tube", "choices.cut_tractor_half"}}; break;
        case Role::shaft_implement_half: part = {"shaft, implement half", {"driveline.shaft.closed_length", "driveline.shaft.implement_tube", "choices.cut_implement_half"}}; break;
        case Role::guard: part = {"guard of the shaft", {"driveline.guard.radius", "driveline.guard.closed_length"}}; break;
        case Role::input_shaft: part.keys = {"implement.pic.x", "implement.pic.z", "implement.pic.slope"}; break;
        default: break;
    }
    if (setup.implement.attachment == Attachment::drawn && shape.role == Role::drawbar) part.keys = {"tractor.drawbar.top_height"};
    return part;
}

const Shape* find_shape_at(const Drawing& drawing, DrawingPoint place, double reach) {
    const Shape* found = nullptr;
    for (const Shape& s : drawing.shapes) {
        const bool area = style_of(s.role).filled;
        if (s.name.empty() || std::visit(ShapeDistance{place, area}, s.form) > reach) continue;
        if (!found || style_of(s.role).layer >= style_of(found->role).layer) found = &s;
    }
    return found;
}

Reading find_reading(const std::string& key, const Setup& setup) {
    Reading found;
    Setup copy = setup;
    visit_readings(copy, [&](const std::string& name, const Reading& r, const FieldSpec&) {
        if (name == key) found = r;
    });
    return found;
}

double drag_step(UnitSystem units) { return units == UnitSystem::inch ? metres_per_sixteenth : 1.0e-3; }

std::pair<std::string, double> make_length_text(double metres, UnitSystem units, double step) {
    const double value = round_to_step(metres, step, Rounding::nearest, 0.0);
    if (units == UnitSystem::millimetre) return {fmt::format("{:.9g} mm", value * 1000.0), value};
    return {fmt::format("{:.9g} in", value / metres_per_inch), value};
}

}  // namespace hitchwright
