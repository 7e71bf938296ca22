// Changes of lines. libFuzzer knows bytes only, and of a file changed by bytes most are no TOML any more.
#include <algorithm>
#include <cstring>
#include <random>

#include "tests/fuzz/fuzz.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace hitchwright::fuzz {
namespace {

using Lines = std::vector<std::string>;

Lines split_lines(std::string_view text) {
    Lines lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size() - 1) + 1;
        lines.emplace_back(text.substr(0, end));
        text.remove_prefix(end);
    }
    return lines;
}

constexpr std::string_view numbers[] = {"0",    "-0",      "1",   "-1",     "3 1/4 in", "14 in +- 1/8 in", "2'2 1/2\\\"", "1e9", "1e-9",
                                        "0.0",  "999999",  "nan", "-inf",   "12 mm",    "540, 1000",       "true",          "\"\"",
                                        "\"2\"", "'12 in'", "[]",  "{ }",    "1_000",    "0x10",            "2026-03-01"};

// What stands behind the = or the first blank becomes something else.
void put_number(std::string& line, std::size_t which) {
    const std::size_t at = std::min(line.find('='), line.find(' '));
    if (at == std::string::npos) return;
    const std::string end = line.back() == '\n' ? "\n" : "";
    line.erase(at + 1);
    line.append(line[at] == '=' ? " " : "").append(numbers[which % std::size(numbers)]).append(end);
}

// Bytes of one line alone.
void change_bytes(std::string& line) {
    std::string room = line;
    const std::size_t before = line.size();
    room.resize(before + 24);
    room.resize(LLVMFuzzerMutate(reinterpret_cast<std::uint8_t*>(room.data()), before, room.size()));
    line = room;
}

void change_lines(Lines& lines, std::minstd_rand& random) {
    const std::size_t at = random() % lines.size(), other = random() % lines.size();
    const auto place = [&lines](std::size_t i) { return lines.begin() + static_cast<std::ptrdiff_t>(i); };
    switch (random() % 8) {
        case 0: lines.erase(place(at)); return;
        case 1: lines.insert(place(at), std::string(lines[other])); return;
        case 2: std::swap(lines[at], lines[other]); return;
        case 3: lines[at].insert(0, "# "); return;
        case 4: lines[at].erase(0, lines[at].find_first_not_of("# ")); return;
        case 5: put_number(lines[at], random()); return;
        case 6: std::rotate(place(std::min(at, other)), place(std::max(at, other)), lines.end()); return;
        default: change_bytes(lines[at]);
    }
}

}  // namespace

std::size_t mutate_lines(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed) {
    std::minstd_rand random(seed);
    Lines lines = split_lines(as_text(data, size));
    if (random() % 2 == 0 || lines.empty()) return LLVMFuzzerMutate(data, size, most);
    for (std::size_t changes = 1 + random() % 3; changes > 0 && !lines.empty(); --changes) change_lines(lines, random);
    std::string text;
    for (const std::string& line : lines) text += line;
    const std::size_t taken = std::min(text.size(), most);
    std::memcpy(data, text.data(), taken);
    return taken;
}

}  // namespace hitchwright::fuzz
