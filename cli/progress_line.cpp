// See progress_line.h.
#include "cli/progress_line.h"

#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>

namespace hitchwright {
namespace {

constexpr std::size_t bar_columns = 24;
constexpr std::chrono::milliseconds between_shows{100};

std::string format_time_left(double seconds) {
    if (seconds < 90.0) return fmt::format("{:.0f} s left", std::ceil(seconds));
    if (seconds < 5400.0) return fmt::format("{:.0f} min left", std::ceil(seconds / 60.0));
    return fmt::format("{:.1f} h left", seconds / 3600.0);
}

}  // namespace

std::string format_progress(std::size_t done, std::size_t kept, std::size_t total, double seconds) {
    const std::size_t filled = total == 0 ? bar_columns : std::min(bar_columns, bar_columns * done / total);
    std::string text = fmt::format("[{}{}]  {} of {}", std::string(filled, '#'), std::string(bar_columns - filled, '.'), done, total);
    const std::size_t computed = done - std::min(done, kept);
    if (computed == 0 || !(seconds > 0.0)) return text;
    const double rate = static_cast<double>(computed) / seconds;
    text += fmt::format("  {} a second", rate < 10.0 ? fmt::format("{:.1f}", rate) : fmt::format("{:.0f}", rate));
    if (done < total) text += "  " + format_time_left(static_cast<double>(total - done) / rate);
    return text;
}

ProgressLine::ProgressLine(std::ostream* stream, std::size_t kept, std::size_t total) : stream_(stream), kept_(kept), total_(total) {}

ProgressLine::~ProgressLine() {
    if (stream_ == nullptr || shown_columns_ == 0) return;
    *stream_ << '\r' << std::string(shown_columns_, ' ') << '\r' << std::flush;
}

void ProgressLine::show(std::size_t done) {
    const Clock::time_point now = Clock::now();
    if (stream_ == nullptr || now - shown_ < between_shows) return;
    shown_ = now;
    const std::string text = format_progress(done, kept_, total_, std::chrono::duration<double>(now - began_).count());
    *stream_ << '\r' << text << std::string(shown_columns_ - std::min(shown_columns_, text.size()), ' ') << std::flush;
    shown_columns_ = std::max(shown_columns_, text.size());
}

}  // namespace hitchwright
