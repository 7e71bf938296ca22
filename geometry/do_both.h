// Pieces of work that do not touch each other's values, at once where there is a thread for the second.
#pragma once

#include <atomic>
#include <exception>
#include <functional>
#include <span>
#include <system_error>

#include "geometry/work_thread.h"

namespace hitchwright {

/// Does both; the second on a thread of its own with `threads` above one, where the system gives one, else after the first. What
/// either throws is thrown on when both are done, the first's before the second's.
template <class First, class Second>
void do_both(int threads, const First& first, const Second& second) {
    std::exception_ptr by_first, by_second;
    const auto keep = [](const auto& work, std::exception_ptr& thrown) {
        try {
            work();
        } catch (...) {
            thrown = std::current_exception();
        }
    };
    WorkThread other;
    if (threads > 1) {
        try {
            other = WorkThread([&] { keep(second, by_second); });
        } catch (const std::system_error&) {  // no thread to be had: done below
        }
    }
    const bool both_here = !other.joinable();
    keep(first, by_first);
    if (both_here) keep(second, by_second);
    else other.join();
    if (by_first) std::rethrow_exception(by_first);
    if (by_second) std::rethrow_exception(by_second);
}

/// Does all, in this order, each by the first of two threads that is free (`threads` above one). Each is told by which: 0, the
/// caller's, or 1. The longest first keeps both busy. When one throws, those not begun are left out and that is thrown on.
inline void share_out(int threads, std::span<const std::function<void(int)>> pieces) {
    std::atomic<std::size_t> next{0};
    const auto take = [&](int by) {
        try {
            for (std::size_t i = next++; i < pieces.size(); i = next++) pieces[i](by);
        } catch (...) {
            next = pieces.size();
            throw;
        }
    };
    do_both(threads, [&] { take(0); }, [&] { take(1); });
}

}  // namespace hitchwright
