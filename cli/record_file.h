// A recording on its way to the disk: the set-up and its log, as a whole or not at all. Used by the command and by the
// viewer.
//
// Under a lock of the folder the set-up is compared with what was read, and the log read once more; then the log is
// written, then the set-up. Should the set-up fail, the log is put back. A crash between the two leaves an entry of a
// value that is not in the set-up: the reading is kept either way.
#pragma once

#include <string>
#include <vector>

#include "presets/library.h"
#include "presets/reading_log.h"
#include "presets/recheck_values.h"
#include "presets/record_values.h"

namespace hitchwright {

/// What an entry says besides the value.
struct EntryFacts {
    std::string date, by, note;
    std::string after;  ///< of a recheck
};

/// The entries of recorded values, and of values taken once more. `file`: the set-up's.
std::vector<LogEntry> make_entries(const RecordedValues& values, const std::string& file, const EntryFacts& facts);
std::vector<LogEntry> make_entries(const RecheckedValues& values, const std::string& file, const EntryFacts& facts);

/// What is to be written.
struct RecordRequest {
    PresetText loaded;              ///< the set-up as it was read
    std::string edited;             ///< its text afterwards; the same: it is not written
    std::vector<LogEntry> entries;  ///< empty: no log is written
};

/// Writes it. Empty: written; else one sentence without its full stop, and nothing was changed, unless it says so.
std::string write_recording(const RecordRequest& request, const Library& library);

/// True when the set-up file is on the disk as it was read.
bool is_unchanged(const PresetText& loaded, const Library& library);

}  // namespace hitchwright
