// See text_measure.h. Widths in units of 1/2048 em, read from the hmtx tables of DejaVu Sans 2.37 and DejaVu Sans Bold
// 2.37, characters 32 to 126. Largest width of any accented Latin, Greek or Cyrillic letter that is not a ligature is
// about 1.1 em; 0.95 em (1.05 em bold) covers the letters in use, 1.1 em is taken for everything else.
#include "report/text_measure.h"

#include <algorithm>
#include <array>

#include "report/text_clean.h"

namespace hitchwright {
namespace {

constexpr double units_per_em = 2048.0;
constexpr char32_t first_in_table = 32;
constexpr std::size_t table_size = 95;

constexpr std::array<int, table_size> regular_widths = {
    651,  821,  942,  1716, 1303, 1946, 1597, 563,  799,  799,  1024, 1716, 651,  739,  651,  690,  1303, 1303, 1303,
    1303, 1303, 1303, 1303, 1303, 1303, 1303, 690,  690,  1716, 1716, 1716, 1087, 2048, 1401, 1405, 1430, 1577, 1294,
    1178, 1587, 1540, 604,  604,  1343, 1141, 1767, 1532, 1612, 1235, 1612, 1423, 1300, 1251, 1499, 1401, 2025, 1403,
    1251, 1403, 799,  690,  799,  1716, 1024, 1024, 1255, 1300, 1126, 1300, 1260, 721,  1300, 1298, 569,  569,  1186,
    569,  1995, 1298, 1253, 1300, 1300, 842,  1067, 803,  1298, 1212, 1675, 1212, 1212, 1075, 1303, 690,  1303, 1716};

constexpr std::array<int, table_size> bold_widths = {
    713,  934,  1067, 1716, 1425, 2052, 1786, 627,  936,  936,  1071, 1716, 778,  850,  778,  748,  1425, 1425, 1425,
    1425, 1425, 1425, 1425, 1425, 1425, 1425, 819,  819,  1716, 1716, 1716, 1188, 2048, 1585, 1561, 1503, 1700, 1399,
    1399, 1681, 1714, 762,  762,  1587, 1305, 2038, 1714, 1741, 1501, 1741, 1577, 1475, 1397, 1663, 1585, 2259, 1579,
    1483, 1485, 936,  748,  936,  1716, 1024, 1024, 1382, 1466, 1214, 1466, 1389, 891,  1466, 1458, 702,  702,  1362,
    702,  2134, 1458, 1407, 1466, 1466, 1010, 1219, 979,  1458, 1335, 1892, 1321, 1335, 1192, 1458, 748,  1458, 1716};

constexpr std::array<std::string_view, 13> units = {"in", "mm", "m",   "deg", "lb",  "kg", "ft",
                                                    "hp", "kW", "rpm", "N",   "lbf", "%"};

double units_of(char32_t code, bool bold) {
    if (code >= first_in_table && code < first_in_table + table_size) {
        const std::size_t index = static_cast<std::size_t>(code - first_in_table);
        return bold ? bold_widths[index] : regular_widths[index];
    }
    const bool latin_greek_cyrillic = code >= 0xA0 && code < 0x530;
    if (latin_greek_cyrillic) return (bold ? 1.05 : 0.95) * units_per_em;
    return 1.1 * units_per_em;
}

std::size_t bytes_that_fit(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure) {
    std::size_t fits = 0;
    for (std::size_t at = 0; at < text.size();) {
        at += decode_character(text, at).bytes;
        if (measure.width_mm(text.substr(0, at), face) > width_mm) break;
        fits = at;
    }
    return fits;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// True when a line must not be broken between the two words: a number and its fraction, or a number and its unit.
bool belong_together(std::string_view word, std::string_view next) {
    if (word.empty() || next.empty() || !is_digit(word.back())) return false;
    if (is_digit(next.front())) return next.find('/') != std::string_view::npos;
    while (!next.empty() && std::string_view(".,;:)").find(next.back()) != std::string_view::npos)
        next.remove_suffix(1);
    return std::find(units.begin(), units.end(), next) != units.end();
}

/// Words, those that belong together in one piece with the spaces between them.
std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    std::string_view last;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string_view word = text.substr(at, end - at);
        const bool adjacent = !words.empty() && words.back().data() + words.back().size() + 1 == word.data();
        if (!word.empty() && adjacent && belong_together(last, word)) {
            words.back() = std::string_view(words.back().data(), words.back().size() + 1 + word.size());
        } else if (!word.empty()) {
            words.push_back(word);
        }
        last = word;
        at = end + 1;
    }
    return words;
}

}  // namespace

double BuiltInTextMeasure::width_mm(std::string_view text, TextFace face) const {
    double units = 0.0;
    for (std::size_t at = 0; at < text.size();) {
        const DecodedCharacter c = decode_character(text, at);
        units += units_of(c.code, face.bold);
        at += c.bytes;
    }
    return units / units_per_em * face.size_mm;
}

std::vector<std::string> wrap_text(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure) {
    std::vector<std::string> lines;
    std::string line;
    for (std::string_view word : words_of(text)) {
        const std::string longer = line.empty() ? std::string(word) : line + " " + std::string(word);
        if (measure.width_mm(longer, face) <= width_mm) {
            line = longer;
            continue;
        }
        if (!line.empty()) lines.push_back(line);
        while (measure.width_mm(word, face) > width_mm) {
            // At least one character per line, so that a width too small for any character still ends.
            const std::size_t part =
                std::max(bytes_that_fit(word, face, width_mm, measure), decode_character(word, 0).bytes);
            if (part >= word.size()) break;
            lines.emplace_back(word.substr(0, part));
            word.remove_prefix(part);
        }
        line = std::string(word);
    }
    if (!line.empty()) lines.push_back(line);
    return lines;
}

std::string shorten_text(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure) {
    if (measure.width_mm(text, face) <= width_mm) return std::string(text);
    const double dots = measure.width_mm("...", face);
    return std::string(text.substr(0, bytes_that_fit(text, face, width_mm - dots, measure))) + "...";
}

}  // namespace hitchwright
