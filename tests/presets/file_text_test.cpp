// Files that are no files of ours: all refused with a sentence, none crashes or blocks.

#include <catch2/catch.hpp>

#include <sys/stat.h>

#include <string>

#include "presets/file_text.h"
#include "tests/presets/scratch_folder.h"

using namespace hitchwright;
using test::ScratchFolder;

namespace {

std::string refusal(const std::string& path) {
    const FileText text = read_file_text(path);
    REQUIRE(text.problems.size() == 1);
    CHECK(text.text.empty());
    CHECK(text.problems.front().file == path);
    return text.problems.front().message;
}

}  // namespace

TEST_CASE("file text: a missing file, a directory, a pipe and a device are refused", "[analytic]") {
    const ScratchFolder folder;
    CHECK(refusal(folder.path("none.toml")) == "there is no such file");
    CHECK(refusal(folder.path()) == "this is a directory, not a file");
    const std::string pipe = folder.path("pipe.toml");
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(refusal(pipe) == "this is a device or a pipe, not a file");
    CHECK(refusal("/dev/zero") == "this is a device or a pipe, not a file");
    CHECK(refusal("") == "this is no file name");
    CHECK(refusal(std::string(5000, 'x')).find("cannot be looked at") != std::string::npos);
}

TEST_CASE("file text: the size limit holds to the byte, before reading", "[analytic]") {
    const ScratchFolder folder;
    CHECK(read_file_text(folder.write("fits", std::string(most_file_bytes, '#'))).ok());
    CHECK(refusal(folder.write("over", std::string(most_file_bytes + 1, '#'))) == "the file has 1048577 bytes; it was not read");
    // A gibibyte with nothing in it: had it been read, its size would come out as one byte over the limit.
    const std::string huge = folder.write("huge", "");
    std::filesystem::resize_file(huge, std::uintmax_t{1} << 30);
    CHECK(refusal(huge) == "the file has 1073741824 bytes; it was not read");
    CHECK_FALSE(check_file_text(std::string(most_file_bytes + 1, '#'), "x").ok());
}

TEST_CASE("file text: broken UTF-8 is refused with line, column and byte", "[analytic]") {
    const FileText text = check_file_text("a = 1\nb = \"\xC2\xBD \xE2\x82\"\n", "x.toml");
    REQUIRE(text.problems.size() == 1);
    CHECK(text.problems.front().line == 2);
    CHECK(text.problems.front().column == 8);
    CHECK(text.problems.front().message == "this is not UTF-8 text: bad byte 0xe2 at byte 15 of the file");
    // Overlong, surrogate, past the last code point, lone continuation, cut off at the end.
    for (const char* bad : {"\xC0\xAF", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\x80", "\xF0\x9F\x98", "\xFE"}) {
        CAPTURE(bad);
        CHECK_FALSE(check_file_text(bad, "x").ok());
    }
    for (const char* good : {"", "\x7F", "\xC2\x80", "\xE0\xA0\x80", "\xEF\xBF\xBF", "\xF4\x8F\xBF\xBF"}) {
        CAPTURE(good);
        CHECK(check_file_text(good, "x").ok());
    }
}

TEST_CASE("file text: a byte order mark is accepted and dropped", "[analytic]") {
    const ScratchFolder folder;
    const FileText text = read_file_text(folder.write("bom.toml", "\xEF\xBB\xBFkind = 1\n"));
    CHECK(text.ok());
    CHECK(text.text == "kind = 1\n");
}
