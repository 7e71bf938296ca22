// The log of readings beside a set-up: what was recorded when, by whom, in place of what. Entries are only ever added.
//
// "yard.toml" has "yard.log.toml": TOML, one [[entry]] for each value, in the order in which they were recorded
// (docs/file-format.md, "Log of readings"). What stands in the file, comments included, stays byte for byte; an entry
// goes behind it. A log with anything in it that is not understood is not continued, so that nothing in it is lost.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "presets/problem.h"

namespace hitchwright {

/// Ends the file name of a log.
inline constexpr std::string_view log_ending = ".log.toml";
/// The version of the form of a log.
inline constexpr int log_version = 1;
/// Longest name and note of an entry, in characters.
inline constexpr std::size_t most_by_characters = 80, most_note_characters = 400;

/// What an entry is: a reading that went into the set-up, or one taken again, which did not.
enum class LogKind { reading, recheck };

/// "reading", "recheck".
std::string_view log_kind_word(LogKind kind);

/// One value with its day.
struct LogEntry {
    std::string date;  ///< YYYY-MM-DD
    std::string by;    ///< who took it; may be empty
    LogKind kind = LogKind::reading;
    std::string after;      ///< of a recheck: after how much work, "1 h"
    std::string key;        ///< as for --set
    std::string unit;       ///< of a number without one, on that day; may be empty
    std::string value;      ///< as typed
    std::string before;     ///< value in effect before, as typed there; empty: there was none
    std::string before_in;  ///< file it stood in, when that was not the set-up itself
    std::string note;       ///< free text; may be empty

    bool operator==(const LogEntry&) const = default;
};

/// A log as it stands on the disk, or why it cannot be continued.
struct ReadingLog {
    std::string file;
    std::string text;  ///< without byte order mark
    bool exists = false;
    bool byte_order_mark = false;
    std::vector<LogEntry> entries;  ///< in the order of the file
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// True for a file name that a log has.
bool is_log_name(std::string_view name);

/// The log that belongs to a set-up file, beside it. A link is followed first, so that one set-up has one log whatever
/// it is called by.
std::string find_log_file(const std::string& setup_file);

/// The entries in a text; all problems at once.
std::vector<LogEntry> parse_log(std::string_view text, const std::string& file, std::vector<Problem>& problems);

/// Reads a log. A file that is not there is an empty log.
ReadingLog read_log(const std::string& file);

/// The text of the log with the entries behind it; a new one begins with its header. Entries without control
/// characters.
std::string append_to_log(const ReadingLog& log, const std::vector<LogEntry>& entries);

}  // namespace hitchwright
