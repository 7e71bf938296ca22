// The words of `trace --seen`: phrases with what they mean, and a text split into words.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// What a phrase means. Groups that belong together stand together: places from `working`, signs from `knocks`.
enum class Tag {
    small,
    is,
    at,
    tail,
    front,
    pitch,
    ball,
    shaft,
    distance,
    gap,
    overlap,
    drawbar,
    deck,
    link,
    tyre,
    tongue,
    guard,
    ground,
    knocks,
    apart,
    chatters,
    drags,
    no_lift,
    touches,
    no_reach,
    too_short,
    too_long,
    more,
    less,
    tail_up,
    tail_down,
    working,
    lowest,
    raised,
    stops,
    dips,
    turns,
    straight
};

struct Phrase {
    std::string_view words;  ///< lower case, one blank between
    Tag tag;
};

/// All phrases; the longest that fits is the one meant.
std::span<const Phrase> seen_phrases();

/// Words of the longest phrase.
inline constexpr std::size_t longest_phrase = 4;

/// A word of a text.
struct SeenWord {
    std::string text;   ///< lower case
    std::string typed;  ///< as it stands
};

/// Words between blanks, without the stops behind them; "=" is a word of its own.
std::vector<SeenWord> split_seen(const std::string& text);

/// Begins a number: a digit, a sign or point before one, or a typographic fraction or sign.
bool begins_number(const std::string& word);
/// A unit of length or angle.
bool is_unit(const std::string& word);

}  // namespace hitchwright
