#include "geometry/work_thread.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <csignal>
#include <cstddef>
#include <cstdlib>
#include <mutex>
#include <system_error>
#include <thread>
#include <utility>

#if defined(__GLIBC__)
#include <pthread.h>
#include <sched.h>
#define HITCHWRIGHT_PLACES_THREADS 1
#else
#define HITCHWRIGHT_PLACES_THREADS 0
#endif

namespace hitchwright {
namespace {

/// In a loop that waits awake: the processor's other half may go on.
void pause() {
#if defined(__x86_64__)
    __builtin_ia32_pause();
#endif
}

#if HITCHWRIGHT_PLACES_THREADS

using Processors = cpu_set_t;

// Unknown: none is in it.
Processors find_processors() {
    cpu_set_t all;
    CPU_ZERO(&all);
    if (sched_getaffinity(0, sizeof all, &all) != 0) CPU_ZERO(&all);  // more of them than the set has room for
    return all;
}

bool is_same(const Processors& a, const Processors& b) { return CPU_EQUAL(&a, &b); }

bool has_several(const Processors& all) { return CPU_COUNT(&all) > 1; }

/// All but the one the caller runs on; none: there is no other, or it is not known where that is.
Processors find_others(Processors all) {
    const int here = sched_getcpu();
    if (CPU_COUNT(&all) < 2 || here < 0) CPU_ZERO(&all);
    else CPU_CLR(static_cast<std::size_t>(here), &all);
    return all;
}

/// While it lives, no signal that is meant for the program as a whole comes to this thread, nor ever to one begun meanwhile. What a
/// thread brings upon itself comes to it as before.
class WithoutSignals {
public:
    WithoutSignals() {
        sigset_t all;
        sigfillset(&all);
        for (const int own : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGTRAP, SIGABRT, SIGSYS}) sigdelset(&all, own);
        pthread_sigmask(SIG_SETMASK, &all, &before_);
    }
    ~WithoutSignals() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
    WithoutSignals(const WithoutSignals&) = delete;
    WithoutSignals& operator=(const WithoutSignals&) = delete;

private:
    sigset_t before_{};
};

/// A thread that begins, and goes on after it has waited, on another processor than that of the caller, if it can.
class PlacedThread {
public:
    PlacedThread(void* (*run)(void*), void* given, const Processors& all) {
        if (const int failed = create(run, given, all)) throw std::system_error(failed, std::generic_category());
    }
    void join() { pthread_join(thread_, nullptr); }

    /// While it waits.
    void put_elsewhere(const Processors& all) {
        const cpu_set_t others = find_others(all);
        if (CPU_COUNT(&others) > 0) pthread_setaffinity_np(thread_, sizeof others, &others);
    }
    /// In the thread: from now on it may go where it likes.
    static void leave_place(const Processors& all) {
        if (has_several(all)) pthread_setaffinity_np(pthread_self(), sizeof all, &all);
    }

private:
    int create(void* (*run)(void*), void* given, const Processors& all) {
        // It outlives the work: a signal that another thread holds back would find it, and end the program.
        const WithoutSignals meanwhile;
        const cpu_set_t others = find_others(all);
        if (CPU_COUNT(&others) == 0) return pthread_create(&thread_, nullptr, run, given);
        pthread_attr_t attributes;
        pthread_attr_init(&attributes);
        pthread_attr_setaffinity_np(&attributes, sizeof others, &others);
        const int failed = pthread_create(&thread_, &attributes, run, given);
        pthread_attr_destroy(&attributes);
        return failed == 0 ? 0 : pthread_create(&thread_, nullptr, run, given);  // they may have gone meanwhile
    }

    pthread_t thread_;
};

#else

struct Processors {};

Processors find_processors() { return {}; }

bool is_same(const Processors&, const Processors&) { return true; }

bool has_several(const Processors&) { return std::thread::hardware_concurrency() > 1; }

class PlacedThread {
public:
    PlacedThread(void* (*run)(void*), void* given, const Processors&) : thread_(run, given) {}
    void join() { thread_.join(); }
    void put_elsewhere(const Processors&) {}
    static void leave_place(const Processors&) {}

private:
    std::thread thread_;
};

#endif

/// To sleep and to be woken takes some 20 us each: what comes soon is waited for awake.
constexpr auto waits_awake = std::chrono::microseconds(30);

/// True: it came.
template <class F>
bool comes_soon(const F& has_come) {
    constexpr int looks = 32;  // from one look at the clock to the next
    for (const auto end = std::chrono::steady_clock::now() + waits_awake; std::chrono::steady_clock::now() < end;) {
        for (int i = 0; i < looks; ++i) {
            if (has_come()) return true;
            pause();
        }
    }
    return false;
}

}  // namespace

/// A thread that does one work after another until it is let go.
class WorkThread::Worker {
public:
    explicit Worker(std::function<void()> first) : all_(find_processors()), work_(std::move(first)), thread_(run, this, all_) {}
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;
    ~Worker() {
        set(State::leaves);
        thread_.join();
    }

    /// Needs that it waits.
    void begin(std::function<void()> work) {
        thread_.put_elsewhere(all_);
        work_ = std::move(work);
        set(State::works);
    }
    void wait() {
        wait_until([this] { return state_ == State::waits; });
    }
    /// True when the caller may use other processors now than when the thread was made.
    bool is_elsewhere() const { return !is_same(all_, find_processors()); }

private:
    enum class State { waits, works, leaves };

    void set(State state) {
        {
            const std::lock_guard lock(mutex_);
            state_ = state;
        }
        changed_.notify_all();
    }

    template <class F>
    void wait_until(const F& has_come) {
        if (has_several(all_) && comes_soon(has_come)) return;
        std::unique_lock lock(mutex_);
        changed_.wait(lock, has_come);
    }

    static void* run(void* given) noexcept {
        static_cast<Worker*>(given)->work_on();
        return nullptr;
    }

    void work_on() {
        for (;;) {
            wait_until([this] { return state_ != State::waits; });
            if (state_ == State::leaves) return;
            PlacedThread::leave_place(all_);
            work_();
            work_ = nullptr;  // what it holds goes before anybody hears that it is done
            set(State::waits);
        }
    }

    const Processors all_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::function<void()> work_;  ///< the thread's while it works, else its owner's
    std::atomic<State> state_ = State::works;
    PlacedThread thread_;  ///< begun last
};

/// The thread that waits for the next work, at most one. It is let go when the program ends.
// Never destroyed: a thread that is joined later still than the end of main finds it closed.
class WorkThread::Waiting {
public:
    static Waiting& of_program() {
        static Waiting& one = *new Waiting;
        return one;
    }

    /// None waits: null.
    std::unique_ptr<Worker> take() {
        const std::lock_guard lock(mutex_);
        return std::move(worker_);
    }

    /// Its work is done. Let go where another waits already.
    void keep(std::unique_ptr<Worker> worker) {
        const std::lock_guard lock(mutex_);
        if (!closed_ && !worker_) worker_ = std::move(worker);
    }

private:
    Waiting() {
#if HITCHWRIGHT_PLACES_THREADS
        closed_ = std::atexit([] { of_program().close(); }) != 0;
        // A child has none of the threads of its parent.
        pthread_atfork([] { of_program().mutex_.lock(); }, [] { of_program().mutex_.unlock(); },
                       [] {
                           of_program().parents_ = of_program().worker_.release();
                           of_program().mutex_.unlock();
                       });
#else
        closed_ = true;  // nothing to tell a child, or to keep signals away, by
#endif
    }

    void close() {
        std::unique_ptr<Worker> last;
        const std::lock_guard lock(mutex_);
        closed_ = true;
        last = std::move(worker_);
    }

    std::mutex mutex_;
    std::unique_ptr<Worker> worker_;
    Worker* parents_ = nullptr;  ///< in a child: nobody runs in it, and nobody can join it
    bool closed_ = false;
};

int count_processors() {
#if HITCHWRIGHT_PLACES_THREADS
    const cpu_set_t all = find_processors();
    if (CPU_COUNT(&all) > 0) return CPU_COUNT(&all);
#endif
#if defined(__EMSCRIPTEN__) && !defined(__EMSCRIPTEN_PTHREADS__)
    return 1;  // the browser's processors are there, but no thread can be had
#else
    return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
#endif
}

WorkThread::WorkThread() = default;
WorkThread::WorkThread(WorkThread&&) noexcept = default;

WorkThread::WorkThread(std::function<void()> work) {
    std::unique_ptr<Worker> waiting = Waiting::of_program().take();
    if (!waiting || waiting->is_elsewhere()) {
        worker_ = std::make_unique<Worker>(std::move(work));
        return;
    }
    worker_ = std::move(waiting);
    worker_->begin(std::move(work));
}

WorkThread& WorkThread::operator=(WorkThread&& other) noexcept {
    join();
    worker_ = std::move(other.worker_);
    return *this;
}

WorkThread::~WorkThread() { join(); }

void WorkThread::join() {
    if (!worker_) return;
    worker_->wait();
    Waiting::of_program().keep(std::move(worker_));
}

}  // namespace hitchwright
