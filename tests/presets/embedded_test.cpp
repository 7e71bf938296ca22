// The files built into the program against those in the checkout, both ways and byte for byte.

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>

#include "presets/embedded.h"

namespace {

/// Content of every .toml file below presets/ by its path there.
std::map<std::string, std::string> files_on_disk() {
    const std::filesystem::path root = std::filesystem::path{HITCHWRIGHT_SOURCE_DIR} / "presets";
    std::map<std::string, std::string> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator{root}) {
        if (entry.path().extension() != ".toml") {
            continue;
        }
        std::ifstream stream{entry.path(), std::ios::binary};
        files[entry.path().lexically_relative(root).generic_string()] =
            std::string{std::istreambuf_iterator<char>{stream}, {}};
    }
    return files;
}

}  // namespace

TEST_CASE("embedded presets: every file of the checkout is built in, byte for byte", "[golden]") {
    std::map<std::string, std::string> built_in;
    std::string previous;
    for (const hitchwright::EmbeddedFile& file : hitchwright::embedded_files()) {
        CHECK(previous < file.path);
        previous = file.path;
        built_in.emplace(file.path, file.text);
    }
    const std::map<std::string, std::string> on_disk = files_on_disk();
    REQUIRE_FALSE(on_disk.empty());
    REQUIRE(built_in.size() == on_disk.size());
    for (const auto& [path, text] : on_disk) {
        CAPTURE(path);
        REQUIRE(built_in.contains(path));
        CHECK(built_in.at(path) == text);
    }
}
