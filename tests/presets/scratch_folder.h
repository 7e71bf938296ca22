// A folder of its own for a test that needs files; removed with everything in it at the end.
#pragma once

#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <string_view>

namespace hitchwright::test {

class ScratchFolder {
public:
    ScratchFolder() {
        std::random_device any;
        do {
            path_ = std::filesystem::temp_directory_path() / ("hitchwright-test-" + std::to_string(any()));
        } while (!std::filesystem::create_directory(path_));
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    ~ScratchFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }

    std::string path(std::string_view below = {}) const {
        return below.empty() ? path_.string() : (path_ / below).string();
    }

    /// Writes a file, making the folders above it; its path.
    std::string write(std::string_view below, std::string_view text) const {
        const std::filesystem::path file = path_ / below;
        std::filesystem::create_directories(file.parent_path());
        std::ofstream(file, std::ios::binary) << text;
        return file.string();
    }

private:
    std::filesystem::path path_;
};

}  // namespace hitchwright::test
