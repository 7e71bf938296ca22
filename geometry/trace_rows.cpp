#include "geometry/trace_rows.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/field_spec.h"

namespace hitchwright {
namespace {

using Values = std::vector<std::optional<double>>;

/// A ball height that was set for looking is taped to the floor (two sigma, m).
constexpr double height_error = field::floor_error;
/// Least error of a complaint's margin, so that the covariance stays regular (m, rad).
constexpr double complaint_error = 1e-5;

/// Chi-square with `rows` degrees of freedom at `z` sigma of the normal law (Wilson and Hilferty).
double find_chi_square(std::size_t rows, double z) {
    const double n = static_cast<double>(std::max<std::size_t>(rows, 1)), v = 2.0 / (9.0 * n);
    return n * std::pow(1.0 - v + z * std::sqrt(v), 3);
}

/// A change after heights were taped: no error that the set-up's figures carry.
bool is_change_since(const Cause& c, const Setup& s) {
    const TravelReadings& t = s.tractor.travel;
    const bool taped = t.ball_height_low.known || t.ball_height_high.known;
    return c.kind == CauseKind::rear_tyre || c.kind == CauseKind::front_tyre ||
           (c.kind == CauseKind::rod_changed && taped);
}

/// How far the ball height of an observation moves it (one sigma), where the height was taped for it.
double find_height_share(TraceBench& bench, const Seen& seen) {
    if (seen.place != SeenPlace::at_height) return 0.0;
    Seen near[2] = {seen, seen};
    near[0].height -= height_error;
    near[1].height += height_error;
    const Values at = bench.see(near);
    return at[0] && at[1] ? 0.25 * (*at[1] - *at[0]) : 0.0;
}

/// The travel is the narrower of tape and lift arm: either may come to count on a changed machine.
bool is_of_travel(const Cause& c) { return c.key.starts_with("tractor.travel.") || c.key.starts_with("tractor.lift_"); }

/// What one sigma of a cause moves; zero for a change no figure of the set-up carries. Of both sides the one that moves
/// more: where tape and arm bound the travel alike, a reading acts to one side only.
Eigen::VectorXd find_share(TraceBench& bench, const Cause& c, const std::vector<Seen>& seen, const Values& now) {
    Eigen::VectorXd share = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(seen.size()));
    if (!is_by_amount(c.kind) || is_change_since(c, bench.believed().setup) || seen.empty()) return share;
    const double steps[] = {std::min(c.tolerance, c.most - c.believed), -std::min(c.tolerance, c.believed - c.least)};
    bool again = true;
    for (const double step : steps) {
        if (step == 0.0 || !again) continue;
        const Values at = bench.see(c, step, seen);
        for (std::size_t i = 0; i < seen.size(); ++i) {
            const auto k = static_cast<Eigen::Index>(i);
            if (!at[i] || !now[i]) continue;
            const double moved = 0.5 * c.tolerance * (*at[i] - *now[i]) / step;
            if (std::fabs(moved) > std::fabs(share(k))) share(k) = moved;
        }
        again = is_of_travel(c) || share.isZero();
    }
    return share;
}

Eigen::MatrixXd make_taking_covariance(TraceBench& bench, const std::vector<Seen>& seen) {
    const auto n = static_cast<Eigen::Index>(seen.size());
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Seen& s = seen[static_cast<std::size_t>(i)];
        const double taken = 0.5 * (is_complaint(s.kind) ? complaint_error : std::max(s.error, complaint_error));
        const double height = find_height_share(bench, s);
        c(i, i) = taken * taken + height * height;
    }
    return c;
}

std::vector<Eigen::Index> list_measured(const TraceRows& rows) {
    std::vector<Eigen::Index> measured;
    for (std::size_t i = 0; i < rows.rows.size(); ++i)
        if (!is_complaint(rows.rows[i].seen.kind)) measured.push_back(static_cast<Eigen::Index>(i));
    return measured;
}

}  // namespace

// y of complaints is chosen best, by turns: convex, and a few rows.
double find_misfit(const TraceRows& t, const Eigen::MatrixXd& inverse, const std::vector<double>& f) {
    const auto n = static_cast<Eigen::Index>(f.size());
    Eigen::VectorXd r(n);
    std::vector<Eigen::Index> free;
    for (Eigen::Index i = 0; i < n; ++i) {
        const SeenRow& row = t.rows[static_cast<std::size_t>(i)];
        const bool complaint = is_complaint(row.seen.kind);
        const double at = f[static_cast<std::size_t>(i)];
        r(i) = complaint ? std::min(0.0, at) - at : row.target - at;
        if (complaint) free.push_back(i);
    }
    for (int sweep = 0; sweep < 40 && n > 1 && !free.empty(); ++sweep) {
        double moved = 0.0;
        for (const Eigen::Index i : free) {
            const double best = r(i) - inverse.row(i).dot(r) / inverse(i, i);
            const double to = std::min(best, -f[static_cast<std::size_t>(i)]);  // y <= 0
            moved = std::max(moved, std::fabs(to - r(i)));
            r(i) = to;
        }
        if (moved < 1e-12) break;
    }
    return std::max(0.0, r.dot(inverse * r));
}

TraceWeights make_trace_weights(const TraceRows& rows, const Eigen::MatrixXd& c) {
    const std::vector<Eigen::Index> measured = list_measured(rows);
    const auto n = static_cast<Eigen::Index>(measured.size());
    Eigen::MatrixXd block(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index k = 0; k < n; ++k)
            block(i, k) = c(measured[static_cast<std::size_t>(i)], measured[static_cast<std::size_t>(k)]);
    TraceWeights w;
    if (n > 0) {
        const Eigen::LDLT<Eigen::MatrixXd> part(block);
        w.log_determinant = part.vectorD().cwiseMax(1e-300).array().log().sum();
    }
    w.inverse = Eigen::LDLT<Eigen::MatrixXd>(c).solve(Eigen::MatrixXd::Identity(c.rows(), c.rows()));
    return w;
}

Eigen::MatrixXd make_covariance(const TraceMachine& machine, const TraceRows& rows, const Cause* without) {
    TraceBench bench(machine);
    Eigen::MatrixXd c = make_taking_covariance(bench, rows.seen);
    const Values now = bench.see(rows.seen);
    for (std::size_t i = 0; i < rows.causes->size(); ++i) {
        const Cause& cause = (*rows.causes)[i];
        if (without && cause.kind == without->kind && cause.key == without->key) continue;
        if (without && rows.shares[i].isZero() && !is_of_travel(cause)) continue;
        const Eigen::VectorXd share = find_share(bench, cause, rows.seen, now);
        c += share * share.transpose();
    }
    return c;
}

double find_misfit_limit(std::size_t rows) { return find_chi_square(rows, 5.0); }
double find_usual_misfit(std::size_t rows) { return find_chi_square(rows, 1.645); }

TraceRows make_trace_rows(TraceBench& bench, const std::vector<Cause>& causes, const std::vector<Seen>& seen) {
    TraceRows t;
    const Values believed = bench.see(seen);
    for (std::size_t i = 0; i < seen.size(); ++i) {
        if (!believed[i]) continue;
        SeenRow row{seen[i], *believed[i], 0.0, 0.0};
        if (!is_complaint(seen[i].kind))
            row.target = seen[i].against_setup ? *believed[i] + seen[i].value : seen[i].value;
        if (!is_complaint(seen[i].kind)) ++t.measured;
        t.rows.push_back(row);
        t.seen.push_back(seen[i]);
    }
    t.causes = &causes;
    t.covariance = make_taking_covariance(bench, t.seen);
    const Values now = bench.see(t.seen);
    for (const Cause& c : causes) {
        t.shares.push_back(find_share(bench, c, t.seen, now));
        t.covariance += t.shares.back() * t.shares.back().transpose();
    }
    const auto n = static_cast<Eigen::Index>(t.rows.size());
    for (Eigen::Index i = 0; i < n; ++i) t.rows[static_cast<std::size_t>(i)].band = 2.0 * std::sqrt(t.covariance(i, i));
    return t;
}

double find_believed_misfit(const TraceRows& rows) {
    std::vector<double> f;
    for (const SeenRow& r : rows.rows) f.push_back(r.believed);
    return find_misfit(rows, make_trace_weights(rows, rows.covariance).inverse, f);
}

}  // namespace hitchwright
