// The options of "record" that are about its log, and the parts its answers share.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "cli/record_file.h"
#include "cli/today.h"

namespace hitchwright {

/// What "record" is asked for.
enum class RecordTask { record, recheck, show_log };

/// One command line of "record".
struct RecordOptions {
    RecordTask task = RecordTask::record;
    CommonValues common;
    EntryFacts facts;  ///< `after` of a recheck only
    bool dry_run = false, with_log = true;
    std::vector<std::string> rest;  ///< behind SETUP: KEY=VALUE, or KEY of a log that is shown
};

/// Reads it; problems stay in `reader`.
RecordOptions read_record_options(OptionReader& reader, const CommandContext& context);

/// A set-up file of one's own, or why nothing can be recorded into it.
std::variant<PresetText, Failure> read_own_setup(const CommandContext& context);

/// A failure of files; `end`: what was not done.
Failure refuse_problems(std::vector<Problem> problems, std::string_view end = "nothing was written");

/// A log that cannot be continued: its problems, and the ways on.
Failure refuse_log(const ReadingLog& log, std::string_view end = "nothing was written");

/// "Log: yard.log.toml, 2 entries added".
std::string format_log_line(const std::string& file, std::size_t entries, bool fresh, bool dry_run);

}  // namespace hitchwright
