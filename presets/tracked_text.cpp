#include "presets/tracked_text.h"

#include <algorithm>
#include <numeric>

namespace hitchwright {

std::vector<std::string_view> split_text_lines(std::string_view text) {
    std::vector<std::string_view> lines;
    while (true) {
        const std::size_t end = text.find('\n');
        std::string_view line = text.substr(0, end);
        if (end != std::string_view::npos && line.ends_with('\r')) line.remove_suffix(1);
        lines.push_back(line);
        if (end == std::string_view::npos) return lines;
        text.remove_prefix(end + 1);
    }
}

TrackedText::TrackedText(std::string_view text) : before_(text), text_(text) {
    origins_.resize(split_text_lines(text).size());
    std::iota(origins_.begin(), origins_.end(), 1);
}

int TrackedText::line_of(std::size_t at) const {
    return 1 + static_cast<int>(std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

void TrackedText::replace(const TextSpan& span, std::string_view with) {
    const auto first = origins_.begin() + line_of(span.begin) - 1;
    const auto gone = line_of(span.end) - line_of(span.begin);
    const auto come = std::count(with.begin(), with.end(), '\n');
    const bool at_line_start = span.begin == 0 || text_[span.begin - 1] == '\n';
    if (span.begin == span.end && at_line_start && with.ends_with('\n')) {
        // Whole lines before one that stays as it is.
        origins_.insert(first, static_cast<std::size_t>(come), 0);
    } else {
        const auto kept = std::min<std::ptrdiff_t>(gone, come);
        const auto at = origins_.erase(first + 1 + kept, first + 1 + gone);
        origins_.insert(at, static_cast<std::size_t>(come - kept), 0);
    }
    text_.replace(span.begin, span.end - span.begin, with);
}

std::vector<LineChange> TrackedText::list_changes() const {
    const auto old_lines = split_text_lines(before_), new_lines = split_text_lines(text_);
    std::vector<LineChange> changes;
    int next = 1;
    const auto add_gone = [&](int until) {
        for (; next < until; ++next) {
            changes.push_back({next, 0, std::string(old_lines[static_cast<std::size_t>(next) - 1]), {}});
        }
    };
    for (std::size_t i = 0; i < new_lines.size(); ++i) {
        const int origin = origins_[i], line = static_cast<int>(i) + 1;
        if (origin == 0) {
            changes.push_back({0, line, {}, std::string(new_lines[i])});
            continue;
        }
        add_gone(origin);
        const std::string_view old = old_lines[static_cast<std::size_t>(origin) - 1];
        if (old != new_lines[i]) changes.push_back({origin, line, std::string(old), std::string(new_lines[i])});
        next = origin + 1;
    }
    add_gone(static_cast<int>(old_lines.size()) + 1);
    return changes;
}

}  // namespace hitchwright
