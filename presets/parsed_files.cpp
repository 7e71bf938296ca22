// See parsed_files.h.
#include "presets/parsed_files.h"

#include <algorithm>
#include <utility>

namespace hitchwright {

std::shared_ptr<const ParsedToml> ParsedFiles::find(std::string_view text, const std::string& file) {
    const auto same = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& k) { return k.file == file && k.text == text; });
    if (same == kept_.end()) return nullptr;
    std::rotate(same, same + 1, kept_.end());
    return kept_.back().parsed;
}

std::shared_ptr<const ParsedToml> ParsedFiles::parse(std::string_view text, const std::string& file) {
    {
        const std::lock_guard lock(mutex_);
        if (auto known = find(text, file)) return known;
    }
    auto parsed = std::make_shared<const ParsedToml>(parse_toml(text, file));
    const std::lock_guard lock(mutex_);
    if (auto meanwhile = find(text, file)) return meanwhile;
    // Of a file that changes its last text is enough.
    std::erase_if(kept_, [&](const Kept& k) { return k.file == file; });
    if (kept_.size() >= most_kept) kept_.erase(kept_.begin());
    kept_.push_back({file, std::string(text), parsed});
    return parsed;
}

std::shared_ptr<const ParsedToml> parse_toml(std::string_view text, const std::string& file, ParsedFiles* kept) {
    return kept != nullptr ? kept->parse(text, file) : std::make_shared<const ParsedToml>(parse_toml(text, file));
}

}  // namespace hitchwright
