// How far a long piece of work is, as a line on a terminal that is written over: bar, count, rate, time left.
#pragma once

#include <chrono>
#include <cstddef>
#include <iosfwd>
#include <string>

namespace hitchwright {

/// "[####......]  120 of 624  14.2 a second  36 s left"; at most 79 columns, no line end. `kept`: of `done`, how many were
/// there before: they say nothing of the rate. `seconds`: since it began.
std::string format_progress(std::size_t done, std::size_t kept, std::size_t total, double seconds);

/// Shows it now and then, and takes it away at the end. Without a stream it does nothing.
class ProgressLine {
public:
    ProgressLine(std::ostream* stream, std::size_t kept, std::size_t total);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;
    void show(std::size_t done);

private:
    using Clock = std::chrono::steady_clock;
    std::ostream* stream_;
    std::size_t kept_, total_, shown_columns_ = 0;
    Clock::time_point began_ = Clock::now(), shown_ = began_;
};

}  // namespace hitchwright
