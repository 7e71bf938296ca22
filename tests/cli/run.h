// Runs the program in memory, as the tests of this folder need it.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace hitchwright::test {

/// What one run gave.
struct Run {
    int code = -1;
    std::string out, err;
};

/// Surroundings of a run.
struct World {
    bool terminal = false;
    std::map<std::string, std::string> variables;  ///< the environment; nothing else is set
    std::string input = {};  ///< what is typed, line by line
};

/// Runs the program with the arguments behind its name.
Run run(const std::vector<std::string>& args, const World& world = {});

/// A line split as a shell does it: blanks, double and single quotes, backslash at a line end or before a character.
std::vector<std::string> split_line(const std::string& line);

/// Runs `hitchwright ...` as typed at a prompt; `< FILE` is its input.
Run run_line(const std::string& line, const World& world = {});

/// Arguments as one line for messages.
std::string show(const std::vector<std::string>& args);

bool contains(const std::string& text, const std::string& part);

/// The lines of a text, without their ends.
std::vector<std::string> split_lines(const std::string& text);

/// `text` with each run of blanks and line ends as one blank: for sentences that may be wrapped anywhere.
std::string unwrap(const std::string& text);

std::string read_file(const std::filesystem::path& path);
void write_file(const std::filesystem::path& path, const std::string& text);

/// A folder of its own that is the working folder while it lives.
class WorkingFolder {
public:
    WorkingFolder();
    ~WorkingFolder();
    WorkingFolder(const WorkingFolder&) = delete;
    WorkingFolder& operator=(const WorkingFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path before_, path_;
};

/// Names of the demo set-ups that are built in; never empty.
std::vector<std::string> demo_setups();

}  // namespace hitchwright::test
