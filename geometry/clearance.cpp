#include "geometry/clearance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include "geometry/clearance_pair.h"
#include "geometry/height_bands.h"
#include "geometry/mounted_extremes.h"
#include "geometry/pose_report.h"
#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

template <std::size_t N>
IntervalJet<N> clamp_to_segment(const IntervalJet<N>& t) {
    return IntervalJet<N>(Interval(std::clamp(t.v.lo, 0.0, 1.0), std::clamp(t.v.hi, 0.0, 1.0)));
}

double clamp_to_segment(double t) { return std::clamp(t, 0.0, 1.0); }

/// Square of the distance of `p` to the segment a-b (see the file head of clearance.h for its derivative).
template <class T>
T distance_squared(const Vec2<T>& p, const Vec2<T>& a, const Vec2<T>& b) {
    const Vec2<T> along = b - a, from_a = p - a, from_b = p - b;
    const T t = clamp_to_segment(dot(from_a, along) / (square(along.x) + square(along.z)));
    const T u = 1.0 - t;  // weights instead of a step along b - a: at an end the other end drops out of the enclosure
    return square(u * from_a.x + t * from_b.x) + square(u * from_a.z + t * from_b.z);
}

template <class T>
Vec2<T> fixed(const Point& p) { return {T(p.x()), T(p.y())}; }

/// Closeness in the distance while searching its square.
bool close_distance(double value, double bound) {
    return std::fabs(std::sqrt(std::max(0.0, value)) - std::sqrt(std::max(0.0, bound))) <= length_closeness;
}

template <class Q>
TravelExtreme find_least_distance(const MountedModel& m, const TravelBox& box, const Q& squared, double radius) {
    TravelExtreme e = find_least(m.linkage, box, squared, close_distance);
    e.value = std::sqrt(std::max(0.0, e.value)) - radius;
    e.bound = std::sqrt(std::max(0.0, e.bound)) - radius;
    return e;
}

/// A point of frame T in frame I. Distances between parts of the implement stay constants there, which keeps the
/// enclosures tight where a nearest point is the mast pin or the implement joint.
template <class T>
Vec2<T> see_from_implement(const KernelPose<T>& pose, const Vec2<T>& p) {
    const Vec2<T> d = p - pose.ball;
    return {pose.cos_pitch * d.x + pose.sin_pitch * d.z, pose.cos_pitch * d.z - pose.sin_pitch * d.x};
}

/// Side view of the shaft piece between its ends.
template <class P>
auto find_shaft_line(const MountedModel& m, const P& pose) {
    const auto s = find_shaft_state(m.ends, pose);
    using T = std::decay_t<decltype(s.length)>;
    return std::pair<Vec2<T>, Vec2<T>>{{s.from.x, s.from.z}, {s.to.x, s.to.z}};
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
    template <class Q>
    TravelExtreme measure(const Q& squared, double radius) {
        if (pairs_) {
            parts_.push_back([squared, radius](const KernelPose<double>& pose) { return std::sqrt(squared(pose)) - radius; });
            return {};
        }
        if (!room_ && is_pose()) return measure_pose(squared, radius);
        if (!room_) return find_least_distance(model_, box_, squared, radius);
        const double least = radius + *room_;
        if (least <= 0.0) return {};  // nothing is nearer than the centre
        const auto negated = [&squared](const auto& pose) { return -squared(pose); };
        const auto kept = find_heights_inside(model_.linkage, box_, negated, -least * least);
        for (const HeightRange& r : find_remaining_heights(box_.heights, kept)) nearer_ = add_heights(std::move(nearer_), r);
        return {};
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
                return distance_squared(fixed<T>(point), see_from_implement(pose, a), end_in_implement(pose, b));
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
            return distance_squared(fixed<T>(end), a, b);
        };
        add(ClearanceKind::guard_to_drawbar, drawbar, measure(q, radius), false);
    }

    /// Rear end of the shaft in frame I: the implement joint itself unless a wide-angle joint moves its inner cross.
    template <class T>
    Vec2<T> end_in_implement(const KernelPose<T>& pose, const Vec2<T>& end) const {
        if (model_.ends.wide_angle == WideAngleEnd::implement) return see_from_implement(pose, end);
        return {T(model_.ends.implement_joint.x), T(model_.ends.implement_joint.z)};
    }

    void tyre(const ImplementPoint& p) {
        const TyreReadings& y = setup_.tractor.tyre;
        if (!y.rear_radius.known || !is_wanted(ClearanceKind::point_to_tyre, p.name)) return;
        const bool widths = y.rear_track.known && y.rear_width.known && p.half_width.known;
        const double inner = 0.5 * (y.rear_track.value - y.rear_width.value);
        if (widths && p.half_width.value < inner) return;  // passes between the tyres
        const Point hub(0.0, y.rear_radius.value), point = find_body_point(model_, p.x, p.z);
        const auto q = [point, hub](const auto& pose) {
            const auto at = pose.place(point.x(), point.y());
            return square(at.x - hub.x()) + square(at.z - hub.y());
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
        if (room_ && starts_in_cab(p)) nearer_ = {box_.heights};
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
        const bool single = from == to;
        const Point point = find_body_point(model_, p.x, p.z);
        const auto q = [point, from, to, single](const auto& pose) {
            const auto at = pose.place(point.x(), point.y());
            using T = std::decay_t<decltype(at.x)>;
            if (single) return square(at.x - from.x()) + square(at.z - from.y());
            return distance_squared(at, fixed<T>(from), fixed<T>(to));
        };
        return measure(q, 0.0);
    }

    void upper_link(const ImplementPoint& p) {
        if (!is_wanted(ClearanceKind::point_to_upper_link, p.name)) return;
        const auto q = [this, point = find_body_point(model_, p.x, p.z)](const auto& pose) {
            using T = std::decay_t<decltype(pose.cos_pitch)>;
            return distance_squared(fixed<T>(point), see_from_implement(pose, fixed<T>(model_.linkage.upper_pin)),
                                    fixed<T>(model_.linkage.mast_pin));
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

}  // namespace

std::vector<Clearance> find_clearances(const Setup& setup, const MountedModel& model, const TravelBox& box) {
    return ClearanceSearch(setup, model, box, nullptr).run();
}

std::optional<Clearance> find_pair_clearance(const Setup& setup, const MountedModel& model, const TravelBox& box, const Clearance& like) {
    const std::vector<Clearance> found = ClearanceSearch(setup, model, box, &like).run();
    return found.empty() ? std::nullopt : std::optional<Clearance>(found.front());
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
    return ClearanceSearch(setup, model, box, like, room).run_heights();
}

std::vector<GroundClearance> find_ground_clearances(const Setup& setup, const MountedModel& model) {
    std::vector<GroundClearance> found;
    const TravelBox box = make_travel_box(model);
    const double raised = box.upper_lengths.high;  // in tension at its longest when raised
    const bool inside = model.has_working_height && box.heights.contains(model.working_height);
    const double working = inside ? make_pose_report(setup, model, model.working_height).upper_length : 0.0;
    const auto add = [&](const std::string& name, const Point& p, double radius, bool rests) {
        GroundClearance g;
        g.part = name;
        g.rests_on_ground = rests;
        g.has_working = inside;
        g.at_top = find_height_above_ground(model, box.heights.high, raised, p, radius);
        if (g.has_working) g.at_working = find_height_above_ground(model, model.working_height, working, p, radius);
        const auto q = [&](const auto& pose) { return pose.place(p.x(), p.y()).z - radius; };
        g.least_over_travel = find_least(model.linkage, box, q, PlainCloseness{length_closeness}).bound;
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
