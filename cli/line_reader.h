// Lines of a stream that may be anything: of any length, without an end, with any byte in them. Memory is bounded.
#pragma once

#include <cstddef>
#include <cstdint>
#include <istream>
#include <optional>
#include <streambuf>
#include <string>

namespace hitchwright {

/// One line without its end.
struct InputLine {
    std::int64_t number = 0;  ///< from 1
    std::string text;         ///< at most the limit
    bool too_long = false;    ///< there was more; it was skipped up to the line's end
};

/// Reads line by line; a last line without a line end counts, an empty rest behind the last line end does not.
class LineReader {
public:
    LineReader(std::istream& stream, std::size_t most_bytes) : buffer_(stream.rdbuf()), most_(most_bytes) {}

    /// The next line; nothing at the end of the input. The stream is read through its buffer, so that no other stream is
    /// flushed by the reading.
    std::optional<InputLine> next() {
        using Traits = std::char_traits<char>;
        InputLine line;
        int c = buffer_->sbumpc();
        if (Traits::eq_int_type(c, Traits::eof())) return std::nullopt;
        for (; !Traits::eq_int_type(c, Traits::eof()) && c != '\n'; c = buffer_->sbumpc()) {
            if (line.text.size() < most_) line.text += Traits::to_char_type(c);
            else line.too_long = true;
        }
        line.number = ++number_;
        return line;
    }

private:
    std::streambuf* buffer_;
    std::size_t most_;
    std::int64_t number_ = 0;
};

}  // namespace hitchwright
