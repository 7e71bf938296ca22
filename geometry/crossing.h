// The place where a limit is crossed between a point that certainly keeps it and one that does not.
//
// The point looked at next is where the line through both values crosses, moved a little past it to the far side, so that
// the crossing gets caught between two points close together; every fourth step halves, so that no end can be stuck.
// Values only aim; `inside` decides, with rigorous signs. A smooth function needs half a dozen steps, bisection thirty.
#pragma once

#include <algorithm>
#include <cmath>

namespace hitchwright {

/// Pieces narrower than this stay undecided and count as outside; ends are found to a hundredth of it. 0.1 micrometre.
inline constexpr double finest_piece = 1.0e-7;

/// The last inside point before the crossing, to `width`. `inside(x)`: the limit is certainly kept;
/// `value(x)`: about how far above the limit x lies, 0 where nobody knows.
template <class Inside, class Value>
double find_crossing(double in, double out, const Inside& inside, const Value& value, double width = 0.01 * finest_piece) {
    double f_in = value(in), f_out = value(out);
    bool moved_in = true;
    for (int step = 0; std::fabs(out - in) > width; ++step) {
        double x = in + 0.5 * (out - in);
        if (step % 4 != 3 && f_in < f_out) {
            const double past = std::copysign(moved_in ? 0.4 * width : -0.4 * width, out - in);
            const double root = in + (out - in) * std::clamp(-f_in / (f_out - f_in), 0.0, 1.0) + past;
            if (std::min(in, out) < root && root < std::max(in, out)) x = root;
        }
        moved_in = inside(x);
        (moved_in ? in : out) = x;
        (moved_in ? f_in : f_out) = value(x);
    }
    return in;
}

}  // namespace hitchwright
