// A log of readings. The lines "#=KEY=VALUE" before it are entries to be put behind it.
//
// Every problem has its place; a log that can be continued keeps each of its bytes, and read again it has the entries it
// had and the new ones behind them. Entries in brackets are the one form that takes no block behind it: the program says so
// and writes nothing.
#include "presets/overrides.h"
#include "presets/reading_log.h"
#include "presets/source_map.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;

namespace {

const std::string file_name = "yard.log.toml";

std::vector<LogEntry> make_entries(const std::vector<std::string>& typed) {
    std::vector<LogEntry> entries;
    for (const std::string& one : typed) {
        const auto split = split_key_value(one);
        if (!split || split->value.empty() || has_control_characters(one, true)) continue;
        LogEntry entry;
        entry.date = "2026-03-31";
        entry.kind = entries.size() % 2 == 0 ? LogKind::reading : LogKind::recheck;
        entry.key = split->key;
        entry.value = split->value;
        entry.before = entry.note = entry.by = split->value;
        entries.push_back(entry);
    }
    return entries;
}

bool has_entries_in_brackets(std::string_view text) {
    const auto map = map_source(text);
    const SpanNode* list = map ? map->root.find("entry") : nullptr;
    return list != nullptr && list->span.end > list->span.begin;
}

}  // namespace

HITCHWRIGHT_FUZZ_LINES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const fuzz::TypedInput input = fuzz::split_typed(fuzz::as_text(data, size));
    if (!fuzz::is_file_text(fuzz::as_text(data, size)) || !fuzz::is_file_text(input.text)) return -1;
    ReadingLog log;
    log.file = file_name;
    log.text = input.text;
    if (!log.text.empty()) log.entries = parse_log(log.text, file_name, log.problems);
    for (const Problem& problem : log.problems) fuzz::require_sound(problem, log.text, true);
    if (!log.ok() || has_entries_in_brackets(log.text)) return 0;
    const std::vector<LogEntry> added = make_entries(input.typed);
    const std::string text = append_to_log(log, added);
    require(text.starts_with(log.text), "what stands in a log stays byte for byte", text);
    std::vector<Problem> problems;
    std::vector<LogEntry> wanted = log.entries;
    wanted.insert(wanted.end(), added.begin(), added.end());
    const std::vector<LogEntry> read = parse_log(text, file_name, problems);
    require(problems.empty(), problems.empty() ? "" : format_problem(problems.front()).c_str(), text);
    require(read == wanted, "a log continued has its entries and the new ones", text);
    return 0;
}
