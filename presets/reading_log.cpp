#include "presets/reading_log.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "presets/file_text.h"
#include "presets/iso_date.h"
#include "presets/nearest.h"
#include "presets/overrides.h"
#include "presets/setup_draft.h"
#include "presets/toml_reader.h"

namespace hitchwright {
namespace {

constexpr std::string_view setup_ending = ".toml";
constexpr std::string_view preface =
    "# Readings of a set-up by date, written by \"hitchwright record\". Entries are only added, at the end.\n";

using Member = std::string LogEntry::*;

/// The texts of an entry but its kind, in the order in which they are written.
constexpr std::array<std::pair<std::string_view, Member>, 9> texts = {{{"date", &LogEntry::date},
                                                                       {"by", &LogEntry::by},
                                                                       {"after", &LogEntry::after},
                                                                       {"key", &LogEntry::key},
                                                                       {"unit", &LogEntry::unit},
                                                                       {"value", &LogEntry::value},
                                                                       {"before", &LogEntry::before},
                                                                       {"before_in", &LogEntry::before_in},
                                                                       {"note", &LogEntry::note}}};

/// Reads one log; every problem is kept and reading goes on.
class LogReader {
public:
    LogReader(const std::string& file, std::vector<Problem>& problems) : file_(file), problems_(problems) {}

    std::vector<LogEntry> read(const SourceNode& root) {
        read_kind(root);
        const std::string wanted = fmt::format("version = {}", log_version);
        const SourceNode* version = root.find("version");
        if (version == nullptr)
            add(root, "version", "the file does not say which version of the form of logs it follows", {}, wanted);
        else if (version->kind != SourceKind::whole || version->whole != log_version)
            add(*version, "version", "this program does not know that version of the form of logs", version->typed,
                wanted);
        // What another version means is not for this one to say.
        if (!problems_.empty()) return {};
        std::vector<LogEntry> entries;
        for (const SourceNode& member : root.members) {
            if (member.key == "kind" || member.key == "version") continue;
            if (member.key == "entry" && member.kind == SourceKind::list)
                for (const SourceNode& item : member.members) entries.push_back(read_entry(item, entries.size() + 1));
            else
                add(member, member.key, "a log has no such key", {}, "[[entry]] blocks behind kind and version");
        }
        return entries;
    }

private:
    void add(const SourceNode& at, std::string key, std::string message, std::string read, std::string allowed) {
        const bool own = at.key_line > 0;
        problems_.push_back({file_,
                             own ? at.key_line : at.line,
                             own ? at.key_column : at.column,
                             std::move(key),
                             std::move(message),
                             std::move(read),
                             std::move(allowed),
                             {}});
    }

    void read_kind(const SourceNode& root) {
        const SourceNode* kind = root.find("kind");
        if (kind == nullptr)
            add(root, "kind", "the file does not say that it is a log of readings", {}, "kind = \"log\"");
        else if (kind->typed != "log")
            add(*kind, "kind", "this file is no log of readings", kind->typed, "kind = \"log\"");
    }

    // A text; a number or a date that somebody wrote without quotes means the same.
    void read_text(const SourceNode& node, const std::string& key, std::string& text) {
        const bool fine = node.kind == SourceKind::text || node.kind == SourceKind::whole ||
                          node.kind == SourceKind::number || node.kind == SourceKind::moment;
        if (!fine) add(node, key, "a text is wanted here", std::string(kind_name(node.kind)), "a text in quotes");
        if (fine) text = node.typed;
    }

    void read_member(const SourceNode& node, const std::string& place, LogEntry& entry) {
        const std::string key = place + "." + node.key;
        const auto* const found =
            std::find_if(texts.begin(), texts.end(), [&](const auto& t) { return t.first == node.key; });
        if (found != texts.end()) return read_text(node, key, entry.*found->second);
        if (node.key != "kind") {
            std::vector<std::string> known{"kind"};
            for (const auto& t : texts) known.emplace_back(t.first);
            add(node, key, "an entry of a log has no such key", {}, {});
            problems_.back().nearest_key = nearest_word(node.key, known);
            return;
        }
        if (node.typed == log_kind_word(LogKind::recheck))
            entry.kind = LogKind::recheck;
        else if (node.typed != log_kind_word(LogKind::reading))
            add(node, key, "no entry of a log is of that kind", node.typed, "\"reading\" or \"recheck\"");
    }

    LogEntry read_entry(const SourceNode& item, std::size_t number) {
        LogEntry entry;
        const std::string place = fmt::format("entry[{}]", number);
        if (item.kind != SourceKind::table) {
            add(item, place, "an entry is a table", std::string(kind_name(item.kind)), "[[entry]] blocks");
            return entry;
        }
        const std::size_t before = problems_.size();
        for (const SourceNode& member : item.members) read_member(member, place, entry);
        if (problems_.size() > before) return entry;
        if (!is_iso_date(entry.date))
            add(item, place + ".date", "this entry has no day that exists", entry.date, "a day such as 2026-03-31");
        if (entry.value.empty())
            add(item, place + ".value", "this entry has no value", {}, "the value as it was typed");
        if (!split_key_value(entry.key + "="))
            add(item, place + ".key", "this is no key of a set-up", entry.key, "a key such as tractor.pto.stub_x");
        return entry;
    }

    std::string file_;
    std::vector<Problem>& problems_;
};

std::string format_entry(const LogEntry& entry, std::string_view end) {
    std::string text = fmt::format("[[entry]]{}", end);
    for (const auto& [key, member] : texts) {
        if (!(entry.*member).empty()) text += fmt::format("{} = {}{}", key, quote_toml(entry.*member), end);
        if (key == "by") text += fmt::format("kind = \"{}\"{}", log_kind_word(entry.kind), end);
    }
    return text;
}

}  // namespace

std::string_view log_kind_word(LogKind kind) { return kind == LogKind::recheck ? "recheck" : "reading"; }

bool is_log_name(std::string_view name) { return name.ends_with(log_ending); }

std::string find_log_file(const std::string& setup_file) {
    std::error_code failed;
    std::string file = setup_file;
    if (std::filesystem::is_symlink(setup_file, failed)) {
        const std::filesystem::path real = std::filesystem::canonical(setup_file, failed);
        if (!failed) file = real.string();
    }
    if (file.ends_with(setup_ending)) file.resize(file.size() - setup_ending.size());
    return file + std::string(log_ending);
}

std::vector<LogEntry> parse_log(std::string_view text, const std::string& file, std::vector<Problem>& problems) {
    const ParsedToml parsed = parse_toml(text, file);
    if (!parsed.ok()) {
        problems.insert(problems.end(), parsed.problems.begin(), parsed.problems.end());
        return {};
    }
    std::vector<Problem> own;
    std::vector<LogEntry> entries = LogReader(file, own).read(parsed.root);
    problems.insert(problems.end(), own.begin(), own.end());
    return entries;
}

ReadingLog read_log(const std::string& file) {
    ReadingLog log;
    log.file = file;
    std::error_code error;
    if (std::filesystem::symlink_status(file, error).type() == std::filesystem::file_type::not_found) return log;
    FileText text = read_file_text(file);
    log.exists = true;
    log.problems = std::move(text.problems);
    if (!log.ok()) return log;
    log.byte_order_mark = text.byte_order_mark;
    log.text = std::move(text.text);
    // An empty file is a log that was made ready by hand.
    if (!log.text.empty()) log.entries = parse_log(log.text, file, log.problems);
    return log;
}

std::string append_to_log(const ReadingLog& log, const std::vector<LogEntry>& entries) {
    std::string text = log.text;
    if (text.empty()) text = fmt::format("{}kind = \"log\"\nversion = {}\n", preface, log_version);
    const std::size_t first = text.find('\n');
    const bool carriage = first != std::string::npos && first > 0 && text[first - 1] == '\r';
    const std::string_view end = carriage ? "\r\n" : "\n";
    if (!text.ends_with('\n')) text += end;
    for (const LogEntry& entry : entries) text += std::string(end) + format_entry(entry, end);
    return text;
}

}  // namespace hitchwright
