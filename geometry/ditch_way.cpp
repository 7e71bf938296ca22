// See ditch_way.h.
#include "geometry/ditch_way.h"

#include <algorithm>
#include <cmath>

#include "geometry/length_over_box.h"

namespace hitchwright {
namespace {

constexpr int most_stations = 20000;

}  // namespace

double value_of(const DitchStation& s, DitchQuantity q) {
    switch (q) {
        case DitchQuantity::shortest:
        case DitchQuantity::longest:
            return s.shaft.length;
        case DitchQuantity::tractor_angle:
            return s.shaft.tractor_angle;
        case DitchQuantity::implement_angle:
            return s.shaft.implement_angle;
        case DitchQuantity::pitch_up:
        case DitchQuantity::pitch_down:
            return s.pose.relative.pitch;
        case DitchQuantity::roll:
            return std::fabs(s.pose.relative.roll);
    }
    return 0.0;
}

double signed_value_of(const DitchStation& s, DitchQuantity q) { return q == DitchQuantity::roll ? s.pose.relative.roll : value_of(s, q); }

double badness(const DitchStation& s, DitchQuantity q) {
    const bool least = q == DitchQuantity::shortest || q == DitchQuantity::pitch_down;
    return least ? -value_of(s, q) : value_of(s, q);
}

DitchMarch::DitchMarch(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, Heading heading)
    : model_(model),
      rig_(rig),
      crossing_(heading == Heading::other_way ? Crossing{mirror(crossing.profile), crossing.angle} : crossing),
      solver_(rig_, crossing_) {}

DitchStation DitchMarch::at(double place, const TerrainPose* near) const {
    DitchStation s{solver_.solve(place, near), {}};
    if (s.pose.stands && model_.has_shaft) s.shaft = find_driveline_state(model_, s.pose.relative);
    return s;
}

const DitchStation& DitchMarch::look(double place, const TerrainPose* near) const {
    const auto same = std::find_if(looked_.begin(), looked_.end(), [&](const DitchStation& s) { return s.pose.place == place; });
    return same != looked_.end() ? *same : looked_.emplace_back(at(place, near));
}

DitchStation DitchMarch::limited_at(double place, const TerrainPose* near) const {
    DitchStation s{solver_.solve(place, near), {}};
    if (s.pose.stands && model_.has_shaft) s.shaft = find_limited_state(model_, s.pose.relative);
    return s;
}

std::vector<double> DitchMarch::list_places(double step) const {
    const WayRange range = find_way(rig_, crossing_);
    const int count = static_cast<int>(std::min<double>(std::ceil((range.first - range.last) / step), most_stations));
    std::vector<double> places;
    for (int i = 0; i <= count; ++i) places.push_back(range.first + (range.last - range.first) * i / count);
    return places;
}

DitchStation find_peak(const DitchMarch& way, DitchStation best, double from, double to, DitchQuantity q, const PeakEnough& enough) {
    constexpr double golden = 0.6180339887498949;
    const auto look = [&](double place) {
        const DitchStation& found = way.look(place, &best.pose);
        if (found.pose.stands && badness(found, q) > badness(best, q)) best = found;
        return found;
    };
    DitchStation a = look(to - golden * (to - from)), b = look(from + golden * (to - from));
    while (std::fabs(to - from) > place_closeness && a.pose.stands && b.pose.stands) {
        if (enough && enough(best, std::fabs(to - from))) break;
        if (badness(a, q) > badness(b, q)) {
            to = b.pose.place;
            b = a;
            a = look(to - golden * (to - from));
        } else {
            from = a.pose.place;
            a = b;
            b = look(from + golden * (to - from));
        }
    }
    return best;
}

std::vector<Heading> list_headings(const Crossing& crossing) {
    if (mirror(crossing.profile) == crossing.profile) return {Heading::as_given};
    return {Heading::as_given, Heading::other_way};
}

}  // namespace hitchwright
