// Method: the text goes to a file of a new name in the same folder, which a hard link then names as wanted. Making a
// link fails where the name is taken, and it never shows half a file. Where a file system has no links, a copy that
// refuses to overwrite does it.
#include "cli/preset_copy.h"

#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "presets/problem.h"
#include "presets/toml_reader.h"
#include "report/atomic_file.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view origin_line =
    "origin = \"preset\"  # copied, not measured: delete this line once you have taken the readings yourself\n";

bool is_machine(FileKind kind) {
    return kind == FileKind::tractor || kind == FileKind::implement || kind == FileKind::driveline;
}

// Behind the line that holds the key `version`, which every file has at its top.
std::size_t find_insertion(std::string_view text) {
    std::size_t start = 0;
    while (start < text.size()) {
        const std::size_t end = text.find('\n', start);
        if (text.substr(start).starts_with("version") && end != std::string_view::npos) return end + 1;
        if (end == std::string_view::npos) break;
        start = end + 1;
    }
    return std::string_view::npos;
}

std::string taken_sentence(const std::string& path, std::string_view way_out) {
    return fmt::format("\"{}\" exists and is not overwritten; move it away, or {}", escape_text(path), way_out);
}

// A name beside `path` that nobody uses; empty when a hundred are taken.
std::string find_free_name(const std::string& path) {
    std::error_code error;
    for (int i = 0; i < 100; ++i) {
        std::string name = fmt::format("{}.part{}", path, i);
        if (fs::symlink_status(name, error).type() == fs::file_type::not_found) return name;
    }
    return {};
}

}  // namespace

std::string make_copy_text(std::string_view text, FileKind kind) {
    std::string result(text);
    const ParsedToml parsed = parse_toml(text, {});
    const std::size_t at = find_insertion(text);
    if (is_machine(kind) && parsed.ok() && parsed.root.find("origin") == nullptr && at != std::string_view::npos) {
        result.insert(at, origin_line);
    }
    return result;
}

std::string refuse_existing(const std::string& path, std::string_view way_out) {
    std::error_code error;
    const bool taken = fs::symlink_status(path, error).type() != fs::file_type::not_found && !error;
    return taken ? taken_sentence(path, way_out) : std::string{};
}

std::string write_new_file(const std::string& path, std::string_view text, std::string_view way_out) {
    if (const std::string taken = refuse_existing(path, way_out); !taken.empty()) return taken;
    std::error_code error;
    const std::string part = find_free_name(path);
    if (part.empty()) return fmt::format("there is no free name for a new file beside \"{}\"", escape_text(path));
    if (const auto failed = write_file_atomically(part, text)) return failed->message;
    fs::create_hard_link(part, path, error);
    if (error && error != std::errc::file_exists) {
        error.clear();
        fs::copy_file(part, path, fs::copy_options::none, error);
    }
    std::error_code ignored;
    fs::remove(part, ignored);
    if (error == std::errc::file_exists) return taken_sentence(path, way_out);
    return error ? fmt::format("\"{}\" cannot be written: {}", escape_text(path), error.message()) : std::string{};
}

}  // namespace hitchwright
