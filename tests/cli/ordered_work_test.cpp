// The shared work on a stream of items: order, bounds, and every way it can end.
#include <catch2/catch.hpp>

#include <algorithm>
#include <atomic>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <sstream>
#include <thread>
#include <vector>

#include "cli/line_reader.h"
#include "cli/ordered_work.h"
#include "cli/progress_line.h"

using namespace hitchwright;

namespace {

/// Work that takes unlike long, without a clock.
int spin(int value) {
    volatile int sum = 0;
    for (int i = 0; i < (value * 7919) % 2000; ++i) sum = sum + i;
    return value * 2;
}

auto count_to(int most) {
    return [next = 0, most]() mutable { return next < most ? std::optional(next++) : std::nullopt; };
}

}  // namespace

TEST_CASE("work in order: results come in the order of the items, by any number of threads", "[cli]") {
    for (const int jobs : {1, 2, 3, 8}) {
        for (const std::size_t window : {std::size_t{1}, std::size_t{2}, std::size_t{40}}) {
            CAPTURE(jobs, window);
            std::vector<int> given;
            CHECK(work_in_order(jobs, window, count_to(3000), [](int v) { return spin(v); }, [&](int v) { given.push_back(v); return true; }));
            REQUIRE(given.size() == 3000);
            for (std::size_t i = 0; i < given.size(); ++i) REQUIRE(given[i] == static_cast<int>(2 * i));
        }
    }
}

TEST_CASE("work in order: never more is held than the window and one result being given", "[cli]") {
    std::atomic<int> alive{0}, most{0};
    const auto make = [&](int value) {
        const int now = ++alive;
        int seen = most;
        while (seen < now && !most.compare_exchange_weak(seen, now)) {}
        return std::shared_ptr<int>(new int(value), [&](const int* p) { delete p; --alive; });
    };
    constexpr int jobs = 4, items = 200000;
    constexpr std::size_t window = 32;
    long long sum = 0;
    int next = 0;
    // The result holds its item, so that one counter counts both.
    CHECK(work_in_order(jobs, window, [&]() -> std::optional<std::shared_ptr<int>> { return next < items ? std::optional(make(next++)) : std::nullopt; },
                        [](const std::shared_ptr<int>& item) { return item; }, [&](const std::shared_ptr<int>& item) { sum += *item; return true; }));
    CHECK(sum == static_cast<long long>(items) * (items - 1) / 2);
    CHECK(alive == 0);
    CHECK(most <= static_cast<int>(window) + 2);  // one being taken, one being given
}

TEST_CASE("work in order: whoever takes the results can end it", "[cli]") {
    for (const int jobs : {1, 4}) {
        std::vector<int> given;
        CHECK_FALSE(work_in_order(jobs, 8, count_to(1000), [](int v) { return spin(v); }, [&](int v) { given.push_back(v); return given.size() < 10; }));
        CHECK(given.size() == 10);
    }
}

TEST_CASE("work in order: what is thrown comes out after all threads are done", "[cli]") {
    const auto fail_at = [](int place, int v) { return v == place ? throw std::runtime_error("here") : v; };
    for (const int jobs : {1, 4}) {
        CAPTURE(jobs);
        const auto give = [](int) { return true; };
        CHECK_THROWS_WITH(work_in_order(jobs, 8, count_to(1000), [&](int v) { return fail_at(500, v); }, give), "here");
        CHECK_THROWS_WITH(work_in_order(jobs, 8, [n = 0, &fail_at]() mutable { return std::optional(fail_at(500, n++)); }, spin, give), "here");
        CHECK_THROWS_WITH(work_in_order(jobs, 8, count_to(1000), spin, [&](int v) { return fail_at(500, v) >= 0; }), "here");
    }
}

TEST_CASE("work in order: a result leaves while the next item is waited for", "[cli]") {
    std::atomic<int> given{0};
    int next = 0;
    // Each item is only there once the one before it has been given: a pipe that answers before it asks on.
    const auto take = [&]() -> std::optional<int> {
        while (given < next) std::this_thread::yield();
        return next < 200 ? std::optional(next++) : std::nullopt;
    };
    for (const int jobs : {1, 4}) {
        next = 0;
        given = 0;
        CHECK(work_in_order(jobs, 32, take, spin, [&](int) { ++given; return true; }));
        CHECK(given == 200);
    }
}

TEST_CASE("lines: any bytes, any length, with or without an end", "[cli]") {
    std::istringstream stream(std::string("a\n\nlonger than ten\r\n\0b\nend", 26));
    LineReader lines(stream, 10);
    std::vector<InputLine> all;
    while (auto line = lines.next()) all.push_back(*line);
    REQUIRE(all.size() == 5);
    CHECK(all[0].text == "a");
    CHECK((all[1].text.empty() && all[1].number == 2));
    CHECK((all[2].text == "longer tha" && all[2].too_long));
    CHECK((all[3].text == std::string("\0b", 2) && !all[3].too_long));
    CHECK((all[4].text == "end" && all[4].number == 5));
    std::istringstream ended("x\n");
    LineReader one(ended, 10);
    CHECK(one.next());
    CHECK_FALSE(one.next());
}

TEST_CASE("progress: the line says count, rate and time left, and fits a terminal", "[cli]") {
    CHECK(format_progress(0, 0, 624, 0.0) == "[........................]  0 of 624");
    CHECK(format_progress(312, 0, 624, 31.2) == "[############............]  312 of 624  10 a second  32 s left");
    CHECK(format_progress(400, 400, 624, 5.0) == "[###############.........]  400 of 624");
    CHECK(format_progress(500, 400, 624, 50.0) == "[###################.....]  500 of 624  2.0 a second  62 s left");
    CHECK(format_progress(10, 0, 7210, 10.0).ends_with("1.0 a second  2.0 h left"));
    CHECK(format_progress(624, 0, 624, 10.0).ends_with("624 of 624  62 a second"));
    CHECK(format_progress(199999, 0, 200000, 1e7).size() <= 79);
    CHECK(format_progress(1, 0, 200000, 1e6).size() <= 79);
}
