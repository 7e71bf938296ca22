// Standard input that Ctrl-C or a terminal that goes away can end, so that a dialogue keeps what was typed.
//
// std::cin takes up a read that a signal broke off; this does not. With an InterruptEndsInput alive the signals are held
// back outside of the wait for input (ppoll lets them through there and nowhere else), so that none falls between a
// prompt and the read behind it: it ends the input as a closed one would.
#pragma once

#include <array>
#include <csignal>
#include <cstddef>
#include <stdexcept>
#include <streambuf>

namespace hitchwright {

/// Signals that end the input: Ctrl-C, and the terminal's end.
inline constexpr std::array<int, 2> ending_signals = {SIGINT, SIGHUP};

/// The input is there and cannot be read: a folder, a closed descriptor. Streams take it for the end of the input; who reads
/// the buffer itself can tell.
struct InputError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Reads file descriptor 0. Throws InputError.
class TerminalInput : public std::streambuf {
protected:
    int_type underflow() override;

private:
    std::array<char, 4096> buffer_{};
};

/// While it lives, the signals end the input instead of the program, and one more of them does nothing, so that what was
/// saved is also said. A signal that the program was started to ignore stays ignored.
class InterruptEndsInput {
public:
    InterruptEndsInput();
    ~InterruptEndsInput();
    InterruptEndsInput(const InterruptEndsInput&) = delete;
    InterruptEndsInput& operator=(const InterruptEndsInput&) = delete;
    /// True when a signal has come that ends the input, be it taken by a read or still held back. For work that goes on
    /// without reading; of the threads started meanwhile none takes it.
    bool interrupted() const;
    /// For long work: the first signal is answered with `sentence` on the error stream as soon as it comes, the second ends the
    /// process with the code 130. From then on the calling thread takes the signals; to be called when all others are started.
    /// `sentence` lives as long as this.
    void end_at_second(const char* sentence);

private:
    std::array<struct sigaction, ending_signals.size()> before_{};
    sigset_t mask_before_{};
};

}  // namespace hitchwright
