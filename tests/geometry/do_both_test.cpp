#include "geometry/do_both.h"

#include <catch2/catch.hpp>

#include <array>
#include <chrono>
#include <functional>
#include <future>
#include <mutex>
#include <set>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

using namespace hitchwright;

TEST_CASE("do_both: both are done, the second elsewhere with two threads and here with one", "[analytic]") {
    for (const int threads : {1, 2}) {
        std::thread::id first, second;
        do_both(threads, [&] { first = std::this_thread::get_id(); }, [&] { second = std::this_thread::get_id(); });
        CHECK(first == std::this_thread::get_id());
        CHECK((first == second) == (threads == 1));
    }
}

TEST_CASE("do_both: what is thrown comes out when both are done, the first's before the second's", "[analytic]") {
    for (const int threads : {1, 2}) {
        const auto message = [&](bool first_throws, bool second_throws) -> std::string {
            bool first = false, second = false;
            try {
                do_both(threads, [&] { first = true; if (first_throws) throw std::runtime_error("first"); },
                        [&] { second = true; if (second_throws) throw std::runtime_error("second"); });
            } catch (const std::runtime_error& e) {
                return first && second ? e.what() : "not both done";
            }
            return first && second ? "" : "not both done";
        };
        CHECK(message(false, false).empty());
        CHECK(message(true, false) == "first");
        CHECK(message(false, true) == "second");
        CHECK(message(true, true) == "first");
    }
}

TEST_CASE("do_both: of shared work every piece is done once, whoever is free", "[analytic]") {
    for (const int threads : {1, 2}) {
        std::array<int, 5> done{};
        std::array<bool, 5> here{};
        std::vector<std::function<void(int)>> pieces;
        for (std::size_t i = 0; i < done.size(); ++i) {
            pieces.emplace_back([&, i](int by) {
                ++done[i];
                here[i] = by == 0;
            });
        }
        share_out(threads, pieces);
        CHECK(done == std::array{1, 1, 1, 1, 1});
        if (threads == 1) CHECK(here == std::array{true, true, true, true, true});
    }
}

TEST_CASE("do_both: of shared work nothing is begun after a piece has thrown", "[analytic]") {
    int begun = 0;
    const std::vector<std::function<void(int)>> pieces = {[&](int) { ++begun; }, [&](int) { throw std::runtime_error("second"); },
                                                          [&](int) { ++begun; }, [&](int) { ++begun; }};
    CHECK_THROWS_WITH(share_out(1, pieces), "second");
    CHECK(begun == 1);
}

TEST_CASE("do_both: work added by a piece goes before what waits, and a thread with nothing to do waits for it", "[analytic]") {
    for (const int threads : {1, 2}) {
        std::mutex mutex;
        std::vector<std::string> done;
        std::set<int> by_whom;
        const auto note = [&](const char* what, int by) {
            const std::lock_guard lock(mutex);
            done.emplace_back(what);
            by_whom.insert(by);
        };
        SharedWork work;
        std::promise<void> last;
        work.add([&](int by) {
            note("study", by);
            work.add_first([&](int one) { note("second", one); last.set_value(); });
            work.add_first([&](int one) {
                note("first", one);
                if (threads == 2) CHECK(last.get_future().wait_for(std::chrono::seconds(60)) == std::future_status::ready);  // by the other thread
            });
        }, true);
        if (threads == 1) work.add([&](int by) { note("waits", by); });
        work.run(threads);
        if (threads == 1) CHECK(done == std::vector<std::string>{"study", "first", "second", "waits"});
        else CHECK((done.size() == 3 && by_whom.size() == 2));
    }
}

TEST_CASE("do_both: nothing is added after a piece has thrown", "[analytic]") {
    int begun = 0;
    SharedWork work;
    work.add([&](int) {
        work.add_first([&](int) { ++begun; });
        throw std::runtime_error("study");
    }, true);
    work.add([&](int) { ++begun; });
    CHECK_THROWS_WITH(work.run(1), "study");
    CHECK(begun == 0);
}
