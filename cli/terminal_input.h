// Standard input that Ctrl-C can end, so that a dialogue keeps what was typed.
//
// std::cin takes up a read that a signal broke off; this does not: with an InterruptEndsInput alive, Ctrl-C ends the input
// as a closed one would, once. Ctrl-C pressed again, or with none alive, ends the program as usual.
#pragma once

#include <array>
#include <csignal>
#include <streambuf>

namespace hitchwright {

/// Reads file descriptor 0.
class TerminalInput : public std::streambuf {
protected:
    int_type underflow() override;

private:
    std::array<char, 4096> buffer_{};
};

/// While it lives, the first Ctrl-C ends the input instead of the program.
class InterruptEndsInput {
public:
    InterruptEndsInput();
    ~InterruptEndsInput();
    InterruptEndsInput(const InterruptEndsInput&) = delete;
    InterruptEndsInput& operator=(const InterruptEndsInput&) = delete;

private:
    struct sigaction before_ {};
    sigset_t mask_before_{};
};

}  // namespace hitchwright
