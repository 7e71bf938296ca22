// What the fuzz targets have in common: a property that does not hold ends the run, with what it was about.
//
// An input is text, so that every seed can be read and written by hand: lines first that begin with "#=" are what is
// typed, the rest is the text of a file.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "presets/problem.h"

namespace hitchwright::fuzz {

/// Ends the run when the property does not hold; `subject` says of what.
void require(bool holds, const char* property, std::string_view subject = {});

/// Tells the engine what came out: an answer that was not there before is worth as much as a new branch. It steers where nothing
/// is instrumented.
void note_answer(std::string_view answer);

/// The bytes of an input as text.
std::string_view as_text(const std::uint8_t* data, std::size_t size);

/// An input taken apart.
struct TypedInput {
    std::vector<std::string> typed;  ///< what stands behind "#=" in the first lines
    std::string_view text;           ///< the lines from the first one that does not begin so
};

TypedInput split_typed(std::string_view input);

/// What holds for every problem: file, line and column inside `text` (0: the problem has no place, allowed only without
/// `placed`), a message, and a sentence that cannot steer a terminal.
void require_sound(const Problem& problem, std::string_view text, bool placed);

/// Changes an input of lines, for targets that read such: libFuzzer's own changes half of the time, else lines are taken
/// away, doubled, moved, made a comment, or get another number. Returns the new size, at most `most`.
std::size_t mutate_lines(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed);

/// True when the text is UTF-8 as files are read, without byte order mark.
bool is_file_text(std::string_view text);

}  // namespace hitchwright::fuzz

/// Makes a target one of lines.
#define HITCHWRIGHT_FUZZ_LINES                                                                                                     \
    extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most, unsigned int seed) { \
        return hitchwright::fuzz::mutate_lines(data, size, most, seed);                                                            \
    }
