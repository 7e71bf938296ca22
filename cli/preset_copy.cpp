// See preset_copy.h.
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
    const auto failed = write_new_file_atomically(path, text);
    if (!failed) return {};
    return failed->kind == FileErrorKind::exists ? taken_sentence(path, way_out) : failed->message;
}

}  // namespace hitchwright
