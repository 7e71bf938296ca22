#include "geometry/clearance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include "geometry/clearance_pair.h"
#include "geometry/distance_panels.h"
#include "geometry/height_bands.h"
#include "geometry/mounted_extremes.h"
#include "geometry/pose_report.h"
#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

template <class T>
Vec2<T> fixed(const Point& p) { return {T(p.x()), T(p.y())}; }

/// Closeness in the distance while searching its square.
bool close_distance(double value, double bound) {
    return std::fabs(std::sqrt(std::max(0.0, value)) - std::sqrt(std::max(0.0, bound))) <= length_closeness;
}

/// Panels for what `places` gives of a pose: the two places of a point, or a point and a segment.
template <class Places>
using DistancePanels = std::conditional_t<std::is_same_v<std::invoke_result_t<Places, KernelPose<double>>, PointPlaces<double>>,
                                          PointPanels<Places>, SegmentPanels<Places>>;

/// Where a point of the tractor and one of the implement are looked at together. In frame I distances between parts of the
/// implement stay constants, which keeps the enclosures of intervals tight where a nearest point is the mast pin or the implement
/// joint. Models lose nothing in frame T, and placing a point takes less than seeing one from the implement.
template <class T>
Vec2<T> see_tractor(const KernelPose<T>& pose, const Vec2<T>& p) {
    if constexpr (std::is_same_v<T, TravelModel>) return p;
    const Vec2<T> d = p - pose.ball;
    return {pose.cos_pitch * d.x + pose.sin_pitch * d.z, pose.cos_pitch * d.z - pose.sin_pitch * d.x};
}
template <class T>
Vec2<T> see_implement(const KernelPose<T>& pose, const Point& p) {
    if constexpr (std::is_same_v<T, TravelModel>) return pose.place(p.x(), p.y());
    return fixed<T>(p);
}

/// Ends of the shaft piece in side view, frame T.
template <class T>
std::pair<Vec2<T>, Vec2<T>> find_shaft_line(const MountedModel& m, const KernelPose<T>& pose) {
    if (m.ends.wide_angle == WideAngleEnd::none) {
        const Vec3<double>&from = m.ends.tractor_joint, &to = m.ends.implement_joint;
        return {{T(from.x), T(from.z)}, pose.place(to.x, to.z)};
    }
    const ShaftState<T> s = find_shaft_state(m.ends, pose);
    return {{s.from.x, s.from.z}, {s.to.x, s.to.z}};
}

using RoomAtPose = std::function<double(const KernelPose<double>&)>;

struct PairAtPose {
    ClearanceKind kind{};
    const std::string* part = nullptr;
    RoomAtPose room;
};

class ClearanceSearch {
public:
    /// `only`: the one pair wanted; null for all.
    ClearanceSearch(const Setup& setup, const MountedModel& model, const TravelBox& box, const Clearance* only)
        : standing_(setup), setup_(*standing_), model_(model), box_(box), only_(only) {}

    /// Looks for heights at which the pair is nearer than `room` instead of for the least distance.
    ClearanceSearch(const Setup& setup, const MountedModel& model, const TravelBox& box, const Clearance& only, double room)
        : standing_(setup), setup_(*standing_), model_(model), box_(box), only_(&only), room_(room) {}

    std::vector<Clearance> run() {
        if (model_.has_shaft && setup_.driveline.guard_radius.known) guard();
        for (const ImplementPoint& p : setup_.implement.points) {
            tyre(p);
            cab(p);
            upper_link(p);
        }
        return found_;
    }

    std::vector<HeightRange> run_heights() {
        run();
        return nearer_;
    }

    /// A point of `like` is in the cab with the hitch at the bottom.
    bool starts_in_cab(const Clearance& like) const {
        const std::vector<ImplementPoint>& points = setup_.implement.points;
        return like.kind == ClearanceKind::point_to_cab &&
               std::any_of(points.begin(), points.end(), [&](const ImplementPoint& p) { return p.name == like.part && starts_in_cab(p); });
    }

    /// The pairs with their room as functions of a pose, which look into this search and the model.
    std::vector<PairAtPose> list_rooms() {
        std::vector<PairAtPose> pairs;
        pairs_ = &pairs;
        run();
        pairs_ = nullptr;
        return pairs;
    }

    std::vector<Clearance> run_deck_edges() {
        if (model_.has_shaft && setup_.driveline.guard_radius.known) deck_edges(setup_.driveline.guard_radius.value);
        return found_;
    }

private:
    /// Least distance over the box, less `radius`; or the heights at which it is below the room asked for.
    template <class Places>
    TravelExtreme measure(const Places& places, double radius) {
        const auto squared = [places](const auto& pose) { return find_distance_squared(places(pose)); };
        if (pairs_) {
            parts_.push_back([squared, radius](const KernelPose<double>& pose) { return std::sqrt(squared(pose)) - radius; });
            return {};
        }
        if (!room_ && is_pose()) return measure_pose(squared, radius);
        if (!room_) return find_least_distance(places, squared, radius);
        const double least = radius + *room_;
        if (least <= 0.0) return {};  // nothing is nearer than the centre
        for (const HeightRange& r : find_nearer(places, squared, least * least)) nearer_ = add_heights(std::move(nearer_), r);
        return {};
    }

    template <class Places, class Q>
    TravelExtreme find_least_distance(const Places& places, const Q& squared, double radius) {
        TravelExtreme e = moves_height_alone() ? DistancePanels<Places>(find_poses(), places).find_least_square(close_distance)
                                               : find_least(model_.linkage, box_, squared, close_distance);
        e.value = std::sqrt(std::max(0.0, e.value)) - radius;
        e.bound = std::sqrt(std::max(0.0, e.bound)) - radius;
        return e;
    }
    template <class Places, class Q>
    std::vector<HeightRange> find_nearer(const Places& places, const Q& squared, double limit) {
        if (moves_height_alone()) return DistancePanels<Places>(find_poses(), places).find_below(limit);
        const auto negated = [&squared](const auto& pose) { return -squared(pose); };
        return find_remaining_heights(box_.heights, find_heights_inside(model_.linkage, box_, negated, -limit));
    }

    bool moves_height_alone() const { return box_.upper_lengths.low == box_.upper_lengths.high && box_.heights.low < box_.heights.high; }
    const TravelPoses& find_poses() {
        if (!poses_) poses_.emplace(model_.linkage, box_);
        return *poses_;
    }

    bool is_pose() const { return box_.heights.low == box_.heights.high && box_.upper_lengths.low == box_.upper_lengths.high; }

    /// In one pose there is nothing to search.
    template <class Q>
    TravelExtreme measure_pose(const Q& squared, double radius) const {
        TravelExtreme e;
        e.height = box_.heights.low;
        e.upper_length = box_.upper_lengths.low;
        e.value = e.bound = std::sqrt(squared(solve_kernel<double>(model_.linkage, e.height, e.upper_length))) - radius;
        e.evaluations = 1;
        e.converged = true;
        return e;
    }

    bool is_wanted(ClearanceKind kind, const std::string& part) const {
        return !only_ || (only_->kind == kind && only_->part == part);
    }

    void deck_edges(double radius) {
        for (const ImplementPoint& p : setup_.implement.points) {
            if (!p.deck_edge || !is_wanted(ClearanceKind::guard_to_deck_edge, p.name)) continue;
            const auto q = [this, point = find_body_point(model_, p.x, p.z)](const auto& pose) {
                const auto [a, b] = find_shaft_line(model_, pose);
                using T = std::decay_t<decltype(a.x)>;
                return SegmentPlaces<T>{see_implement(pose, point), see_tractor(pose, a), see_shaft_end(pose, b)};
            };
            add(ClearanceKind::guard_to_deck_edge, p.name, measure(q, radius), false);
        }
    }

    void guard() {
        const double radius = setup_.driveline.guard_radius.value;
        deck_edges(radius);
        static const std::string drawbar = "drawbar";
        if (!is_wanted(ClearanceKind::guard_to_drawbar, drawbar)) return;
        const DrawbarReadings& d = setup_.tractor.drawbar;
        if (d.out_of_the_way == YesNo::yes || !d.end_x.known || !d.end_z.known) return;
        const Point end(d.end_x.value, d.end_z.value);
        const auto q = [this, end](const auto& pose) {
            const auto [a, b] = find_shaft_line(model_, pose);
            using T = std::decay_t<decltype(a.x)>;
            return SegmentPlaces<T>{fixed<T>(end), a, b};
        };
        add(ClearanceKind::guard_to_drawbar, drawbar, measure(q, radius), false);
    }

    /// Rear end of the shaft: the implement joint itself unless a wide-angle joint moves its inner cross.
    template <class T>
    Vec2<T> see_shaft_end(const KernelPose<T>& pose, const Vec2<T>& end) const {
        if (model_.ends.wide_angle == WideAngleEnd::implement) return see_tractor(pose, end);
        return see_implement(pose, Point(model_.ends.implement_joint.x, model_.ends.implement_joint.z));
    }

    void tyre(const ImplementPoint& p) {
        const TyreReadings& y = setup_.tractor.tyre;
        if (!y.rear_radius.known || !is_wanted(ClearanceKind::point_to_tyre, p.name)) return;
        const bool widths = y.rear_track.known && y.rear_width.known && p.half_width.known;
        const double inner = 0.5 * (y.rear_track.value - y.rear_width.value);
        if (widths && p.half_width.value < inner) return;  // passes between the tyres
        const Point hub(0.0, y.rear_radius.value), point = find_body_point(model_, p.x, p.z);
        const auto q = [point, hub](const auto& pose) {
            using T = std::decay_t<decltype(pose.cos_pitch)>;
            return PointPlaces<T>{pose.place(point.x(), point.y()), fixed<T>(hub)};
        };
        add(ClearanceKind::point_to_tyre, p.name, measure(q, y.rear_radius.value), !widths);
    }

    void cab(const ImplementPoint& p) {
        const std::vector<NamedPoint>& line = setup_.tractor.cab_line;
        if (line.empty() || !is_wanted(ClearanceKind::point_to_cab, p.name)) return;
        bool have = false;
        TravelExtreme worst;
        const std::size_t segments = line.size() > 1 ? line.size() - 1 : 1;
        for (std::size_t i = 0; i < segments; ++i) {
            const NamedPoint& from = line[i];
            const NamedPoint& to = line[std::min(i + 1, line.size() - 1)];
            const TravelExtreme e = cab_segment(p, {from.x.value, from.z.value}, {to.x.value, to.z.value});
            if (!have || e.bound < worst.bound) worst = e;
            have = true;
        }
        if (pairs_) {
            RoomAtPose room = [this, &p, parts = std::exchange(parts_, {})](const KernelPose<double>& pose) {
                double least = std::numeric_limits<double>::infinity();
                for (const RoomAtPose& part : parts) least = std::min(least, part(pose));
                return least > 0.0 && is_in_cab(p, pose) ? -least : least;
            };
            pairs_->push_back({ClearanceKind::point_to_cab, &p.name, std::move(room)});
            return;
        }
        // A line has no inside. A point that starts in front of it and never meets it is in the cab all the way.
        if (worst.bound > 0.0 && starts_in_cab(p)) worst.value = worst.bound = -worst.value;
        add(ClearanceKind::point_to_cab, p.name, worst, false);
    }

    /// The point lies ahead of the line, at a height the line covers, with the hitch at the bottom.
    bool starts_in_cab(const ImplementPoint& p) const {
        return is_in_cab(p, solve_kernel<double>(model_.linkage, box_.heights.low, box_.upper_lengths.low));
    }

    bool is_in_cab(const ImplementPoint& p, const KernelPose<double>& pose) const {
        const Point point = find_body_point(model_, p.x, p.z);
        const Vec2<double> at = pose.place(point.x(), point.y());
        const std::vector<NamedPoint>& line = setup_.tractor.cab_line;
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            const double top = line[i].z.value, bottom = line[i + 1].z.value;
            if (at.z < std::min(top, bottom) || at.z > std::max(top, bottom) || top == bottom) continue;
            const double share = (at.z - bottom) / (top - bottom);
            if (at.x < line[i + 1].x.value + share * (line[i].x.value - line[i + 1].x.value)) return true;
        }
        return false;
    }

    TravelExtreme cab_segment(const ImplementPoint& p, const Point& from, const Point& to) {
        const Point point = find_body_point(model_, p.x, p.z);
        if (from == to) {
            return measure([point, from](const auto& pose) {
                using T = std::decay_t<decltype(pose.cos_pitch)>;
                return PointPlaces<T>{pose.place(point.x(), point.y()), fixed<T>(from)};
            }, 0.0);
        }
        return measure([point, from, to](const auto& pose) {
            using T = std::decay_t<decltype(pose.cos_pitch)>;
            return SegmentPlaces<T>{pose.place(point.x(), point.y()), fixed<T>(from), fixed<T>(to)};
        }, 0.0);
    }

    void upper_link(const ImplementPoint& p) {
        if (!is_wanted(ClearanceKind::point_to_upper_link, p.name)) return;
        const auto q = [this, point = find_body_point(model_, p.x, p.z)](const auto& pose) {
            using T = std::decay_t<decltype(pose.cos_pitch)>;
            return SegmentPlaces<T>{see_implement(pose, point), see_tractor(pose, fixed<T>(model_.linkage.upper_pin)),
                                    see_implement(pose, model_.linkage.mast_pin)};
        };
        add(ClearanceKind::point_to_upper_link, p.name, measure(q, 0.0), false);
    }

    void add(ClearanceKind kind, const std::string& part, const TravelExtreme& least, bool side_view_only) {
        if (pairs_) {
            pairs_->push_back({kind, &part, std::move(parts_.front())});
            parts_.clear();
            return;
        }
        found_.push_back({kind, part, least, side_view_only});
    }

    const StandingSetup standing_;
    const Setup& setup_;
    const MountedModel& model_;
    const TravelBox& box_;
    const Clearance* only_;
    std::optional<double> room_ = std::nullopt;
    std::optional<TravelPoses> poses_;  ///< over the box's heights, once they are asked for
    std::vector<PairAtPose>* pairs_ = nullptr;
    std::vector<RoomAtPose> parts_;  ///< of the pair that is looked at
    std::vector<Clearance> found_;
    std::vector<HeightRange> nearer_;
};

/// Visits every point and ground contact: its name, place in frame I, radius, whether it rests on the ground.
template <class F>
void visit_low_parts(const Setup& s, const MountedModel& m, const F& use) {
    for (const ImplementPoint& p : s.implement.points) use(p.name, find_body_point(m, p.x, p.z), 0.0, false);
    for (const GroundContact& c : s.implement.ground_contacts) use(c.name, find_body_point(m, c.x, c.z), c.radius.value_or(0.0), true);
}

bool closes_at_length(const MountedModel& m, double ball_height, double upper_length) {
    PlanarLinkage k = m.linkage;
    k.upper_length = upper_length;
    return closes_at(k, ball_height);
}

double find_height_above_ground(const MountedModel& m, double ball_height, double upper_length, const Point& p,
                                double radius) {
    return solve_kernel<double>(m.linkage, ball_height, upper_length).place(p.x(), p.y()).z - radius;
}

/// Least heights of points of the implement over a travel, bounded from below.
class LeastHeights {
public:
    LeastHeights(const MountedModel& model, const TravelBox& box) : model_(model), box_(box) {
        if (box.upper_lengths.low == box.upper_lengths.high) poses_.emplace(model.linkage, box);
    }
    double operator()(const Point& p) const {
        const PlainCloseness close{length_closeness};
        const auto height = [&](const auto& pose) { return std::array{pose.ball.z + pose.sin_pitch * p.x() + pose.cos_pitch * p.y()}; };
        if (poses_) return TravelPanels<1, decltype(height)>(*poses_, height).find_least(0, box_.heights, close).bound;
        return find_least(model_.linkage, box_, [&](const auto& pose) { return height(pose)[0]; }, close).bound;
    }

private:
    const MountedModel& model_;
    const TravelBox& box_;
    std::optional<TravelPoses> poses_;
};

}  // namespace

std::vector<Clearance> find_clearances(const Setup& setup, const MountedModel& model, const TravelBox& box) {
    return ClearanceSearch(setup, model, box, nullptr).run();
}

std::vector<HeightRange> find_heights_apart_by_less(const Setup& setup, const MountedModel& model, const TravelBox& box, const Clearance& like,
                                                    double room) {
    return ClearanceSearch(setup, model, box, like, room).run_heights();
}

std::vector<Clearance> find_deck_edge_clearances(const Setup& setup, const MountedModel& model, const TravelBox& box) {
    return ClearanceSearch(setup, model, box, nullptr).run_deck_edges();
}

class PairRooms::Parts {
public:
    Parts(const Setup& setup, const MountedModel& model, std::span<const Clearance> like)
        : model_(model), linkage_(model.linkage), search_(setup, model_, box_, like.size() == 1 ? like.data() : nullptr) {
        std::vector<PairAtPose> there = search_.list_rooms();
        for (const Clearance& wanted : like) {
            const auto same = [&](const PairAtPose& p) { return p.room && p.kind == wanted.kind && *p.part == wanted.part; };
            const auto at = std::find_if(there.begin(), there.end(), same);
            rooms_.push_back(at == there.end() ? RoomAtPose() : std::move(at->room));
            if (at != there.end()) at->room = nullptr;
        }
    }

    void put_on(const MountedModel& model) {
        model_.linkage = linkage_ = model.linkage;
        model_.ends = model.ends;
        last_.fill({});
    }

    std::optional<double> find(std::size_t pair, double height, double length) {
        const RoomAtPose& room = rooms_[pair];
        if (!room) return std::nullopt;
        const Solved& s = solve(height, length);
        return s.closes ? std::optional<double>(room(s.pose)) : std::nullopt;
    }

private:
    /// Pairs are asked about at the same few places.
    struct Solved {
        double height = std::numeric_limits<double>::quiet_NaN(), length = 0.0;
        bool closes = false;
        KernelPose<double> pose{};
    };

    const Solved& solve(double height, double length) {
        for (const Solved& s : last_) {
            if (s.height == height && s.length == length) return s;
        }
        Solved& s = last_[next_];
        next_ = (next_ + 1) % last_.size();
        linkage_.upper_length = length;
        s = {height, length, closes_at(linkage_, height), {}};
        if (s.closes) s.pose = solve_kernel<double>(linkage_, height, length);
        return s;
    }

    MountedModel model_;  ///< what the rooms look into
    PlanarLinkage linkage_;
    TravelBox box_;  // of no pose: only asked where heights are searched
    ClearanceSearch search_;
    std::vector<RoomAtPose> rooms_;
    std::array<Solved, 4> last_;
    std::size_t next_ = 0;
};

PairRooms::PairRooms(const Setup& setup, const MountedModel& model, std::span<const Clearance> like)
    : parts_(std::make_unique<Parts>(setup, model, like)) {}

PairRooms::~PairRooms() = default;

void PairRooms::put_on(const MountedModel& model) { parts_->put_on(model); }

std::optional<double> PairRooms::find_at(std::size_t pair, const TravelBox& place) const {
    return parts_->find(pair, place.heights.low, place.upper_lengths.low);
}

const char* clearance_against(ClearanceKind kind) {
    switch (kind) {
        case ClearanceKind::guard_to_deck_edge:
        case ClearanceKind::guard_to_drawbar: return "guard of the shaft";
        case ClearanceKind::point_to_tyre: return "rear tyre";
        case ClearanceKind::point_to_cab: return "rear of cab or ROPS";
        case ClearanceKind::point_to_upper_link: return "upper link";
    }
    return "";
}

std::optional<Clearance> find_nearest_clearance(const Setup& setup, const MountedModel& model, double ball_height,
                                                double upper_length) {
    const TravelBox pose{{ball_height, ball_height}, {upper_length, upper_length}};
    const std::vector<Clearance> all = find_clearances(setup, model, pose);
    const auto nearer = [](const Clearance& a, const Clearance& b) { return a.least.value < b.least.value; };
    const auto nearest = std::min_element(all.begin(), all.end(), nearer);
    return nearest == all.end() ? std::nullopt : std::optional<Clearance>(*nearest);
}

std::vector<HeightRange> find_heights_nearer_than(const Setup& setup, const MountedModel& model, const TravelBox& box,
                                                  const Clearance& like, double room) {
    ClearanceSearch search(setup, model, box, like, room);
    return search.starts_in_cab(like) ? std::vector<HeightRange>{box.heights} : search.run_heights();
}

std::vector<GroundClearance> find_ground_clearances(const Setup& setup, const MountedModel& model) {
    std::vector<GroundClearance> found;
    const TravelBox box = make_travel_box(model);
    const double raised = box.upper_lengths.high;  // in tension at its longest when raised
    const bool inside = model.has_working_height && box.heights.contains(model.working_height);
    const double working = inside ? make_pose_report(setup, model, model.working_height).upper_length : 0.0;
    const LeastHeights find_least_height(model, box);
    const auto add = [&](const std::string& name, const Point& p, double radius, bool rests) {
        GroundClearance g;
        g.part = name;
        g.rests_on_ground = rests;
        g.has_working = inside;
        g.at_top = find_height_above_ground(model, box.heights.high, raised, p, radius);
        if (g.has_working) g.at_working = find_height_above_ground(model, model.working_height, working, p, radius);
        g.least_over_travel = find_least_height(p) - radius;
        found.push_back(g);
    };
    visit_low_parts(setup, model, add);
    std::stable_sort(found.begin(), found.end(),
                     [](const GroundClearance& a, const GroundClearance& b) { return a.at_top < b.at_top; });
    return found;
}

std::optional<double> find_lowest_height(const Setup& s, const MountedModel& m, double ball_height, double upper_length) {
    std::optional<double> least;
    if (!closes_at_length(m, ball_height, upper_length)) return least;
    visit_low_parts(s, m, [&](const std::string&, const Point& p, double radius, bool) {
        const double height = find_height_above_ground(m, ball_height, upper_length, p, radius);
        least = least ? std::min(*least, height) : height;
    });
    return least;
}

std::optional<double> find_part_height(const Setup& s, const MountedModel& m, const std::string& part, double ball_height,
                                       double upper_length) {
    std::optional<double> found;
    if (!closes_at_length(m, ball_height, upper_length)) return found;
    visit_low_parts(s, m, [&](const std::string& name, const Point& p, double radius, bool rests) {
        if (name == part && !rests) found = find_height_above_ground(m, ball_height, upper_length, p, radius);
    });
    return found;
}

}  // namespace hitchwright
