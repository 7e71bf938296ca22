// See circle_fit.h. Rows of the problem: one per point, then one per prior; each divided by its sigma.
#include "geometry/circle_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <Eigen/LU>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

/// Points nearer than this are one place: no tape tells them apart.
constexpr double same_place = 1.0e-4;
constexpr int most_steps = 200;
/// A radius beyond this many chords is a line.
constexpr double most_radius_in_chords = 1.0e4;

using Parameters = Eigen::Vector3d;  // centre x, centre z, radius

struct Task {
    const std::vector<CirclePoint>& points;
    const CirclePriors& priors;
};

/// Normal equations of one step, and the sum of squares.
struct Normals {
    Eigen::Matrix3d matrix = Eigen::Matrix3d::Zero();
    Eigen::Vector3d gradient = Eigen::Vector3d::Zero();
    double cost = 0.0;

    void add(const Eigen::Vector3d& row, double residual) {
        matrix += row * row.transpose();
        gradient += row * residual;
        cost += residual * residual;
    }
};

/// A point's row: derivative of d_i / s_i, and d_i / s_i.
struct Row {
    Eigen::Vector3d slope = Eigen::Vector3d::Zero();
    double value = 0.0, sigma = 1.0;
};

Row find_row(const CirclePoint& p, const Parameters& c) {
    const Point away = p.at - Point(c[0], c[1]);
    const double distance = std::hypot(away.x(), away.y());
    const Point n = distance > 0.0 ? Point(away / distance) : Point(1.0, 0.0);
    Row row;
    row.sigma = std::hypot(n.x() * p.sigma_x, n.y() * p.sigma_z);
    row.slope = Eigen::Vector3d(-n.x(), -n.y(), -1.0) / row.sigma;
    row.value = (distance - c[2]) / row.sigma;
    return row;
}

const std::optional<NormalPrior>& prior_of(const CirclePriors& priors, int member) {
    return member == 0 ? priors.x : member == 1 ? priors.z : priors.radius;
}

Normals find_normals(const Task& task, const Parameters& c) {
    Normals n;
    for (const CirclePoint& p : task.points) {
        const Row row = find_row(p, c);
        n.add(row.slope, row.value);
    }
    for (int member = 0; member < 3; ++member) {
        const std::optional<NormalPrior>& prior = prior_of(task.priors, member);
        if (!prior) continue;
        n.add(Eigen::Vector3d::Unit(member) / prior->sigma, (c[member] - prior->mean) / prior->sigma);
    }
    return n;
}

/// Levenberg-Marquardt. False: no minimum at a positive, finite radius was reached.
bool descend(const Task& task, Parameters& c) {
    double damping = 1.0e-3;
    Normals now = find_normals(task, c);
    for (int step = 0; step < most_steps; ++step) {
        Eigen::Matrix3d matrix = now.matrix;
        for (int i = 0; i < 3; ++i) matrix(i, i) *= 1.0 + damping;
        const Eigen::Vector3d move = matrix.inverse() * now.gradient;
        const Parameters next = c - move;
        if (!next.allFinite()) return false;
        const Normals then = find_normals(task, next);
        const bool better = next[2] > 0.0 && then.cost <= now.cost;
        if (move.norm() < 1.0e-13 * (1.0 + c.norm())) return c[2] > 0.0;
        if (better) {
            c = next;
            now = then;
            damping = std::max(damping * 0.1, 1.0e-12);
        } else {
            damping *= 10.0;
            if (damping > 1.0e12) return c[2] > 0.0;
        }
    }
    return false;
}

/// Taubin's algebraic circle by Newton's method on its characteristic polynomial (Chernov, ch. 5). False: a line.
bool fit_taubin(const std::vector<CirclePoint>& points, Parameters& c) {
    const double n = static_cast<double>(points.size());
    Point mean = Point::Zero();
    for (const CirclePoint& p : points) mean += p.at / n;
    double xx = 0, zz = 0, xz = 0, xq = 0, zq = 0, qq = 0;
    for (const CirclePoint& p : points) {
        const double x = p.at.x() - mean.x(), z = p.at.y() - mean.y(), q = x * x + z * z;
        xx += x * x / n, zz += z * z / n, xz += x * z / n, xq += x * q / n, zq += z * q / n, qq += q * q / n;
    }
    const double m = xx + zz, det = xx * zz - xz * xz, var = qq - m * m;
    const double a3 = 4.0 * m, a2 = -3.0 * m * m - qq, a1 = var * m + 4.0 * det * m - xq * xq - zq * zq;
    const double a0 = xq * (xq * zz - zq * xz) + zq * (zq * xx - xq * xz) - var * det;
    double t = 0.0;
    for (int i = 0; i < 50; ++i) {
        const double slope = a1 + t * (2.0 * a2 + 3.0 * a3 * t);
        const double next = t - (a0 + t * (a1 + t * (a2 + t * a3))) / slope;
        if (!std::isfinite(next) || next < 0.0) break;
        const bool done = std::fabs(next - t) < 1.0e-15 * m;
        t = next;
        if (done) break;
    }
    const double down = 2.0 * (t * t - t * m + det);
    const Point offset((xq * (zz - t) - zq * xz) / down, (zq * (xx - t) - xq * xz) / down);
    c = Parameters(mean.x() + offset.x(), mean.y() + offset.y(), std::sqrt(offset.squaredNorm() + m));
    return c.allFinite();
}

/// The two points farthest apart.
struct Chord {
    Point from = Point::Zero(), to = Point::Zero();
    double length = 0.0;
};

Chord find_chord(const std::vector<CirclePoint>& points) {
    Chord chord;
    for (const CirclePoint& a : points) {
        for (const CirclePoint& b : points) {
            const double length = (b.at - a.at).norm();
            if (length > chord.length) chord = {a.at, b.at, length};
        }
    }
    return chord;
}

/// Departure of the points from a line, and its sigma, from the parabola v = a + b u + k u^2 over the chord: what tells an
/// arc from a line when no circle can be fitted.
struct Bend {
    double departure = 0.0, sigma = 0.0;  // m; departure positive when the middle stands left of the chord
};

Bend find_bend(const std::vector<CirclePoint>& points, const Chord& chord) {
    const Point along = (chord.to - chord.from) / chord.length, aside = perpendicular(along);
    const double half = 0.5 * chord.length;
    Normals n;
    for (const CirclePoint& p : points) {
        const Point from = p.at - chord.from;
        const double u = from.dot(along) / half - 1.0;
        const double sigma = std::hypot(aside.x() * p.sigma_x, aside.y() * p.sigma_z);
        n.add(Eigen::Vector3d(1.0, u, u * u) / sigma, -from.dot(aside) / sigma);
    }
    const Eigen::Matrix3d covariance = n.matrix.inverse();
    const Eigen::Vector3d abk = -covariance * n.gradient;
    return {-abk[2], std::sqrt(std::max(0.0, covariance(2, 2)))};
}

/// Where to start from: the algebraic circle, the taped one, and the two circles of taped radius over the chord.
std::vector<Parameters> find_starts(const Task& task, const Chord& chord) {
    std::vector<Parameters> starts;
    Parameters c;
    if (fit_taubin(task.points, c) && c[2] < most_radius_in_chords * chord.length) starts.push_back(c);
    const CirclePriors& p = task.priors;
    if (p.radius) {
        const Point middle = 0.5 * (chord.from + chord.to);
        const Point aside = perpendicular(Point((chord.to - chord.from) / chord.length));
        const double out = std::sqrt(std::max(0.0, p.radius->mean * p.radius->mean - 0.25 * chord.length * chord.length));
        for (const double side : {out, -out}) {
            const Point centre = middle + side * aside;
            starts.emplace_back(centre.x(), centre.y(), p.radius->mean);
        }
    }
    if (p.x && p.z) {
        const Point centre(p.x->mean, p.z->mean);
        const double radius = p.radius ? p.radius->mean : (task.points.front().at - centre).norm();
        starts.emplace_back(centre.x(), centre.y(), radius);
    }
    return starts;
}

bool minimise(const Task& task, const Chord& chord, Parameters& best) {
    bool found = false;
    double least = std::numeric_limits<double>::max();
    for (Parameters c : find_starts(task, chord)) {
        if (!descend(task, c) || c[2] > most_radius_in_chords * chord.length) continue;
        const double cost = find_normals(task, c).cost;
        if (cost >= least) continue;
        least = cost;
        best = c;
        found = true;
    }
    return found;
}

/// Residual e (in its own sigma) with leverage h: how far it stands from the others, e / (1 - h).
FitCheck find_check(double residual, double sigma, double leverage) {
    FitCheck check;
    const double left = 1.0 - leverage;
    // Rounding of the leverage; an observation with less than this left to the others decides itself.
    if (left < 1.0e-9) return check;
    check.checked = true;
    check.off = residual * sigma / left;
    check.allowed = 2.0 * sigma / std::sqrt(left);
    check.normalised = residual / std::sqrt(left);
    return check;
}

void describe(const Task& task, const Parameters& c, CircleFit& fit) {
    const Normals n = find_normals(task, c);
    fit.converged = true;
    fit.centre = Point(c[0], c[1]);
    fit.radius = c[2];
    fit.covariance = n.matrix.inverse();
    fit.chi_square = n.cost;
    fit.freedom = static_cast<int>(task.points.size()) - 3;
    for (const CirclePoint& p : task.points) {
        const Row row = find_row(p, c);
        fit.residuals.push_back(row.value * row.sigma);
        fit.checks.push_back(find_check(row.value, row.sigma, row.slope.dot(fit.covariance * row.slope)));
    }
    std::array<FitCheck, 3> prior_checks{};
    for (int member = 0; member < 3; ++member) {
        const std::optional<NormalPrior>& prior = prior_of(task.priors, member);
        if (!prior) continue;
        ++fit.freedom;
        prior_checks[static_cast<std::size_t>(member)] = find_check((prior->mean - c[member]) / prior->sigma, prior->sigma,
                           fit.covariance(member, member) / (prior->sigma * prior->sigma));
    }
    fit.check_x = prior_checks[0];
    fit.check_z = prior_checks[1];
    fit.check_radius = prior_checks[2];
}

/// Turn seen from the centre: the whole less the greatest empty sector.
double find_arc(const std::vector<CirclePoint>& points, const Point& centre) {
    std::vector<double> turns;
    turns.reserve(points.size());
    for (const CirclePoint& p : points) turns.push_back(direction(p.at - centre));
    std::sort(turns.begin(), turns.end());
    double empty = turns.front() + 2.0 * pi - turns.back();
    for (std::size_t i = 1; i < turns.size(); ++i) empty = std::max(empty, turns[i] - turns[i - 1]);
    return 2.0 * pi - empty;
}

/// Arc whose middle stands `departure` off a chord of `length`.
double find_arc_of(double departure, double length) { return 4.0 * std::atan2(2.0 * departure, length); }

bool are_sound(const std::vector<CirclePoint>& points, const CirclePriors& priors) {
    for (const CirclePoint& p : points) {
        const double sum = p.at.x() + p.at.y() + p.sigma_x + p.sigma_z;
        if (!std::isfinite(sum) || !(p.sigma_x > 0.0) || !(p.sigma_z > 0.0)) return false;
    }
    for (int member = 0; member < 3; ++member) {
        const std::optional<NormalPrior>& prior = prior_of(priors, member);
        if (prior && (!std::isfinite(prior->mean + prior->sigma) || !(prior->sigma > 0.0))) return false;
    }
    return !(priors.radius && priors.radius->mean <= 0.0);
}

std::size_t count_places(const std::vector<CirclePoint>& points) {
    std::vector<Point> places;
    for (const CirclePoint& p : points) {
        const bool known = std::any_of(places.begin(), places.end(), [&](const Point& q) { return (p.at - q).norm() < same_place; });
        if (!known) places.push_back(p.at);
    }
    return places.size();
}

}  // namespace

double CircleFit::error(int member) const { return 2.0 * std::sqrt(std::max(0.0, covariance(member, member))); }

CircleFit fit_circle(const std::vector<CirclePoint>& points, const CirclePriors& priors) {
    CircleFit fit;
    if (!are_sound(points, priors)) return fit;
    fit.status = points.size() < 3 ? CircleFitStatus::too_few : CircleFitStatus::coincident;
    if (points.size() < 3 || count_places(points) < 3) return fit;
    const Chord chord = find_chord(points);
    const Bend bend = find_bend(points, chord);
    fit.status = CircleFitStatus::too_straight;
    fit.departure = std::fabs(bend.departure);
    fit.departure_needed = 2.0 * bend.sigma / radius_doubt_most;
    fit.arc = find_arc_of(fit.departure, chord.length);
    fit.arc_needed = find_arc_of(fit.departure_needed, chord.length);
    Parameters c;
    if (!minimise({points, priors}, chord, c)) return fit;
    describe({points, priors}, c, fit);
    fit.arc = find_arc(points, fit.centre);
    if (fit.covariance.allFinite() && fit.error(2) <= radius_doubt_most * fit.radius) fit.status = CircleFitStatus::ok;
    return fit;
}

std::vector<std::size_t> find_doubted_points(const CircleFit& fit) {
    std::vector<std::size_t> doubted;
    for (std::size_t i = 0; i < fit.checks.size(); ++i) {
        if (std::fabs(fit.checks[i].normalised) > residual_doubt) doubted.push_back(i);
    }
    std::sort(doubted.begin(), doubted.end(), [&](std::size_t a, std::size_t b) {
        return std::fabs(fit.checks[a].normalised) > std::fabs(fit.checks[b].normalised);
    });
    return doubted;
}

}  // namespace hitchwright
