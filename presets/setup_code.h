// Files of a set-up as one text short enough for a QR code, and back: comments dropped, compressed (RFC 1950), base45
// (RFC 9285).
//
// Form: "HITCHWRIGHT1:" and base45 of the compressed bytes of each file in turn: a line "NAME SIZE", then SIZE bytes.
// The check sum of the compression finds a letter that was read wrong.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// A file by its name, without a folder.
struct CodeFile {
    std::string name, text;
    bool operator==(const CodeFile&) const = default;
};

/// The code of the files; names without blanks. Texts keep all but comments, blank lines and blanks at line ends.
std::string pack_code(const std::vector<CodeFile>& files);

/// What a code holds, or one sentence why it is none.
struct UnpackedCode {
    std::vector<CodeFile> files;
    std::string error;
    bool ok() const { return error.empty(); }
};

/// Never throws; texts of more than `most_code_bytes` are refused. Blanks around the code are dropped.
UnpackedCode unpack_code(std::string_view code);
inline constexpr std::size_t most_code_bytes = 200'000;
inline constexpr std::size_t most_code_files = 16;
/// The first file of a code.
inline constexpr std::string_view setup_file_name = "setup.toml";

/// A TOML text without comments, blank lines and blanks at line ends; strings stay as they are.
std::string drop_comments(std::string_view toml);

}  // namespace hitchwright
