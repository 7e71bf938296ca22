// See output_number.h.
#include "report/output_number.h"

#include <charconv>
#include <cmath>
#include <string_view>

namespace hitchwright {
namespace {

constexpr int significant_digits = 12;
constexpr double smallest = 1e-9;

}  // namespace

double round_for_output(double value) {
    if (std::fabs(value) < smallest) return 0.0;
    char text[64];
    const auto written = std::to_chars(text, text + sizeof text, value, std::chars_format::scientific, significant_digits - 1);
    double rounded = value;
    std::from_chars(text, written.ptr, rounded);
    return rounded;
}

}  // namespace hitchwright
