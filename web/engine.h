// The command line as one function for the page: a request as JSON in, the answer as JSON out.
//
// Request: {"arguments": ["fit", "mine.toml", "--format", "json"], "files": {"mine.toml": "..."}, "variables": {"NO_COLOR": "1"}};
// the last two may be missing. The files stand in a folder of their own while the command runs, and no longer.
// Answer: {"code": 1, "out": "...", "err": "...", "files": {"side.svg": "..."}}: the exit code, what was printed, and the text of each
// file that was written.
#pragma once

#include <string>
#include <string_view>

namespace hitchwright {

/// The answer to a request. A request that is none is answered like a wrong command line, with exit code 2.
std::string answer_request(std::string_view request);

}  // namespace hitchwright
