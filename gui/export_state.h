// What the question "take it with you" holds: part of the view, not of the set-up.
#pragma once

#include <string>

namespace hitchwright {

struct ExportQuestion {
    bool open = false;
    std::string kind = "picture";  ///< name of the kind (export.h)
    std::string ending = ".pdf";   ///< form wanted; one the kind does not have counts as its first
    bool a4 = false;
    std::string path, proposed;    ///< as typed; as it was proposed
    std::string replaces;          ///< file that exists, and that the next press writes over
    std::string message;           ///< what was written, or why not
    bool failed = false;           ///< the message says why not
    bool wants_screen = false;     ///< the program is to hand over the next frame without the question
};

}  // namespace hitchwright
