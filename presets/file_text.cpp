// Files are checked before they are opened (a pipe would block) and again once open (it may have changed).
#include "presets/file_text.h"

#include <array>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>

#include "presets/utf8.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

FileText refuse(const std::string& file, std::string message, std::string allowed = {}) {
    FileText result;
    result.problems.push_back({file, 0, 0, {}, std::move(message), {}, std::move(allowed), {}});
    return result;
}

FileText refuse_size(const std::string& file, std::uintmax_t bytes) {
    return refuse(file, fmt::format("the file has {} bytes; it was not read", bytes),
                  fmt::format("at most {} bytes (1 MiB)", most_file_bytes));
}

// Empty: a regular file of a readable size.
FileText check_kind(const std::string& path) {
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (status.type() == fs::file_type::not_found) {
        return refuse(path, "there is no such file");
    }
    if (status.type() == fs::file_type::directory) {
        return refuse(path, "this is a directory, not a file");
    }
    if (status.type() == fs::file_type::none || status.type() == fs::file_type::unknown) {
        return refuse(path, fmt::format("the file cannot be looked at ({})", error.message()));
    }
    if (status.type() != fs::file_type::regular) {
        return refuse(path, "this is a device or a pipe, not a file", "a regular text file");
    }
    const std::uintmax_t bytes = fs::file_size(path, error);
    if (error) {
        return refuse(path, fmt::format("the file cannot be looked at ({})", error.message()));
    }
    return bytes > most_file_bytes ? refuse_size(path, bytes) : FileText{};
}

}  // namespace

FileText read_file_text(const std::string& path) {
    if (path.empty() || path.find('\0') != std::string::npos) {
        return refuse(path, "this is no file name");
    }
    FileText refused = check_kind(path);
    if (!refused.ok()) {
        return refused;
    }
    std::ifstream stream(path, std::ios::binary);
    if (!stream) {
        return refuse(path, "the file cannot be opened for reading");
    }
    // To a little past the limit, so that a file that has grown meanwhile is noticed.
    std::string bytes;
    std::array<char, 16384> part;
    while (stream && bytes.size() <= most_file_bytes) {
        stream.read(part.data(), part.size());
        bytes.append(part.data(), static_cast<std::size_t>(stream.gcount()));
    }
    if (stream.bad()) {
        return refuse(path, "the file cannot be read");
    }
    return check_file_text(bytes, path);
}

FileText check_file_text(std::string_view bytes, const std::string& file) {
    if (bytes.size() > most_file_bytes) {
        return refuse_size(file, bytes.size());
    }
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    const std::size_t start = bytes.substr(0, 3) == byte_order_mark ? 3 : 0;
    int line = 1, column = 1;
    for (std::size_t at = start; at < bytes.size();) {
        const Utf8Character c = decode_utf8(bytes, at);
        if (c.size == 0) {
            FileText result = refuse(file, fmt::format("this is not UTF-8 text: bad byte 0x{:02x} at byte {} of the file",
                                                       static_cast<unsigned char>(bytes[at]), at + 1),
                                     "text saved as UTF-8");
            result.problems.front().line = line;
            result.problems.front().column = column;
            return result;
        }
        column = c.code == '\n' ? 1 : column + 1;
        line += c.code == '\n' ? 1 : 0;
        at += c.size;
    }
    return {std::string(bytes.substr(start)), {}, start > 0};
}

}  // namespace hitchwright
