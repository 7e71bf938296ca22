// Writing files as a whole: content, permissions, links, and every error in words.
#include "report/atomic_file.h"

#include <catch2/catch.hpp>

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

using namespace hitchwright;
namespace fs = std::filesystem;

namespace {

/// A directory of its own, gone afterwards.
class Folder {
public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "hitchwright-test-XXXXXX").string();
        REQUIRE(::mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::ptrdiff_t count() const { return std::distance(fs::directory_iterator(path_), fs::directory_iterator()); }
    const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

std::string content_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("file: writes every byte, also none and zero bytes, and replaces what was there", "[report][analytic]") {
    const Folder folder;
    const std::string path = folder.file("a.svg");
    for (const std::string& content :
         {std::string("first"), std::string("a\0b\n\xFF", 5), std::string(), std::string(300000, 'x')}) {
        CHECK_FALSE(write_file_atomically(path, content));
        CHECK(content_of(path) == content);
        CHECK(folder.count() == 1);  // no temporary file left
    }
}

TEST_CASE("file: permissions of an existing file and a link to it are kept", "[report][analytic]") {
    const Folder folder;
    const std::string target = folder.file("real.svg"), link = folder.file("link.svg");
    REQUIRE_FALSE(write_file_atomically(target, "old"));
    REQUIRE(::chmod(target.c_str(), 0640) == 0);
    fs::create_symlink("real.svg", link);
    CHECK_FALSE(write_file_atomically(link, "new"));
    CHECK(fs::is_symlink(link));
    CHECK(content_of(target) == "new");
    struct stat info {};
    REQUIRE(::stat(target.c_str(), &info) == 0);
    CHECK((info.st_mode & 0777U) == 0640U);
}

TEST_CASE("file: a link that leads to nothing yet stays a link, and what it leads to is made", "[report][analytic]") {
    const Folder folder;
    fs::create_directory(folder.path() / "below");
    fs::create_symlink("below/middle.svg", folder.file("link.svg"));
    fs::create_symlink("real.svg", folder.file("below/middle.svg"));
    CHECK_FALSE(write_file_atomically(folder.file("link.svg"), "new"));
    CHECK(fs::is_symlink(folder.file("link.svg")));
    CHECK(fs::is_symlink(folder.file("below/middle.svg")));
    CHECK(content_of(folder.file("below/real.svg")) == "new");
    CHECK(folder.count() == 2);
    // Where it leads to a folder that is not there, as on a disk that is not mounted, that folder is named.
    fs::create_symlink(folder.file("gone/real.svg"), folder.file("far.svg"));
    const auto error = write_file_atomically(folder.file("far.svg"), "new");
    REQUIRE(error);
    CHECK(error->kind == FileErrorKind::missing_directory);
    CHECK(error->message == "cannot write '" + folder.file("far.svg") + "': the directory '" + folder.file("gone") + "' does not exist");
    CHECK(fs::is_symlink(folder.file("far.svg")));
}

TEST_CASE("file: a new one is made only where there is none, not even a link", "[report][analytic]") {
    const Folder folder;
    REQUIRE_FALSE(write_new_file_atomically(folder.file("new.toml"), "first"));
    fs::create_symlink("nowhere", folder.file("link.toml"));
    fs::create_symlink("loop.toml", folder.file("loop.toml"));
    fs::create_directory(folder.path() / "folder.toml");
    for (const char* name : {"new.toml", "link.toml", "loop.toml", "folder.toml"}) {
        const auto error = write_new_file_atomically(folder.file(name), "second");
        REQUIRE(error);
        CHECK(error->kind == FileErrorKind::exists);
    }
    CHECK(content_of(folder.file("new.toml")) == "first");
    CHECK(folder.count() == 4);
    for (const std::string& name : {std::string(), folder.file("slash/"), folder.file("gone/x.toml"), folder.file("new.toml/x"), std::string("zero\0byte", 9)})
        CHECK(write_new_file_atomically(name, "x"));
    CHECK(folder.count() == 4);
}

TEST_CASE("file: a new file follows the user's mask", "[report][analytic]") {
    const Folder folder;
    const mode_t before = ::umask(027);
    const auto error = write_file_atomically(folder.file("new.svg"), "x");
    ::umask(before);
    CHECK_FALSE(error);
    struct stat info {};
    REQUIRE(::stat(folder.file("new.svg").c_str(), &info) == 0);
    CHECK((info.st_mode & 0777U) == 0640U);
}

TEST_CASE("file: each thing that can go wrong is named in a sentence", "[report][analytic]") {
    const Folder folder;
    struct Case {
        std::string path;
        FileErrorKind kind;
        const char* words;
    };
    REQUIRE_FALSE(write_file_atomically(folder.file("plain"), "x"));
    fs::create_symlink("loop", folder.file("loop"));
    const Case cases[] = {
        {"", FileErrorKind::empty_name, "no file name"},
        {folder.path().string(), FileErrorKind::is_directory, "is a directory"},
        {folder.file("new/"), FileErrorKind::is_directory, "is a directory"},
        {folder.file("no/such/place.svg"), FileErrorKind::missing_directory, "does not exist"},
        {folder.file("plain/inside.svg"), FileErrorKind::not_a_directory, "not a directory"},
        {folder.file(std::string(300, 'n')), FileErrorKind::bad_name, "too long"},
        {std::string("zero\0byte", 9), FileErrorKind::bad_name, "zero byte"},
        {folder.file("loop"), FileErrorKind::bad_name, "not a possible file name"},
    };
    for (const Case& c : cases) {
        CAPTURE(c.path);
        const auto error = write_file_atomically(c.path, "content");
        REQUIRE(error);
        CHECK(error->kind == c.kind);
        CHECK(error->message.find(c.words) != std::string::npos);
        CHECK(error->message.rfind("cannot write", 0) == 0);
    }
    CHECK(folder.count() == 2);
    CHECK(content_of(folder.file("plain")) == "x");
}

TEST_CASE("file: a place that may not be written to is refused and stays as it was", "[report][analytic]") {
    const Folder folder;
    const std::string path = folder.file("kept.svg");
    REQUIRE_FALSE(write_file_atomically(path, "kept"));
    REQUIRE(::chmod(path.c_str(), 0444) == 0);
    REQUIRE(::chmod(folder.path().c_str(), 0555) == 0);
    // The administrator may write anywhere, so the attempt is made by a child that gives its rights away.
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(3);
        const auto old_file = write_file_atomically(path, "changed");
        const auto new_file = write_file_atomically(folder.file("new.svg"), "new");
        const bool refused = old_file && old_file->kind == FileErrorKind::not_allowed && new_file &&
                             new_file->kind == FileErrorKind::not_allowed;
        ::_exit(refused ? 0 : 1);
    }
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
    REQUIRE(::chmod(folder.path().c_str(), 0755) == 0);
    CHECK(content_of(path) == "kept");
    CHECK(folder.count() == 1);
}

TEST_CASE("file: a device is written to, never replaced", "[report][analytic]") {
    CHECK_FALSE(write_file_atomically("/dev/null", "gone"));
    CHECK(fs::is_character_file("/dev/null"));
}

TEST_CASE("file: a full device is an error", "[report][analytic]") {
    const auto error = write_file_atomically("/dev/full", "x");
    REQUIRE(error);
    CHECK(error->kind == FileErrorKind::no_room);
}
