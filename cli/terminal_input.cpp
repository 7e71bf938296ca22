// See terminal_input.h.
#include "cli/terminal_input.h"

#include <cerrno>
#include <cstring>
#include <string>

#include <poll.h>
#include <unistd.h>

#include "cli/exit_code.h"
#include "report/held_signals.h"

namespace hitchwright {
namespace {

/// A signal has been taken since the last InterruptEndsInput began.
volatile std::sig_atomic_t signal_taken = 0;

/// That the wait is broken off does the rest.
void note_signal(int) { signal_taken = 1; }

/// What is said when the first signal comes; null: nothing, and none ends the process.
const char* volatile first_sentence = nullptr;

/// Only what a handler may call.
void say_or_end(int) {
    if (signal_taken != 0) _exit(exit_code::interrupted);
    signal_taken = 1;
    const int before = errno;
    const char* sentence = first_sentence;
    if (sentence != nullptr && ::write(STDERR_FILENO, sentence, std::strlen(sentence)) < 0) errno = 0;  // nobody reads it: nothing to be done
    errno = before;
}

/// Hands the ending signals that were not ignored `before` to the handler. Which they are.
sigset_t handle_signals(void (*handler)(int), const std::array<struct sigaction, ending_signals.size()>& before) {
    sigset_t handled;
    sigemptyset(&handled);
    for (std::size_t i = 0; i < ending_signals.size(); ++i) {
        if (before[i].sa_handler == SIG_IGN) continue;
        struct sigaction action {};
        action.sa_handler = handler;
        sigemptyset(&action.sa_mask);
        sigaction(ending_signals[i], &action, nullptr);
        sigaddset(&handled, ending_signals[i]);
    }
    return handled;
}

/// True when the input is ready, or at its end; false when a signal came first.
bool wait_for_input() {
    const HeldSignals held;
    if (first_sentence != nullptr && signal_taken != 0) return false;
    sigset_t waiting = held.before(), pending;
    sigpending(&pending);
    for (const int signal : ending_signals) {
        // Input that is ready would go before a signal that is held back.
        if (sigismember(&waiting, signal) == 1 && sigismember(&pending, signal) == 1) {
            int taken = 0;
            sigset_t one;
            sigemptyset(&one);
            sigaddset(&one, signal);
            sigwait(&one, &taken);
            signal_taken = 1;
            return false;
        }
        sigdelset(&waiting, signal);
    }
    pollfd input{STDIN_FILENO, POLLIN, 0};
    return ppoll(&input, 1, nullptr, &waiting) > 0;
}

}  // namespace

TerminalInput::int_type TerminalInput::underflow() {
    if (!wait_for_input()) return traits_type::eof();
    const ssize_t n = ::read(STDIN_FILENO, buffer_.data(), buffer_.size());
    if (n < 0 && errno != EINTR) throw InputError(std::string("the input cannot be read: ") + std::strerror(errno));
    if (n <= 0) return traits_type::eof();
    setg(buffer_.data(), buffer_.data(), buffer_.data() + n);
    return traits_type::to_int_type(buffer_.front());
}

InterruptEndsInput::InterruptEndsInput() {
    signal_taken = 0;
    for (std::size_t i = 0; i < ending_signals.size(); ++i) sigaction(ending_signals[i], nullptr, &before_[i]);
    const sigset_t held = handle_signals(note_signal, before_);
    sigprocmask(SIG_BLOCK, &held, &mask_before_);
}

bool InterruptEndsInput::interrupted() const {
    if (signal_taken != 0) return true;
    sigset_t pending;
    sigpending(&pending);
    for (std::size_t i = 0; i < ending_signals.size(); ++i) {
        // An ignored one that was blocked by whoever started the program is not ours.
        if (before_[i].sa_handler != SIG_IGN && sigismember(&pending, ending_signals[i]) == 1) return true;
    }
    return false;
}

void InterruptEndsInput::end_at_second(const char* sentence) {
    if (first_sentence != nullptr) return;
    first_sentence = sentence;
    const sigset_t taken = handle_signals(say_or_end, before_);
    sigprocmask(SIG_UNBLOCK, &taken, nullptr);
}

InterruptEndsInput::~InterruptEndsInput() {
    first_sentence = nullptr;
    for (std::size_t i = 0; i < ending_signals.size(); ++i) {
        // To be ignored for a moment takes away what is pending.
        struct sigaction ignore {};
        ignore.sa_handler = SIG_IGN;
        sigemptyset(&ignore.sa_mask);
        sigaction(ending_signals[i], &ignore, nullptr);
        sigaction(ending_signals[i], &before_[i], nullptr);
    }
    sigprocmask(SIG_SETMASK, &mask_before_, nullptr);
}

}  // namespace hitchwright
