// A text that remembers which of its lines came from where while it is edited.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "presets/source_edit.h"
#include "presets/source_map.h"

namespace hitchwright {

class TrackedText {
public:
    explicit TrackedText(std::string_view text);

    const std::string& text() const { return text_; }

    /// Puts `with` in the place of a span.
    void replace(const TextSpan& span, std::string_view with);

    /// Line of a byte, from 1.
    int line_of(std::size_t at) const;

    /// What changed so far, by line.
    std::vector<LineChange> list_changes() const;

private:
    std::string before_, text_;
    std::vector<int> origins_;  ///< for every line: its number at first, 0 for a new one
};

/// The lines of a text without their ends (\n or \r\n); behind the last end stands another, maybe empty, line.
std::vector<std::string_view> split_text_lines(std::string_view text);

}  // namespace hitchwright
