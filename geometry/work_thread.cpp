#include "geometry/work_thread.h"

#include <algorithm>
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

#if HITCHWRIGHT_PLACES_THREADS

namespace {

// Unknown: none is in it.
cpu_set_t find_processors() {
    cpu_set_t all;
    CPU_ZERO(&all);
    if (sched_getaffinity(0, sizeof all, &all) != 0) CPU_ZERO(&all);  // more of them than the set has room for
    return all;
}

struct Start {
    std::function<void()> work;
    cpu_set_t all;
};

void* run(void* given) noexcept {
    const std::unique_ptr<Start> start(static_cast<Start*>(given));
    if (CPU_COUNT(&start->all) > 1) pthread_setaffinity_np(pthread_self(), sizeof start->all, &start->all);
    start->work();
    return nullptr;
}

int create(pthread_t& thread, Start& start) {
    const int here = sched_getcpu();
    if (CPU_COUNT(&start.all) < 2 || here < 0) return pthread_create(&thread, nullptr, run, &start);
    cpu_set_t others = start.all;
    CPU_CLR(here, &others);
    pthread_attr_t attributes;
    pthread_attr_init(&attributes);
    pthread_attr_setaffinity_np(&attributes, sizeof others, &others);
    const int failed = pthread_create(&thread, &attributes, run, &start);
    pthread_attr_destroy(&attributes);
    return failed == 0 ? 0 : pthread_create(&thread, nullptr, run, &start);  // they may have gone meanwhile
}

}  // namespace

struct WorkThread::Handle {
    pthread_t thread;
    void join() { pthread_join(thread, nullptr); }
};

WorkThread::WorkThread(std::function<void()> work) : handle_(std::make_unique<Handle>()) {
    auto start = std::make_unique<Start>(Start{std::move(work), find_processors()});
    if (const int failed = create(handle_->thread, *start)) {
        handle_.reset();
        throw std::system_error(failed, std::generic_category());
    }
    start.release();  // the thread's now
}

int count_processors() {
    const cpu_set_t all = find_processors();
    return CPU_COUNT(&all) > 0 ? CPU_COUNT(&all) : std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

#else

struct WorkThread::Handle {
    std::thread thread;
    void join() { thread.join(); }
};

WorkThread::WorkThread(std::function<void()> work) : handle_(std::make_unique<Handle>(Handle{std::thread(std::move(work))})) {}

int count_processors() {
#if defined(__EMSCRIPTEN__) && !defined(__EMSCRIPTEN_PTHREADS__)
    return 1;  // the browser's processors are there, but no thread can be had
#else
    return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
#endif
}

#endif

WorkThread::WorkThread() = default;
WorkThread::WorkThread(WorkThread&&) noexcept = default;

WorkThread& WorkThread::operator=(WorkThread&& other) noexcept {
    join();
    handle_ = std::move(other.handle_);
    return *this;
}

WorkThread::~WorkThread() { join(); }

void WorkThread::join() {
    if (!handle_) return;
    handle_->join();
    handle_.reset();
}

}  // namespace hitchwright
