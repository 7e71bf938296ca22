#include "geometry/trace_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

using Values = std::vector<std::optional<double>>;

constexpr double first_step = 0.5;  ///< of a scan, in tolerances
constexpr int closing_steps = 60;
constexpr double far_misfit = 5.0;  ///< times the limit: beyond it no covariance makes up for it
constexpr double settled = 1e-7;    ///< change in tolerances below which a search is at its end

std::optional<std::vector<double>> collect(const Values& values) {
    std::vector<double> out;
    for (const auto& v : values) {
        if (!v) return std::nullopt;
        out.push_back(*v);
    }
    return out;
}

/// One cause by amount, its changes in tolerances.
class AmountSolver {
public:
    AmountSolver(TraceBench& bench, const TraceRows& rows, const Cause& cause, std::size_t index)
        : bench_(bench), rows_(rows), cause_(cause) {
        const Eigen::VectorXd& own = rows.shares[index];
        set_covariance(rows.covariance - own * own.transpose());
    }

    CauseFit solve() {
        CauseFit fit;
        fit.cause = cause_;
        start_ = at(0.0);
        if (!start_) return fit.closes = false, fit;
        if (!can_move()) {
            fit.best = {0.0, start_->misfit, start_->f, -std::numeric_limits<double>::infinity()};
            return fit;
        }
        std::optional<CauseSide> sides[2];
        for (const int sense : {1, -1}) sides[sense > 0 ? 0 : 1] = solve_side(sense);
        fit.matters = moved_;
        fit.closes = sides[0] || sides[1];
        if (!fit.closes) return fit;
        const bool second = !sides[0] || (sides[1] && is_better(*sides[1], *sides[0]));
        fit.best = *sides[second ? 1 : 0];
        const double limit = find_cause_limit(rows_.rows.size(), true);
        fit.produces = fit.matters && fit.best.misfit <= limit && fit.best.change != 0.0;
        fit.tolerances = std::fabs(fit.best.change) / cause_.tolerance;
        const auto& rest = sides[second ? 0 : 1];
        if (fit.produces && rest && rest->misfit <= limit && rest->change != 0.0 && helps(*rest)) fit.other = rest;
        return fit;
    }

private:
    void set_covariance(const Eigen::MatrixXd& c) { weights_ = make_trace_weights(rows_, c); }

    struct Point {
        double k = 0.0, misfit = 0.0;
        std::vector<double> f;
    };

    static bool is_better(const CauseSide& a, const CauseSide& b) {
        const bool level = std::fabs(a.misfit - b.misfit) < 1e-9;
        return level ? std::fabs(a.change) < std::fabs(b.change) : a.misfit < b.misfit;
    }
    /// Better than nothing changed at all.
    bool helps(const CauseSide& side) const { return start_ && side.misfit < start_->misfit - 1e-9; }

    std::optional<Point> at(double k) {
        const auto f = collect(bench_.see(cause_, k * cause_.tolerance, rows_.seen));
        if (!f) return std::nullopt;
        if (start_) {
            for (std::size_t i = 0; i < f->size(); ++i) moved_ = moved_ || std::fabs((*f)[i] - start_->f[i]) > 1e-9;
        }
        return Point{k, find_misfit(rows_, weights_.inverse, *f), *f};
    }

    /// Steps that double until the end of the possible range, that end itself last.
    std::vector<double> list_steps(int sense) const {
        const double end =
            (sense > 0 ? cause_.most - cause_.believed : cause_.believed - cause_.least) / cause_.tolerance;
        std::vector<double> steps;
        if (!(end > 0.0)) return steps;
        double k = first_step;
        while (k < end) {
            steps.push_back(sense * k);
            k *= 2.0;
        }
        steps.push_back(sense * end);
        return steps;
    }

    std::optional<CauseSide> solve_side(int sense) {
        std::vector<Point> seen{*start_};
        int misses = 0;
        for (const double k : list_steps(sense)) {
            auto p = at(k);
            if (!p) p = at_edge(seen.back().k, k);
            if (!p) {
                if (++misses > 1) break;
                continue;
            }
            const bool edge = p->k != k;
            seen.push_back(std::move(*p));
            if (edge) break;
        }
        if (seen.size() < 2) return std::nullopt;
        std::size_t best = 0;
        for (std::size_t i = 1; i < seen.size(); ++i)
            if (seen[i].misfit < seen[best].misfit - 1e-12) best = i;
        if (best == 0) best = 1;  // the least may lie between nothing and the first step
        if (rows_.measured == 0) return make_side(find_crossing(seen[best - 1], seen[best]));
        const Point& far = best + 1 < seen.size() ? seen[best + 1] : seen[best];
        const double low = std::min(seen[best - 1].k, far.k), high = std::max(seen[best - 1].k, far.k);
        Point p = close_in(low, high, seen[best]);
        if (!is_far(p)) return make_side(draw_back(p, seen[best - 1]));
        const TraceWeights believed = weights_;
        take_anew(p);
        p.misfit = find_misfit(rows_, weights_.inverse, p.f);
        const CauseSide side = make_side(draw_back(close_in(low, high, p), seen[best - 1]));
        weights_ = believed;
        return side;
    }

    /// Beyond the change that breaks a complaint more of it may cost nothing: back to the least that does as well.
    Point draw_back(Point p, const Point& from) {
        bool beyond = false;
        for (std::size_t i = 0; i < p.f.size(); ++i)
            beyond = beyond || (is_complaint(rows_.rows[i].seen.kind) && p.f[i] < 0.0);
        if (!beyond || std::fabs(from.k) >= std::fabs(p.k)) return p;
        const double enough = p.misfit + 1e-6 * (1.0 + p.misfit);
        double low = from.k;
        for (int i = 0; i < closing_steps && std::fabs(p.k - low) > settled * std::fabs(p.k); ++i) {
            auto q = at(0.5 * (low + p.k));
            if (!q) break;
            if (q->misfit <= enough)
                p = std::move(*q);
            else
                low = q->k;
        }
        return p;
    }

    /// Anything at all, at the ends of the range or on the way.
    bool can_move() {
        bool shut = false;
        for (const int sense : {1, -1}) {
            const std::vector<double> steps = list_steps(sense);
            for (const std::size_t i : {std::size_t{0}, steps.size() / 2, steps.size() - 1}) {
                if (!steps.empty() && !at(steps[i])) shut = true;
                if (moved_) return true;
            }
        }
        return shut;
    }

    /// So far from what is believed that the readings' errors may act otherwise, and near enough to what is seen to
    /// matter.
    bool is_far(const Point& p) const {
        return std::fabs(p.k) > 2.0 && p.misfit < far_misfit * find_misfit_limit(rows_.rows.size());
    }

    /// Covariance with the cause at `p`.
    void take_anew(const Point& p) {
        set_covariance(
            make_covariance(change_machine(bench_.believed(), cause_, p.k * cause_.tolerance), rows_, &cause_));
    }

    /// Last pose that closes between one that does and one that does not.
    std::optional<Point> at_edge(double good, double bad) {
        std::optional<Point> last;
        for (int i = 0; i < 12; ++i) {
            const double middle = 0.5 * (good + bad);
            auto p = at(middle);
            if (p)
                good = middle, last = std::move(p);
            else
                bad = middle;
        }
        return last;
    }

    /// Complaints alone: the least change at which the misfit is gone.
    Point find_crossing(Point low, Point high) {
        if (high.misfit > 0.0) return high;
        for (int i = 0; i < closing_steps && std::fabs(high.k - low.k) > 1e-9 * std::fabs(high.k); ++i) {
            auto p = at(0.5 * (low.k + high.k));
            if (!p) break;
            if (p->misfit > 0.0)
                low = std::move(*p);
            else
                high = std::move(*p);
        }
        return high;
    }

    /// Least misfit about three steps: the differences are followed down (Gauss and Newton), and where that does not
    /// lead down, golden sections.
    Point close_in(double low, double high, Point best) {
        for (int i = 0; i < 12; ++i) {
            const double step = find_newton_step(best);
            const double to = std::clamp(best.k + step, low, high);
            if (std::fabs(to - best.k) < settled * std::max(1.0, std::fabs(best.k))) return best;
            auto p = at(to);
            if (!p || !(p->misfit < best.misfit))
                return best.misfit < 1e-10 ? best : close_by_sections(low, high, best);
            best = std::move(*p);
        }
        return best;
    }

    double find_newton_step(const Point& p) {
        const double h = 1e-4 * std::max(1.0, std::fabs(p.k));
        const auto q = at(p.k + (p.k + h <= (cause_.most - cause_.believed) / cause_.tolerance ? h : -h));
        if (!q) return 0.0;
        const auto n = static_cast<Eigen::Index>(p.f.size());
        Eigen::VectorXd rate(n), rest(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const auto k = static_cast<std::size_t>(i);
            const bool broken = is_complaint(rows_.rows[k].seen.kind) && p.f[k] <= 0.0;
            rate(i) = broken ? 0.0 : (q->f[k] - p.f[k]) / (q->k - p.k);
            rest(i) = broken ? 0.0 : rows_.rows[k].target - p.f[k];
        }
        const double curve = rate.dot(weights_.inverse * rate);
        return curve > 0.0 ? rate.dot(weights_.inverse * rest) / curve : 0.0;
    }

    Point close_by_sections(double low, double high, Point best) {
        constexpr double golden = 0.381966011250105;
        for (int i = 0; i < closing_steps && high - low > settled * std::max(1.0, std::fabs(best.k)); ++i) {
            const bool up = high - best.k > best.k - low;
            auto p = at(up ? best.k + golden * (high - best.k) : best.k - golden * (best.k - low));
            if (!p) break;
            if (p->misfit < best.misfit) {
                (up ? low : high) = best.k;
                best = std::move(*p);
            } else {
                (up ? high : low) = p->k;
            }
        }
        return best;
    }

    CauseSide make_side(const Point& p) {
        CauseSide side;
        side.change = p.k * cause_.tolerance;
        side.misfit = p.misfit;
        side.predicted = p.f;
        const double size = cause_.usual_size / cause_.tolerance, k = std::fabs(p.k);
        // The chance of that change or more; less where what is measured fixes it: density times the width of the peak.
        double chance = 0.5 - std::atan(k / size) / pi;
        if (rows_.measured > 0) {
            const double density = 1.0 / (pi * size * (1.0 + k * k / (size * size)));
            const double peak = density * find_width(p) * std::sqrt(2.0 * pi);
            chance = breaks_complaint(p) ? std::min(chance, peak) : std::min(1.0, peak);
        }
        const double law = std::log(chance + 1e-300);
        side.log_plausibility = std::log(cause_.weight) + law - 0.5 * p.misfit - 0.5 * weights_.log_determinant;
        return side;
    }

    /// A complaint that the machine as believed does not have.
    bool breaks_complaint(const Point& p) const {
        for (std::size_t i = 0; i < p.f.size(); ++i)
            if (is_complaint(rows_.rows[i].seen.kind) && rows_.rows[i].believed > 0.0 &&
                p.f[i] < rows_.rows[i].believed)
                return true;
        return false;
    }

    /// One sigma of the change in tolerances, by what is measured.
    double find_width(const Point& p) {
        const double h = 1e-3 * std::max(1.0, std::fabs(p.k));
        auto q = at(p.k + h);
        if (!q) q = at(p.k - h);
        if (!q) return size_limit;
        Eigen::VectorXd rate(static_cast<Eigen::Index>(p.f.size()));
        for (std::size_t i = 0; i < p.f.size(); ++i)
            rate(static_cast<Eigen::Index>(i)) =
                is_complaint(rows_.rows[i].seen.kind) ? 0.0 : (q->f[i] - p.f[i]) / (q->k - p.k);
        const double curve = rate.dot(weights_.inverse * rate);
        return curve > 0.0 ? std::min(size_limit, 1.0 / std::sqrt(curve)) : size_limit;
    }

    static constexpr double size_limit = 1e3;
    TraceBench& bench_;
    const TraceRows& rows_;
    const Cause& cause_;
    TraceWeights weights_;
    std::optional<Point> start_;
    bool moved_ = false;
};

CauseFit fit_slip(TraceBench& bench, const TraceRows& rows, const Cause& cause) {
    CauseFit fit;
    fit.cause = cause;
    const auto f = collect(bench.see(cause, 0.0, rows.seen));
    fit.closes = f.has_value();
    if (!f) return fit;
    for (std::size_t i = 0; i < rows.rows.size(); ++i)
        fit.matters = fit.matters || std::fabs((*f)[i] - rows.rows[i].believed) > 1e-9;
    Eigen::MatrixXd c = rows.covariance;
    if (fit.matters) c = make_covariance(change_machine(bench.believed(), cause, 0.0), rows, nullptr);
    const TraceWeights w = make_trace_weights(rows, c);
    fit.best.misfit = find_misfit(rows, w.inverse, *f);
    fit.best.predicted = *f;
    fit.best.log_plausibility = std::log(cause.weight) - 0.5 * fit.best.misfit - 0.5 * w.log_determinant;
    fit.produces = fit.matters && fit.best.misfit <= find_cause_limit(rows.rows.size(), false);
    return fit;
}

}  // namespace

double find_cause_limit(std::size_t rows, bool by_amount) {
    if (!by_amount) return find_misfit_limit(rows);
    return find_misfit_limit(rows > 1 ? rows - 1 : 1);
}

CauseFit fit_cause(TraceBench& bench, const TraceRows& rows, const Cause& cause, std::size_t index) {
    return is_by_amount(cause.kind) ? AmountSolver(bench, rows, cause, index).solve() : fit_slip(bench, rows, cause);
}

}  // namespace hitchwright
