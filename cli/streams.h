// What a command may use of the world around it, so that tests can run the whole program in memory.
#pragma once

#include <functional>
#include <iosfwd>

namespace hitchwright {

/// Streams and surroundings of one run. The streams must outlive the call they are given to.
struct Streams {
    std::istream& in;              ///< answers to the questions of "new"
    std::ostream& out;             ///< answers
    std::ostream& err;             ///< what went wrong, in sentences
    bool out_is_terminal = false;  ///< colour is only used on a terminal
    /// An environment variable, or null when it is not set.
    std::function<const char*(const char*)> variable = [](const char*) -> const char* { return nullptr; };
    bool in_is_terminal = false;  ///< somebody sits there who could answer
    bool err_is_terminal = false;  ///< a line there that changes is welcome
};

}  // namespace hitchwright
