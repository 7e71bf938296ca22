// Signals that would end the process wait until a piece of work that must be whole is done.
#pragma once

#include <array>
#include <csignal>

namespace hitchwright {

/// Ctrl-C, the terminal's end, and a kill without a number.
inline constexpr std::array<int, 3> waiting_signals = {SIGINT, SIGHUP, SIGTERM};

/// Holds the signals back on this thread while it lives; another thread of the process still takes them.
class HeldSignals {
public:
    HeldSignals() {
        sigset_t held;
        sigemptyset(&held);
        for (const int signal : waiting_signals) sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before_);
    }
    ~HeldSignals() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
    HeldSignals(const HeldSignals&) = delete;
    HeldSignals& operator=(const HeldSignals&) = delete;
    /// What was held back before.
    const sigset_t& before() const { return before_; }

private:
    sigset_t before_{};
};

}  // namespace hitchwright
