// Extremes and height intervals of several quantities over the travel, from Taylor models of all of them on a few panels.
//
// For a linkage of which nothing but the height moves. Each panel holds the models (taylor_model.h) of K quantities over its
// heights; extremes over any range of heights and heights inside limits are then questions to polynomials, and a panel is
// halved only where its radius leaves an answer open: the radius falls with the 16th power of the panel. Toward a dead
// centre, where the pose has no power series, panels become narrow; what is left at `finest_share` is searched on interval
// jets (bounded_extreme.h, inside_intervals.h). Every pose of the travel closes. A question that takes more than
// `evaluation_limit` evaluations is given up: the bound holds as far as it has come, heights left over count as outside.
#pragma once

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include "geometry/taylor_extreme.h"
#include "geometry/taylor_inside.h"
#include "geometry/travel_search.h"
#include "geometry/wide_angle_taylor.h"

namespace hitchwright {

/// True where nothing but the height moves: no slack, no sway, no tilt.
inline bool is_height_alone(const TravelBox& box) {
    return box.planar() && box.upper_lengths.low == box.upper_lengths.high;
}

/// Sixteen terms: three panels know the lengths of an ordinary machine to 1e-12 m; degree 10 needs more than six for that.
using TravelModel = TaylorModel<15>;

/// Poses of a linkage over a range of heights, of the variable (height - middle) / half.
struct PosePanel {
    double low, high, middle, half;
    KernelPose<TravelModel> pose;
};

inline PosePanel solve_pose_panel(const PlanarLinkage& linkage, double upper_length, double low, double high) {
    const double middle = low + 0.5 * (high - low);
    const double half = outward::above(std::max(high - middle, middle - low));  // no gap between neighbours
    TravelModel h = TravelModel::variable(middle, half);
    h.radius = 8.0 * detail::unit_roundoff * std::max(std::fabs(low), std::fabs(high));  // heights are rounded
    return {low, high, middle, half, solve_kernel<TravelModel>(linkage, h, TravelModel(upper_length))};
}

/// The poses of a linkage over the first panels of a travel: solved once for all that is asked of them. The linkage must outlive
/// them and the panels made of them.
struct TravelPoses {
    TravelPoses(const PlanarLinkage& k, const TravelBox& box)
        : linkage(k), heights(box.heights), upper_length(box.upper_lengths.low), has_numbers(are_numbers(k, box)) {
        if (!has_numbers) return;
        panels.reserve(first_panels);
        double low = heights.low;
        for (std::size_t i = 1; i <= first_panels && low < heights.high; ++i) {
            const double share = static_cast<double>(i) / static_cast<double>(first_panels);
            const double high = i == first_panels ? heights.high : low + share * (heights.high - low);
            panels.push_back(solve_pose_panel(k, upper_length, low, high));
            low = high;
        }
    }

    const PlanarLinkage& linkage;
    HeightRange heights;
    double upper_length;
    bool has_numbers;               ///< travel and linkage are finite
    std::vector<PosePanel> panels;  ///< in rising order; none for a travel of one height

private:
    /// One third of the travel, four ninths and two ninths: of 2694 random linkages these leave 99 not sharp enough at once, three
    /// equal panels 155.
    static constexpr std::size_t first_panels = 3;

    static bool are_numbers(const PlanarLinkage& k, const TravelBox& box) {
        return std::isfinite(box.heights.high - box.heights.low) && std::isfinite(box.upper_lengths.low + k.lower_length) &&
               k.lower_pivot.allFinite() && k.upper_pin.allFinite() && k.mast_pin.allFinite();
    }
};

/// K quantities of a pose over the travel: `quantities(pose)` gives std::array<T, K> for a KernelPose<T> of Taylor models
/// and of interval jets. Linkage and quantities must outlive the panels. Evaluations (a panel, or a pose of the search on
/// jets) are counted in the answer they were made for.
template <std::size_t K, class Quantities>
class TravelPanels {
public:
    TravelPanels(const TravelPoses& poses, const Quantities& quantities)
        : linkage_(poses.linkage), upper_length_(poses.upper_length), whole_(poses.heights), quantities_(quantities),
          has_numbers_(poses.has_numbers) {
        panels_.reserve(2 * poses.panels.size());
        for (const PosePanel& p : poses.panels) panels_.push_back(make_panel(p));
    }
    TravelPanels(const PlanarLinkage& linkage, const TravelBox& box, const Quantities& quantities)
        : TravelPanels(TravelPoses(linkage, box), quantities) {}

    /// Least and greatest value of quantity k over `heights` of the travel; `close(value, bound)` says when they are known.
    /// Where no value is found (what is not a number in linkage, travel or quantities) value and bound are infinite, the bound
    /// on its far side, and nothing has converged.
    template <class Close>
    TravelExtreme find_least(std::size_t k, const HeightRange& heights, const Close& close) {
        return find(Question{k, 1.0, heights}, close);
    }
    template <class Close>
    TravelExtreme find_greatest(std::size_t k, const HeightRange& heights, const Close& close) {
        TravelExtreme r = find(Question{k, -1.0, heights}, [&](double v, double b) { return close(-v, -b); });
        r.value = -r.value;
        r.bound = -r.bound;
        return r;
    }

    /// Heights of the travel at which quantity k stays at or below a limit, or at or above it; ends rounded inward
    /// (inside_intervals.h).
    std::vector<HeightRange> find_not_above(std::size_t k, double limit) { return find_inside(k, 1.0, limit); }
    std::vector<HeightRange> find_not_below(std::size_t k, double limit) { return find_inside(k, -1.0, -limit); }

private:
    /// Panels are not made narrower than this share of the travel.
    static constexpr double finest_share = 1.0 / 16384.0;
    /// A value is taken from a model as sharp as this, else from the pose at its place.
    static constexpr double sharp_radius = 1.0e-9;

    struct Panel {
        double low, high, middle, half;
        std::array<TravelModel, K> models;

        double find_variable(double height) const { return std::clamp((height - middle) / half, -1.0, 1.0); }
        double find_height(double variable) const { return std::clamp(middle + variable * half, low, high); }
    };
    /// What is asked for: the least value of sign * quantity k.
    struct Question {
        std::size_t k;
        double sign;
        HeightRange heights;
    };
    /// What is known of it on one panel; nothing where the panel lies outside the heights.
    struct Least {
        double value = std::numeric_limits<double>::infinity(), bound = std::numeric_limits<double>::infinity();
        double height = 0.0;
        bool is_final = false;  ///< nothing better is to be had
        bool is_sharp = true;

        /// What comparisons would pass over counts as not known.
        Least& drop_nan() {
            if (std::isnan(value)) value = std::numeric_limits<double>::infinity();
            if (std::isnan(bound)) bound = -std::numeric_limits<double>::infinity();
            return *this;
        }
    };

    void start_question() { last_evaluation_ = evaluations_ + evaluation_limit; }
    bool is_given_up() const { return evaluations_ >= last_evaluation_; }

    Panel make_panel(const PosePanel& p) {
        ++evaluations_;
        return {p.low, p.high, p.middle, p.half, quantities_(p.pose)};
    }
    Panel make_panel(double low, double high) { return make_panel(solve_pose_panel(linkage_, upper_length_, low, high)); }
    void halve(std::size_t i) {
        const Panel p = panels_[i];
        panels_[i] = make_panel(p.low, p.middle);
        panels_.insert(panels_.begin() + static_cast<std::ptrdiff_t>(i) + 1, make_panel(p.middle, p.high));
    }
    bool is_finest(const Panel& p) const { return p.half < finest_share * (whole_.high - whole_.low); }

    /// sign * quantity k as a function of interval jets of the height.
    auto make_jet_quantity(std::size_t k, double sign) {
        return [this, k, sign](const auto& x) {
            using Jet = std::decay_t<decltype(x[0])>;
            ++evaluations_;
            const Jet q = quantities_(solve_jet_pose(linkage_, x[0], Jet(upper_length_)))[k];
            return sign < 0.0 ? -q : q;
        };
    }

    Least look(const Panel& p, const Question& q) const {
        const double low = std::max(p.low, q.heights.low), high = std::min(p.high, q.heights.high);
        if (!(low < high)) return {};
        TravelModel f = p.models[q.k];
        if (low > p.low || high < p.high) f = restrict_model(f, p.find_variable(low), p.find_variable(high));
        const ModelMinimum m = find_model_minimum(q.sign < 0.0 ? -f : f);
        const double height = m.at == -1.0 ? low : m.at == 1.0 ? high : std::clamp(low + 0.5 * (m.at + 1.0) * (high - low), low, high);
        return Least{m.value, m.bound, height, false, f.radius <= sharp_radius}.drop_nan();
    }
    template <class Close>
    Least search_jets(const Panel& p, const Question& q, const Close& close) {
        const Interval part(std::max(p.low, q.heights.low), std::min(p.high, q.heights.high));
        const auto enough = [&](double value, double bound) { return is_given_up() || close(value, bound); };
        const BoundedExtreme<1> e = find_minimum<1>(make_jet_quantity(q.k, q.sign), IntervalBox<1>{part}, enough);
        return Least{e.value, e.bound, e.at[0], true, true}.drop_nan();
    }

    /// What each panel says, panels halved until the least value is known closely enough.
    template <class Close>
    std::vector<Least> look_closely(const Question& q, const Close& close) {
        std::vector<Least> known;
        known.reserve(panels_.capacity());
        for (const Panel& p : panels_) known.push_back(look(p, q));
        while (true) {
            const std::size_t i = find_first(known, &Least::bound);
            if (known[i].is_final || is_given_up() || close(known[find_first(known, &Least::value)].value, known[i].bound)) return known;
            if (is_finest(panels_[i])) {
                known[i] = search_jets(panels_[i], q, close);
                continue;
            }
            halve(i);
            known[i] = look(panels_[i], q);
            known.insert(known.begin() + static_cast<std::ptrdiff_t>(i) + 1, look(panels_[i + 1], q));
        }
    }
    static std::size_t find_first(const std::vector<Least>& known, double Least::*member) {
        std::size_t first = 0;
        for (std::size_t i = 1; i < known.size(); ++i) {
            if (known[i].*member < known[first].*member) first = i;
        }
        return first;
    }

    template <class Close>
    Least ask(const Question& q, const Close& close) {
        const auto jets = make_jet_quantity(q.k, q.sign);
        const auto solve_at = [&](double height) { return jets(std::array{IntervalJet<0>(height)}).v; };
        if (!(q.heights.low < q.heights.high)) {
            const Interval v = solve_at(q.heights.low);
            return Least{v.hi, v.lo, q.heights.low}.drop_nan();
        }
        assert(whole_.contains(q.heights.low) && whole_.contains(q.heights.high));
        const std::vector<Least> known = look_closely(q, close);
        Least best = known[find_first(known, &Least::value)];
        best.bound = known[find_first(known, &Least::bound)].bound;
        if (!best.is_sharp) best.value = std::min(best.value, solve_at(best.height).hi);
        return best;
    }
    template <class Close>
    TravelExtreme find(const Question& q, const Close& close) {
        start_question();
        Least best{std::numeric_limits<double>::infinity(), 0.0, q.heights.low};
        if (has_numbers_ && std::isfinite(q.heights.high - q.heights.low)) best = ask(q, close);
        // Bounds of jets hold for poses that there are (jet_pose.h): without a value they say nothing.
        const bool found = std::isfinite(best.value);
        best.bound = found ? std::min(best.bound, best.value) : -std::numeric_limits<double>::infinity();
        return {best.value, best.bound, best.height, upper_length_, 0.0, 0.0, std::exchange(evaluations_, 0),
                found && close(best.value, best.bound)};
    }

    /// Gathers what a panel says of heights inside a limit; where it says nothing the search on jets does.
    struct HeightSink {
        TravelPanels& panels;
        const std::size_t k;
        const double sign, limit;
        const Panel* panel;
        std::vector<HeightRange> found;

        void add(double low, double high) {
            if (!found.empty() && found.back().high >= low) found.back().high = std::max(found.back().high, high);
            else if (low <= high) found.push_back({low, high});
        }
        void add_inside(double a, double b) { add(panel->find_height(a), panel->find_height(b)); }
        void add_open(double a, double b) { search_jets(panel->find_height(a), panel->find_height(b)); }
        void search_jets(double low, double high) {
            if (panels.is_given_up()) return;
            const IntervalBox<1> part{Interval(low, high)};
            for (const HeightRange& r : hitchwright::find_inside(panels.make_jet_quantity(k, sign), part, limit)) add(r.low, r.high);
        }
    };

    std::vector<HeightRange> find_inside(std::size_t k, double sign, double limit) {
        if (!std::isfinite(limit) || !has_numbers_) return {};
        start_question();
        HeightSink sink{*this, k, sign, limit, nullptr, {}};
        if (panels_.empty()) sink.search_jets(whole_.low, whole_.high);
        for (std::size_t i = 0; i < panels_.size(); ++i) {
            while (!panels_[i].models[k].is_bounded() && !is_finest(panels_[i]) && !is_given_up()) halve(i);
            const Panel& p = panels_[i];
            const TravelModel f = sign < 0.0 ? -p.models[k] : p.models[k];
            sink.panel = &p;
            if (!f.is_bounded()) sink.search_jets(p.low, p.high);
            else find_model_inside(f, limit, finest_piece / p.half, 0.01 * finest_piece / p.half, sink);
        }
        return sink.found;
    }

    const PlanarLinkage& linkage_;
    double upper_length_;
    HeightRange whole_;
    const Quantities& quantities_;
    bool has_numbers_;           ///< travel and linkage are finite
    std::vector<Panel> panels_;  ///< in rising order
    int evaluations_ = 0;        ///< not told of yet
    int last_evaluation_ = 0;    ///< where they are when the question at hand is given up
};

}  // namespace hitchwright
