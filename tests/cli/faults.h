// What the tests of faults have in common: the commands that write a file, and the program run with a fault.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "tests/cli/run.h"

namespace hitchwright::test {

/// A command that writes. Everything happens in the working folder; `start` puts there what it needs.
struct Writer {
    std::string line;                ///< arguments, as typed in bash
    std::vector<std::string> files;  ///< what it writes, in this order
    bool replaces = false;           ///< the file was there before
    int code = 0;                    ///< when all goes well
};

/// Every command that writes files, each way it does it.
const std::vector<Writer>& writers();

/// Of those one for each way of saving: pictures and pages of paper are all saved in one.
std::vector<Writer> ways_to_save();

/// An empty working folder with `a.toml`, the log and pictures that are to be replaced, and a code to be read.
void start_folder();

/// Contents by name of all files of the working folder.
std::map<std::string, std::string> read_folder();

/// "LD_PRELOAD=..." of fault_hook.cpp, in front of "$HW".
std::string preload_hook();

/// Variables in front of "$HW" that let the n-th call of this kind fail or a signal come (fault_hook.cpp).
std::string with_fault(const std::string& call, int number, const std::string& what, int value);

/// The text in the file `said` of the working folder, as one line.
std::string read_said();

/// True when a temporary file of a save is there.
bool has_part();

}  // namespace hitchwright::test
