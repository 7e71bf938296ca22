// A RapidCheck property as a Catch2 assertion: seeded like every other test, so that a run can be had again.
//
// RapidCheck draws cases and, where one fails, looks for the smallest that still does; that one is shown. The seed is Catch2's
// (--rng-seed N), printed at the start of each run.
#pragma once

#include <cstdlib>
#include <sstream>
#include <utility>

#include <catch2/catch.hpp>
#include <rapidcheck.h>

namespace properties {

/// How many times as many cases as usual: HITCHWRIGHT_PROPERTY_FACTOR of the environment, else 1.
inline int find_factor() {
    const char* text = std::getenv("HITCHWRIGHT_PROPERTY_FACTOR");
    return text != nullptr && std::atoi(text) > 0 ? std::atoi(text) : 1;
}

/// Checks `property` (callable as for rc::check) on `count` cases. What it says with RC_ASSERT holds for each of them.
template <class Property>
void check_property(int count, Property&& property) {
    rc::detail::TestParams params;
    params.seed = Catch::rngSeed();
    params.maxSuccess = count * find_factor();
    const rc::detail::TestResult result =
        rc::detail::checkTestable(std::forward<Property>(property), rc::detail::TestMetadata{}, params);
    std::ostringstream text;
    rc::detail::printResultMessage(result, text);
    INFO(text.str());
    CHECK(result.is<rc::detail::SuccessResult>());
}

}  // namespace properties
