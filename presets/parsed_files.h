// Trees of files that were read before, for who reads the same files again and again. Whether a file has changed says its text, byte by byte.
#pragma once

#include <cstddef>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

#include "presets/toml_reader.h"

namespace hitchwright {

/// Threads may ask at once.
class ParsedFiles {
public:
    /// Files kept: some ten are those of a set-up. Of more the one asked for longest ago is forgotten.
    static constexpr std::size_t most_kept = 32;

    /// What parse_toml gives; parsed anew only where this text was not read under this name before.
    std::shared_ptr<const ParsedToml> parse(std::string_view text, const std::string& file);

private:
    struct Kept {
        std::string file, text;
        std::shared_ptr<const ParsedToml> parsed;
    };

    std::shared_ptr<const ParsedToml> find(std::string_view text, const std::string& file);

    std::mutex mutex_;
    std::vector<Kept> kept_;  ///< the one asked for last at the end
};

/// The tree of a text, kept where `kept` is given.
std::shared_ptr<const ParsedToml> parse_toml(std::string_view text, const std::string& file, ParsedFiles* kept);

}  // namespace hitchwright
