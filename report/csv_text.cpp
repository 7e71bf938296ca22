// See csv_text.h.
#include "report/csv_text.h"

#include <fmt/format.h>

#include <cmath>

#include "report/output_number.h"
#include "report/text_layout.h"

namespace hitchwright {

std::string format_csv_number(double value) {
    if (!std::isfinite(value)) return {};
    return fmt::format("{}", round_for_output(value));  // fmt: shortest that reads back, no locale
}

namespace {

/// A sign before a plain amount, "-1/2 in".
bool is_signed_amount(std::string_view text) {
    const bool number = text.size() > 1 && (text[0] == '-' || text[0] == '+') && text[1] >= '0' && text[1] <= '9';
    return number && text.find_first_of("(|!=@") == std::string_view::npos;
}

/// A spreadsheet would compute it.
bool looks_like_formula(std::string_view text) {
    return !text.empty() && std::string_view("=+-@").find(text.front()) != std::string_view::npos && text != "-" && !is_signed_amount(text);
}

}  // namespace

std::string format_csv_text(std::string_view text) {
    const std::string shown = printable_text(text, 4096);
    const std::string plain = looks_like_formula(shown) ? "'" + shown : shown;
    if (plain.find_first_of(",\"") == std::string::npos) return plain;
    std::string quoted = "\"";
    for (const char c : plain) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + '"';
}

std::string format_csv_line(const std::vector<std::string>& cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) line += (i == 0 ? "" : ",") + cells[i];
    return line + '\n';
}

}  // namespace hitchwright
