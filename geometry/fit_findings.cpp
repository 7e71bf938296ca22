#include "geometry/fit_findings.h"

#include <algorithm>

namespace hitchwright {
namespace {

bool is_distance(const FittedReading& r) { return r.kind == DirectKind::shaft_length; }

void ask_again(const std::string& key, double error, Finding& f) { f.remedies.push_back({RemedyKind::measure, 0.0, error, key}); }

}  // namespace

std::vector<Finding> check_fit(const ModelFit& fit) {
    const bool own = std::all_of(fit.readings.begin(), fit.readings.end(), [](const FittedReading& r) { return is_distance(r) && r.simulated; });
    if (fit.readings.empty() || (!fit.used && own)) return {};  // the distances have their own finding
    Finding f;
    f.kind = FindingKind::model_fit;
    f.dimension = Dimension::ratio;
    f.value = fit.kept;
    f.other = fit.used ? "used" : fit.too_far ? "too_far" : "contradiction";
    f.rule = {0.0, true, Grade::D, "weighted least squares, each reading by its own error"};
    f.terms = {{"chi_square", fit.misfit_sum, Dimension::ratio, "misfit of the direct readings kept, about one each when all is sound"}};
    for (const FittedReading& r : fit.readings) {
        if (r.fits || (is_distance(r) && r.simulated)) continue;
        f.subject = r.key;
        f.severity = Severity::unknown;
        if (!r.simulated) f.other = "no_place";
        else if (fit.used && f.other == "used") f.other = "left_out";
        f.terms.push_back({r.key, r.read - r.fitted, r.dimension, r.simulated ? "read less the fitted model; left out" : "the model has no place for it"});
        ask_again(r.key, 0.0, f);
    }
    if (!fit.used && fit.kept > 0) {
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
