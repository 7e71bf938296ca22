// A thread for work somebody waits for, started on another processor than its maker's.
//
// A new thread is put beside its maker, and only after milliseconds moved to a processor that has nothing to do: longer than most of our work
// takes. So on Linux it is asked to start elsewhere; from then on it may go where it likes.
#pragma once

#include <functional>
#include <memory>

namespace hitchwright {

/// Processors this program may use, at least 1.
int count_processors();

/// Threads to give to one analysis that somebody waits for.
inline int find_idle_threads() { return count_processors() > 1 ? 2 : 1; }

/// Runs `work`, which must not throw, on a thread of its own; joined when it goes. Throws std::system_error where the system gives
/// no thread.
class WorkThread {
public:
    WorkThread();
    explicit WorkThread(std::function<void()> work);
    WorkThread(WorkThread&&) noexcept;
    WorkThread& operator=(WorkThread&&) noexcept;
    ~WorkThread();
    bool joinable() const { return handle_ != nullptr; }
    void join();

private:
    struct Handle;
    std::unique_ptr<Handle> handle_;
};

}  // namespace hitchwright
