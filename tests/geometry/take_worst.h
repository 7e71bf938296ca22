// The greatest of many errors, kept so that no comparison passes over what is not a number.
#pragma once

#include <algorithm>
#include <limits>

namespace hitchwright::test {

/// Takes x into the worst so far; NaN counts as infinite.
template <class T>
void take_worst(T& worst, T x) {
    constexpr T infinite = std::numeric_limits<T>::infinity();
    worst = x <= infinite ? std::max(worst, x) : infinite;
}

}  // namespace hitchwright::test
