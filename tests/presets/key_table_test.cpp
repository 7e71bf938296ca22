// The key tables in docs/file-format.md against the lists the reader uses.
// Run with HITCHWRIGHT_UPDATE_DOCS=1 in the environment to write the tables anew.

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "presets/key_table.h"

using namespace hitchwright;

namespace {

const std::string path = std::string(HITCHWRIGHT_SOURCE_DIR) + "/docs/file-format.md";

std::string read_docs() {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

struct Span {
    std::size_t begin = std::string::npos, end = std::string::npos;
};

// The text between the two markers of a kind.
Span find_table(const std::string& text, FileKind kind) {
    const std::string word(file_kind_word(kind));
    const std::string open = "<!-- keys:" + word + " -->\n", close = "<!-- /keys:" + word + " -->";
    const std::size_t begin = text.find(open);
    return begin == std::string::npos ? Span{} : Span{begin + open.size(), text.find(close)};
}

}  // namespace

TEST_CASE("key tables: docs/file-format.md has every key as the reader knows it", "[golden]") {
    std::string text = read_docs();
    REQUIRE_FALSE(text.empty());
    if (std::getenv("HITCHWRIGHT_UPDATE_DOCS") != nullptr) {
        for (const FileKind kind : file_kinds) {
            const Span span = find_table(text, kind);
            if (span.end != std::string::npos) {
                text.replace(span.begin, span.end - span.begin, format_key_table(kind));
            }
        }
        std::ofstream(path, std::ios::binary) << text;
    }
    for (const FileKind kind : file_kinds) {
        CAPTURE(std::string(file_kind_word(kind)));
        const Span span = find_table(text, kind);
        REQUIRE(span.begin != std::string::npos);
        REQUIRE(span.end != std::string::npos);
        INFO("write the tables anew with HITCHWRIGHT_UPDATE_DOCS=1");
        const bool same = text.substr(span.begin, span.end - span.begin) == format_key_table(kind);
        CHECK(same);
    }
}

TEST_CASE("key tables: a row gives form, range, usual error, default and how to measure", "[golden]") {
    const std::string tractor = format_key_table(FileKind::tractor);
    CHECK(tractor.find("| `pto.stub_z` | length | 100 to 2000 mm | 1/8 in | unknown | driveline | floor to the centre of the PTO stub |\n") !=
          std::string::npos);
    CHECK(tractor.find("| `pto.stub_slope` | angle | -20 to 20 deg | 0.3 deg | 0 deg (grade P) |") != std::string::npos);
    CHECK(format_key_table(FileKind::setup).find("`choices.cut_tractor_half`") != std::string::npos);
    CHECK(format_key_table(FileKind::rules).find("`gap_required`") != std::string::npos);
    CHECK(format_key_table(FileKind::driveline).find("must be given") != std::string::npos);
}
