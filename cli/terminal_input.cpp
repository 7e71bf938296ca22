// See terminal_input.h.
#include "cli/terminal_input.h"

#include <poll.h>
#include <unistd.h>

namespace hitchwright {
namespace {

/// Nothing to do: what counts is that the read is broken off.
void note_interrupt(int) {}

}  // namespace

TerminalInput::int_type TerminalInput::underflow() {
    // Ctrl-C is held back but for the wait itself, so that none gets lost between a prompt and its answer.
    sigset_t open;
    sigprocmask(SIG_SETMASK, nullptr, &open);
    sigdelset(&open, SIGINT);
    pollfd input{STDIN_FILENO, POLLIN, 0};
    if (ppoll(&input, 1, nullptr, &open) < 0) return traits_type::eof();
    const ssize_t n = ::read(STDIN_FILENO, buffer_.data(), buffer_.size());
    if (n <= 0) return traits_type::eof();
    setg(buffer_.data(), buffer_.data(), buffer_.data() + n);
    return traits_type::to_int_type(buffer_.front());
}

InterruptEndsInput::InterruptEndsInput() {
    struct sigaction action {};
    action.sa_handler = note_interrupt;
    action.sa_flags = static_cast<int>(SA_RESETHAND);  // no SA_RESTART: the read comes back
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, &before_);
    sigset_t held;
    sigemptyset(&held);
    sigaddset(&held, SIGINT);
    sigprocmask(SIG_BLOCK, &held, &mask_before_);
}

InterruptEndsInput::~InterruptEndsInput() {
    sigaction(SIGINT, &before_, nullptr);
    sigprocmask(SIG_SETMASK, &mask_before_, nullptr);
}

}  // namespace hitchwright
