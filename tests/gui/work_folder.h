// A folder of its own for tests that write files, and what they ask of files.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <unistd.h>

namespace hitchwright::test {

/// A folder that is the working folder while it lives; the day of the log is fixed.
class WorkFolder {
public:
    WorkFolder() : before_(std::filesystem::current_path()) {
        path_ = std::filesystem::temp_directory_path() / ("hitchwright-window-" + std::to_string(getpid()));
        std::filesystem::remove_all(path_);
        std::filesystem::create_directories(path_);
        std::filesystem::current_path(path_);
        setenv("SOURCE_DATE_EPOCH", "1772323200", 1);
    }
    ~WorkFolder() {
        unsetenv("SOURCE_DATE_EPOCH");
        std::filesystem::current_path(before_);
        std::filesystem::remove_all(path_);
    }
    WorkFolder(const WorkFolder&) = delete;
    WorkFolder& operator=(const WorkFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }
    std::string at(const std::string& name) const { return (path_ / name).string(); }

private:
    std::filesystem::path before_, path_;
};

inline std::string read(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

inline void write(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

inline bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace hitchwright::test
