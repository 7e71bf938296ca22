// A thread for work somebody waits for, started on another processor than its maker's.
//
// A new thread is put beside its maker, and only after milliseconds moved to a processor that has nothing to do: longer than most of our work
// takes. So on Linux it is asked to start elsewhere; from then on it may go where it likes. To start one takes as long as a good part of that
// work, so one whose work is done waits for the next, until the program ends.
#pragma once

#include <functional>
#include <memory>

namespace hitchwright {

/// Processors this program may use, at least 1.
int count_processors();

/// Threads to give to one analysis that somebody waits for.
inline int find_idle_threads() { return count_processors() > 1 ? 2 : 1; }

/// Runs `work`, which must not throw, on a thread that nobody else uses meanwhile; joined when it goes. Throws std::system_error where the
/// system gives no thread.
class WorkThread {
public:
    WorkThread();
    explicit WorkThread(std::function<void()> work);
    WorkThread(WorkThread&&) noexcept;
    WorkThread& operator=(WorkThread&&) noexcept;
    ~WorkThread();
    bool joinable() const { return worker_ != nullptr; }
    void join();

private:
    class Worker;
    class Waiting;
    std::unique_ptr<Worker> worker_;
};

}  // namespace hitchwright
