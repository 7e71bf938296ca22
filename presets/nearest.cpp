// Edit distance by rows; the words are a few dozen characters at most.
#include "presets/nearest.h"

#include <algorithm>

namespace hitchwright {
namespace {

constexpr std::size_t most_characters = 64;

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1), row(b.size() + 1), next(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) {
        row[j] = j;
    }
    for (std::size_t i = 1; i <= a.size(); ++i) {
        next[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = lower(a[i - 1]) == lower(b[j - 1]);
            next[j] = std::min({row[j] + 1, next[j - 1] + 1, row[j - 1] + (same ? 0u : 1u)});
            const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
            if (swapped) {
                next[j] = std::min(next[j], before[j - 2] + 1);
            }
        }
        before.swap(row);
        row.swap(next);
    }
    return row[b.size()];
}

std::string nearest_word(std::string_view typed, const std::vector<std::string>& known) {
    std::string best;
    std::size_t least = std::max<std::size_t>(2, typed.size() / 3) + 1;
    if (typed.empty() || typed.size() > most_characters) {
        return best;
    }
    for (const std::string& word : known) {
        const std::size_t distance = edit_distance(typed, word);
        // Two edits make any two-letter word out of any other.
        if (distance < least && distance < std::max(typed.size(), word.size())) {
            least = distance;
            best = word;
        }
    }
    return best;
}

}  // namespace hitchwright
