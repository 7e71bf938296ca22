// What "record" does besides recording.
#pragma once

#include "cli/commands.h"
#include "cli/record_options.h"

namespace hitchwright {

/// --recheck: which readings to take again, or what those taken again say.
Outcome run_recheck(const CommandContext& context, const RecordOptions& options);

/// --log: the log as a table.
Outcome run_log(const CommandContext& context, const RecordOptions& options);

}  // namespace hitchwright
