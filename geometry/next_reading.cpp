// See next_reading.h.
#include "geometry/next_reading.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace hitchwright {
namespace {

/// Most readings to take again, and how much better than before at best.
constexpr std::size_t most_retakes = 3;
constexpr double finest = 0.25;
/// A reading that takes less than this off a band is not worth naming.
constexpr double least_gain = 0.05;

/// What is left of a band when some readings are taken again.
class Retaken {
public:
    Retaken(const ErrorModel& errors, const ErrorBand& band) : errors_(errors), width_(errors.find_width(band.slopes)) {
        const std::vector<double> shares = errors.find_shares(band.slopes);
        order_.resize(shares.size());
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) { return shares[a] > shares[b]; });
        with_ = errors.find_covariance(band.slopes);
    }

    void take(std::size_t count) {
        const auto n = static_cast<Eigen::Index>(count);
        own_.resize(n, n);
        to_.resize(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            std::vector<double> one(errors_.readings().size());
            one[order_[static_cast<std::size_t>(i)]] = 1.0;
            const std::vector<double> c = errors_.find_covariance(one);
            for (Eigen::Index j = 0; j < n; ++j) own_(i, j) = c[order_[static_cast<std::size_t>(j)]];
            to_[i] = with_[order_[static_cast<std::size_t>(i)]];
        }
    }

    /// `care`: error of the new reading as a part of the old one, 0 to below 1; it takes the old one's place.
    double find_width(double care) const {
        // The old reading and a new one of error r weigh together like one of error care: 1/care^2 = 1 + 1/r^2.
        const double square = care * care / (1.0 - care * care);
        Eigen::MatrixXd sum = own_;
        sum.diagonal().array() += square + 1e-12;
        return std::sqrt(std::max(0.0, width_ * width_ - to_.dot(sum.ldlt().solve(to_))));
    }

    std::size_t reading(std::size_t place) const { return order_[place]; }
    std::size_t count() const { return order_.size(); }
    double width() const { return width_; }

private:
    const ErrorModel& errors_;
    double width_;
    std::vector<std::size_t> order_;
    std::vector<double> with_;
    Eigen::MatrixXd own_;
    Eigen::VectorXd to_;
};

}  // namespace

std::vector<Retake> plan_retakes(const ErrorModel& errors, const ErrorBand& band, double margin) {
    std::vector<Retake> plan;
    if (!(band.width > 0.0) || band.slopes.empty()) return plan;
    Retaken retaken(errors, band);
    // The end towards the limit decides; it is not known here which one that is.
    constexpr double in_hand = 0.97;  // slopes and bends are a little other with other readings
    const double wanted = in_hand * std::fabs(margin) * retaken.width() / std::max({band.width, band.below, band.above});
    for (std::size_t n = 1; n <= std::min(most_retakes, retaken.count()); ++n) {
        retaken.take(n);
        if (retaken.find_width(finest) >= wanted) continue;
        double good = finest, bad = 1.0;
        while (bad - good > 0.001) {
            const double middle = 0.5 * (good + bad);
            (retaken.find_width(middle) < wanted ? good : bad) = middle;
        }
        for (std::size_t i = 0; i < n; ++i) {
            const ReadingError& r = errors.readings()[retaken.reading(i)];
            plan.push_back({r.key, good * r.error});
        }
        break;
    }
    return plan;
}

std::vector<NextReading> list_next_readings(const ErrorModel& errors, const std::vector<CandidateReading>& candidates,
                                            const std::vector<double>& slopes, std::size_t most) {
    std::vector<NextReading> all;
    const double now = errors.find_width(slopes);
    if (!(now > 0.0)) return all;
    const std::vector<double> with = errors.find_covariance(slopes);
    for (const CandidateReading& c : candidates) {
        const double to = std::inner_product(with.begin(), with.end(), c.slopes.begin(), 0.0), own = errors.find_width(c.slopes);
        const double left = now * now - to * to / (own * own + c.error * c.error);
        const double after = std::sqrt(std::max(0.0, left));
        if (!(after < (1.0 - least_gain) * now)) continue;
        all.push_back(c.reading);
        all.back().band_now = now;
        all.back().band_after = after;
    }
    std::stable_sort(all.begin(), all.end(), [](const NextReading& a, const NextReading& b) { return a.band_after < b.band_after; });
    if (all.size() > most) all.resize(most);
    return all;
}

namespace {

/// Limits that are watched and decide nothing.
bool is_watched(const Finding& f) {
    constexpr FindingKind kinds[] = {FindingKind::non_uniformity, FindingKind::rear_axle_share, FindingKind::joint_angle_watch,
                                     FindingKind::mast_match,     FindingKind::drawbar_length,  FindingKind::drawbar_height,
                                     FindingKind::drawbar_drop};
    return f.severity == Severity::watch || std::find(std::begin(kinds), std::end(kinds), f.kind) != std::end(kinds);
}

}  // namespace

const Finding* find_decisive(const std::vector<Finding>& findings) {
    const Finding* nearest = nullptr;
    for (const Finding& f : findings) {
        if (!f.has_limit || !(f.band > 0.0) || f.error.slopes.empty() || is_watched(f)) continue;
        if (f.severity == Severity::unknown) return &f;
        const bool nearer = nearest == nullptr || std::fabs(f.margin) * nearest->band < std::fabs(nearest->margin) * f.band;
        if (nearer) nearest = &f;
    }
    return nearest;
}

}  // namespace hitchwright
