// Where a Taylor model shows its function at or below a limit, and where it leaves that open.
//
// p + radius <= limit: inside; p - radius > limit: outside. A range over which p rises or falls holds one crossing of either
// line at most, found by find_crossing (crossing.h) on the polynomial; what lies between the two is open, and left out
// where it is no wider than asked for. Other ranges are halved.
#pragma once

#include <cmath>
#include <cstddef>

#include "geometry/crossing.h"
#include "geometry/taylor_extreme.h"

namespace hitchwright {

namespace detail {

template <std::size_t N, class Sink>
class ModelInside {
public:
    /// `width`: of the variable; a place this near to a crossing need not be decided.
    ModelInside(double limit, double width, Sink& sink) : limit_(limit), width_(width), sink_(sink) {}

    void look(const TaylorModel<N>& f, double middle, double half, double finest) {
        const double size = find_size(f), spread = size - std::fabs(f.c[0]);
        const double error = find_evaluation_error<N>(size) + f.radius;
        if (f.c[0] + spread + error <= limit_) return sink_.add_inside(middle - half, middle + half);
        if (f.c[0] - spread - error > limit_) return;
        const Course course = find_course(f);
        if (course == Course::rises || course == Course::falls) return cross({f, middle, half, error, course == Course::rises});
        if (spread <= error) return sink_.add_open(middle - half, middle + half);
        if (half <= finest) return;
        look(restrict_model(f, -1.0, 0.0), middle - 0.5 * half, 0.5 * half, finest);
        look(restrict_model(f, 0.0, 1.0), middle + 0.5 * half, 0.5 * half, finest);
    }

private:
    /// A part over which the polynomial rises or falls.
    struct Slope {
        const TaylorModel<N>& f;
        double middle, half, error;
        bool rises;
        double low_end() const { return rises ? -1.0 : 1.0; }  ///< the end with the lesser values
        /// A step from t toward the greater values.
        double up(double t, double step) const { return std::clamp(rises ? t + step : t - step, -1.0, 1.0); }
        double value(double t) const { return evaluate(f, t).value; }
    };

    void cross(const Slope& s) {
        if (s.value(-s.low_end()) <= limit_ - s.error) return sink_.add_inside(s.middle - s.half, s.middle + s.half);
        const double step = 0.4 * width_ / s.half, near = find_crossing_near(s);
        double last_in = s.up(near, -step), first_out = s.up(near, step);
        if (s.value(last_in) > limit_ - s.error) last_in = find_last(s, limit_ - s.error, 0.1 * step);
        if (s.value(first_out) <= limit_ + s.error) first_out = s.up(find_last(s, limit_ + s.error, 0.1 * step), 0.1 * step);
        const bool some_in = s.value(last_in) <= limit_ - s.error, open = std::fabs(first_out - last_in) > 2.5 * step;
        const auto place = [&](double t) { return s.middle + t * s.half; };
        if (some_in && s.rises) sink_.add_inside(place(-1.0), place(last_in));
        if (open) sink_.add_open(place(std::min(last_in, first_out)), place(std::max(last_in, first_out)));
        if (some_in && !s.rises) sink_.add_inside(place(last_in), place(1.0));
    }

    /// Where the polynomial is about at the limit, or the end that comes nearest; by Newton steps inside a bracket.
    double find_crossing_near(const Slope& s) const {
        double low = -1.0, high = 1.0, t = 0.0;
        for (int i = 0; i < 60; ++i) {
            const ValueAndSlope here = evaluate(s.f, t);
            ((here.value > limit_) == s.rises ? high : low) = t;
            double next = t - (here.value - limit_) / here.slope;
            if (next >= high) next = high == 1.0 && next > 1.0 ? 1.0 : 0.5 * (t + high);
            if (next <= low) next = low == -1.0 && next < -1.0 ? -1.0 : 0.5 * (low + t);
            if (std::fabs(next - t) < 1e-3 * width_ / s.half) return next;
            t = next;
        }
        return t;
    }

    /// The last place, seen from the end with the lesser values, at which p <= level; that end where there is none.
    static double find_last(const Slope& s, double level, double width) {
        const double in = s.low_end();
        const auto value = [&](double t) { return s.value(t) - level; };
        if (value(-in) <= 0.0) return -in;
        if (value(in) > 0.0) return in;
        return find_crossing(in, -in, [&](double t) { return value(t) <= 0.0; }, value, width);
    }

    double limit_, width_;
    Sink& sink_;
};

}  // namespace detail

/// Tells `sink` of the parts of [-1, 1] in rising order: sink.add_inside(a, b) where the function is at most `limit`,
/// sink.add_open(a, b) where the model does not tell. A part as narrow as `finest` that may touch the limit counts as
/// outside, as does what lies nearer to a crossing than `width`. Only for a bounded model.
template <std::size_t N, class Sink>
void find_model_inside(const TaylorModel<N>& f, double limit, double finest, double width, Sink& sink) {
    detail::ModelInside<N, Sink>(limit, width, sink).look(f, 0.0, 1.0, 0.5 * finest);
}

}  // namespace hitchwright
