#include "geometry/fit_findings.h"

#include <algorithm>

namespace hitchwright {
namespace {

bool is_distance(const FittedReading& r) { return r.kind == DirectKind::shaft_length; }

void ask_again(const std::string& key, double error, Finding& f) { f.remedies.push_back({RemedyKind::measure, 0.0, error, key}); }

}  // namespace

std::vector<Finding> check_fit(const ModelFit& fit) {
    const bool only_distances = std::all_of(fit.readings.begin(), fit.readings.end(), is_distance);
    if (fit.readings.empty() || (!fit.used && only_distances)) return {};  // the distances have their own finding
    Finding f;
    f.kind = FindingKind::model_fit;
    f.dimension = Dimension::ratio;
    f.value = fit.kept;
    f.other = fit.used ? "used" : "contradiction";
    f.rule = {0.0, true, Grade::D, "weighted least squares, each reading by its own error"};
    f.terms = {{"chi_square", fit.misfit_sum, Dimension::ratio, "misfit of the direct readings kept, about one each when all is sound"}};
    for (const FittedReading& r : fit.readings) {
        if (is_distance(r) || r.fits) continue;
        f.subject = r.key;
        f.severity = Severity::unknown;
        if (fit.used) f.other = "left_out";
        f.terms.push_back({r.key, r.read - r.fitted, r.dimension, "read less the fitted model; left out"});
        ask_again(r.key, 0.0, f);
    }
    if (!fit.used) {
        f.severity = Severity::unknown;
        for (const std::string& key : fit.equally) ask_again(key, 0.0, f);
    }
    for (const FittedInput& input : fit.inputs) {
        if (!input.beyond) continue;
        if (f.severity == Severity::good) f.severity = Severity::watch;
        f.terms.push_back({input.key, input.fitted - input.read, input.dimension, "moved by the fit, by more than its tolerance"});
        ask_again(input.key, 0.0, f);
    }
    if (f.severity != Severity::good) f.cautions = {Caution::measure_before_cutting, Caution::stop_before_touching};
    return {f};
}

}  // namespace hitchwright
