// The program as a shell starts it, for what only a process of its own shows.
#pragma once

#include <cstdlib>
#include <string>

#include <sys/wait.h>

namespace hitchwright::test {

/// Runs a line of bash with $HW as the program; exit code, or -1 when it ended by a signal.
inline int shell(const std::string& line) {
    setenv("HW", HITCHWRIGHT_PROGRAM, 1);
    setenv("HW_LINE", line.c_str(), 1);
    const int status = std::system("bash -c \"$HW_LINE\"");
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace hitchwright::test
