#include <catch2/catch.hpp>

#include "report/multiples.h"

using hitchwright::list_multiples;
using List = std::vector<double>;

TEST_CASE("multiples: whole numbers of the step, ends included, zero exactly 0", "[analytic]") {
    CHECK(list_multiples(0.0, 10.0, 5.0) == List{0.0, 5.0, 10.0});
    CHECK(list_multiples(1.0, 9.0, 5.0) == List{5.0});
    CHECK(list_multiples(6.0, 9.0, 5.0).empty());
    CHECK(list_multiples(9.0, 1.0, 5.0).empty());
    CHECK(list_multiples(-10.0, -5.0, 5.0) == List{-10.0, -5.0});
    const List tenths = list_multiples(-0.3, 0.3, 0.1);  // added up, -0.3 + 0.1 + 0.1 + 0.1 is 5.6e-17
    REQUIRE(tenths.size() == 7);
    CHECK(tenths[3] == 0.0);
    CHECK(tenths.front() == -3 * 0.1);
    CHECK(tenths.back() == 3 * 0.1);
}

TEST_CASE("multiples: an end that rounding has put beside a multiple still has it", "[practice]") {
    CHECK(list_multiples(3 * 0.1, 6 * 0.1, 0.1).size() == 4);  // 0.30000000000000004 is above 3 tenths
    CHECK(list_multiples(0.3, 0.6, 0.1).size() == 4);
}
