// Pieces of work that do not touch each other's values, at once where there is a thread for the second.
#pragma once

#include <condition_variable>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>
#include <span>
#include <system_error>
#include <utility>

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

/// Pieces of work, each done by the first of two threads that is free. Each is told by which: 0, the caller's, or 1.
class SharedWork {
public:
    using Piece = std::function<void(int)>;

    /// In the order in which they are begun: the longest first keeps both threads busy. `adds`: it may add others, so that a thread
    /// with nothing to do waits for it. From within such a piece: behind all that wait.
    void add(Piece piece, bool adds = false) {
        const std::lock_guard lock(mutex_);
        waiting_.push_back({std::move(piece), adds});
        adding_ += adds;
        changed_.notify_one();
    }

    /// From within a piece that adds: before all that wait, the last one first.
    void add_first(Piece piece) {
        const std::lock_guard lock(mutex_);
        waiting_.push_front({std::move(piece), false});
        changed_.notify_one();
    }

    /// Does all of them, on two threads with `threads` above one. When one throws, those not begun are left out and that is thrown on.
    void run(int threads) {
        do_both(threads, [this] { take(0); }, [this] { take(1); });
    }

private:
    struct Entry {
        Piece piece;
        bool adds;
    };

    void take(int by) {
        std::unique_lock lock(mutex_);
        for (;;) {
            changed_.wait(lock, [this] { return stopped_ || !waiting_.empty() || adding_ == 0; });
            if (stopped_ || waiting_.empty()) return;
            const Entry entry = std::move(waiting_.front());
            waiting_.pop_front();
            lock.unlock();
            try {
                entry.piece(by);
            } catch (...) {
                lock.lock();
                stopped_ = true;
                changed_.notify_one();
                throw;
            }
            lock.lock();
            adding_ -= entry.adds;
            if (entry.adds) changed_.notify_one();
        }
    }

    std::mutex mutex_;
    std::condition_variable changed_;
    std::deque<Entry> waiting_;
    int adding_ = 0;  ///< pieces not done yet that may add others
    bool stopped_ = false;
};

/// SharedWork of pieces that are all known before.
inline void share_out(int threads, std::span<const std::function<void(int)>> pieces) {
    SharedWork work;
    for (const auto& piece : pieces) work.add(piece);
    work.run(threads);
}

}  // namespace hitchwright
