#include "geometry/work_thread.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <memory>
#include <thread>
#include <utility>
#include <vector>

#if defined(__GLIBC__)
#include <sched.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>
#endif

using namespace hitchwright;

namespace {

/// Its id would not do: the next thread is given the place in memory of the last, and with it the id.
int number_this_thread() {
    static std::atomic<int> numbers = 0;
    thread_local const int own = ++numbers;
    return own;
}

}  // namespace

TEST_CASE("work thread: the work is done elsewhere, once, and before the thread is joined", "[analytic]") {
    std::atomic<int> done = 0;
    std::thread::id other;
    {
        WorkThread thread([&] {
            other = std::this_thread::get_id();
            ++done;
        });
        CHECK(thread.joinable());
        WorkThread moved = std::move(thread);
        CHECK_FALSE(thread.joinable());
        moved.join();
        CHECK(done == 1);
        moved.join();  // nothing left to wait for
    }
    CHECK(other != std::thread::id());
    CHECK(other != std::this_thread::get_id());
    {
        std::vector<WorkThread> many;
        for (int i = 0; i < 70; ++i) many.emplace_back([&] { ++done; });
    }
    CHECK(done == 71);
}

TEST_CASE("work thread: what the work holds goes with it", "[analytic]") {
    const auto held = std::make_shared<int>(3);
    WorkThread([held] { CHECK(*held == 3); }).join();
    CHECK(held.use_count() == 1);
}

TEST_CASE("work thread: one whose work is done does the next, and is nobody else's meanwhile", "[analytic]") {
    const auto find_number = [] {
        int number = 0;
        WorkThread([&] { number = number_this_thread(); }).join();
        return number;
    };
    const int first = find_number();
    for (int i = 0; i < 100; ++i) CHECK(find_number() == first);
    int outer = 0, inner = 0;
    WorkThread([&] {
        outer = number_this_thread();
        inner = find_number();
    }).join();
    CHECK(outer == first);
    CHECK(inner != first);
    // From several threads at once.
    std::atomic<int> done = 0;
    std::vector<std::thread> makers;
    for (int i = 0; i < 4; ++i) {
        makers.emplace_back([&] {
            for (int n = 0; n < 200; ++n) {
                int own = 0;
                WorkThread([&] { own = n + 1; }).join();
                done += own == n + 1;
            }
        });
    }
    for (std::thread& maker : makers) maker.join();
    CHECK(done == 800);
}

#if defined(__GLIBC__) && !defined(__SANITIZE_THREAD__)  // whose library lets no child of many threads start one
TEST_CASE("work thread: a child of the program has threads of its own", "[analytic]") {
    WorkThread([] {}).join();
    const pid_t child = fork();
    if (child == 0) {
        alarm(60);
        int done = 0;
        WorkThread([&] { done = 7; }).join();
        _exit(done);
    }
    REQUIRE(child > 0);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    REQUIRE(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 7);
    WorkThread([] {}).join();
}
#endif

#if defined(__GLIBC__)
TEST_CASE("work thread: a signal that its maker holds back waits, also while a thread waits for work", "[analytic]") {
    WorkThread([] {}).join();
    sigset_t held, before, pending;
    sigemptyset(&held);
    sigaddset(&held, SIGTERM);
    REQUIRE(pthread_sigmask(SIG_BLOCK, &held, &before) == 0);
    REQUIRE(kill(getpid(), SIGTERM) == 0);  // any other thread that took it would end the program
    WorkThread([] {}).join();
    sigpending(&pending);
    CHECK(sigismember(&pending, SIGTERM) == 1);
    const timespec at_once{};
    CHECK(sigtimedwait(&held, nullptr, &at_once) == SIGTERM);
    REQUIRE(pthread_sigmask(SIG_SETMASK, &before, nullptr) == 0);
}

TEST_CASE("work thread: it may use the processors its maker may, be it one", "[analytic]") {
    cpu_set_t all;
    CPU_ZERO(&all);
    REQUIRE(sched_getaffinity(0, sizeof all, &all) == 0);
    CHECK(count_processors() == CPU_COUNT(&all));
    const auto seen_by_thread = [] {
        cpu_set_t seen;
        WorkThread([&] { sched_getaffinity(0, sizeof seen, &seen); }).join();
        return seen;
    };
    cpu_set_t seen = seen_by_thread();
    CHECK(CPU_EQUAL(&seen, &all));
    // With one processor left there is no other place to start in.
    cpu_set_t one;
    CPU_ZERO(&one);
    CPU_SET(static_cast<std::size_t>(sched_getcpu()), &one);
    REQUIRE(sched_setaffinity(0, sizeof one, &one) == 0);
    CHECK(count_processors() == 1);
    seen = seen_by_thread();
    CHECK(CPU_EQUAL(&seen, &one));
    REQUIRE(sched_setaffinity(0, sizeof all, &all) == 0);
}
#endif
