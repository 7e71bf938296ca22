// Work on a stream of items by several threads, results in the order of the items, memory bounded. Serves batch and matrix.
//
// The calling thread takes items, one after the other, and waits while `window` of them are under way or wait for one
// before them. Whichever thread finishes the item whose turn it is hands out that result and all finished ones behind it,
// outside of the lock; so results leave as soon as they can, though the calling thread may be waiting for input.
#pragma once

#include <algorithm>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <exception>
#include <mutex>
#include <optional>
#include <system_error>
#include <type_traits>
#include <utility>
#include <vector>

#include "geometry/work_thread.h"

namespace hitchwright {

/// Most threads that may be asked for.
inline constexpr int most_jobs = 256;

/// Threads for work that has the machine to itself.
inline int find_all_jobs() { return std::min(count_processors(), most_jobs); }

/// Items that may be under way: enough that a slow one does not stop the others.
inline std::size_t find_window(int jobs) { return static_cast<std::size_t>(jobs) * 8; }

namespace detail {

template <class Item, class Work, class Give>
class OrderedWork {
    using Result = std::invoke_result_t<Work&, Item&>;
    struct Slot {
        Item item;
        std::optional<Result> result = std::nullopt;
    };

public:
    OrderedWork(std::size_t window, Work& work, Give& give) : window_(window), work_(work), give_(give) {}

    /// What each thread does until there is nothing left, or all stops.
    void serve() {
        std::unique_lock lock(mutex_);
        try {
            while (Slot* slot = wait_for_work(lock)) {
                lock.unlock();
                Result result = work_(slot->item);
                lock.lock();
                slot->result.emplace(std::move(result));
                hand_out(lock);
            }
        } catch (...) {
            if (!lock.owns_lock()) lock.lock();
            if (!thrown_) thrown_ = std::current_exception();
            stop();
        }
    }

    /// Waits for room. False: stopped.
    bool wait_for_room() {
        std::unique_lock lock(mutex_);
        room_.wait(lock, [&] { return stopped_ || slots_.size() < window_; });
        return !stopped_;
    }
    void put(Item&& item) {
        const std::lock_guard lock(mutex_);
        slots_.push_back({std::move(item)});
        to_do_.notify_one();
    }
    void end() {
        const std::lock_guard lock(mutex_);
        ended_ = true;
        to_do_.notify_all();
    }
    /// The item being taken threw.
    void fail(std::exception_ptr thrown) {
        const std::lock_guard lock(mutex_);
        if (!thrown_) thrown_ = std::move(thrown);
        stop();
    }
    /// All threads are joined. False: somebody stopped it.
    bool finish() {
        if (thrown_) std::rethrow_exception(thrown_);
        return !stopped_;
    }

private:
    void stop() {
        stopped_ = true;
        room_.notify_all();
        to_do_.notify_all();
    }

    /// A deque keeps its other members in their place when one goes at the front or comes at the back.
    Slot* wait_for_work(std::unique_lock<std::mutex>& lock) {
        to_do_.wait(lock, [&] { return stopped_ || ended_ || taken_ < slots_.size(); });
        return stopped_ || taken_ == slots_.size() ? nullptr : &slots_[taken_++];
    }

    void hand_out(std::unique_lock<std::mutex>& lock) {
        if (giving_) return;  // whoever hands out looks once more before it stops
        giving_ = true;
        while (!stopped_ && !slots_.empty() && slots_.front().result) {
            Result result = std::move(*slots_.front().result);
            slots_.pop_front();
            --taken_;
            lock.unlock();
            const bool goes_on = give_(std::move(result));
            lock.lock();
            room_.notify_one();
            if (!goes_on) stop();
        }
        giving_ = false;
    }

    std::size_t window_;
    Work& work_;
    Give& give_;
    std::mutex mutex_;
    std::condition_variable room_, to_do_;
    std::deque<Slot> slots_;
    std::size_t taken_ = 0;  ///< of `slots_`, from the front
    bool ended_ = false, stopped_ = false, giving_ = false;
    std::exception_ptr thrown_;
};

/// Threads that are joined on every way out.
class Crew {
public:
    ~Crew() { join(); }
    /// Starts as many as the system gives.
    template <class F>
    void start(int count, const F& f) {
        try {
            for (int i = 0; i < count; ++i) threads_.emplace_back(f);
        } catch (const std::system_error&) {  // those that are there do it
        }
    }
    bool empty() const { return threads_.empty(); }
    void join() { threads_.clear(); }

private:
    std::vector<WorkThread> threads_;
};

template <class Next, class Work, class Give>
bool work_alone(Next& next, Work& work, Give& give) {
    while (auto item = next()) {
        if (!give(work(*item))) return false;
    }
    return true;
}

}  // namespace detail

/// Takes items from `next` (gives std::optional; nothing ends it), works on them with `work`, hands the results to `give` in
/// the order of the items; `give` says whether to go on. `next` is called on the calling thread only, `work` on any of
/// `jobs` threads, `give` on one thread at a time. What is under way when it stops is not given. False: `give` stopped it.
/// What any of them throws is thrown on when all threads are done.
template <class Next, class Work, class Give>
bool work_in_order(int jobs, std::size_t window, Next next, Work work, Give give) {
    if (jobs <= 1) return detail::work_alone(next, work, give);
    using Item = typename std::invoke_result_t<Next&>::value_type;
    detail::OrderedWork<Item, Work, Give> shared(window, work, give);
    detail::Crew crew;
    crew.start(jobs, [&shared] { shared.serve(); });
    if (crew.empty()) return detail::work_alone(next, work, give);
    try {
        while (shared.wait_for_room()) {
            auto item = next();
            if (!item) break;
            shared.put(std::move(*item));
        }
        shared.end();
    } catch (...) {
        shared.fail(std::current_exception());
    }
    crew.join();
    return shared.finish();
}

}  // namespace hitchwright
