// Search order of presets, paths, unknown names.

#include <catch2/catch.hpp>

#include <array>
#include <map>
#include <string>

#include "presets/library.h"
#include "tests/presets/scratch_folder.h"

using namespace hitchwright;
using test::ScratchFolder;

namespace {

constexpr std::array<EmbeddedFile, 4> built_in = {{
    {"implements/drawn/cart.toml", "name = \"Cart\"\n"},
    {"implements/mounted/blade.toml", "name = \"Blade\"\n"},
    {"tractors/big.toml", "name = \"Big\"\n"},
    {"tractors/small.toml", "name = \"Small\"\n"},
}};

std::string find_folder(const std::map<std::string, std::string>& environment) {
    return find_user_folder([&](const char* name) -> const char* {
        const auto found = environment.find(name);
        return found == environment.end() ? nullptr : found->second.c_str();
    });
}

}  // namespace

TEST_CASE("library: the user's folder goes before the built-in files and hides them", "[analytic]") {
    const ScratchFolder folder;
    folder.write("tractors/small.toml", "name = \"Mine\"\n");
    folder.write("tractors/new.toml", "name = \"New\"\n");
    folder.write("tractors/notes.txt", "no preset");
    folder.write("implements/plough.toml", "name = \"Plough\"\n");
    folder.write("tractors/folder.toml/x", "a directory of that name is no preset");
    const Library library(folder.path(), built_in);
    std::string keys;
    for (const PresetEntry& entry : library.list(FileKind::tractor)) {
        keys += entry.key + (entry.embedded ? "(built in)" : "") + (entry.hidden ? "(hidden)" : "") + " ";
    }
    CHECK(keys == "big(built in) new small small(built in)(hidden) ");
    CHECK(library.read(FileKind::tractor, "small").text == "name = \"Mine\"\n");
    CHECK(library.read(FileKind::tractor, "small").origin() == Origin::measured);
    CHECK(library.read(FileKind::tractor, "big").origin() == Origin::preset);
    CHECK(library.read(FileKind::tractor, "big").file == "built-in:tractors/big.toml");
    CHECK(library.find(FileKind::implement, "plough").has_value());
    CHECK(library.find(FileKind::implement, "cart").has_value());
    CHECK(library.find(FileKind::implement, "cart")->below == "implements/drawn/cart.toml");
    CHECK_FALSE(library.find(FileKind::driveline, "small").has_value());
}

TEST_CASE("library: without a user's folder the built-in files are all there is", "[analytic]") {
    for (const char* folder : {"", "/nowhere/at/all", "/dev/null"}) {
        CAPTURE(folder);
        CHECK(Library(folder, built_in).list(FileKind::tractor).size() == 2);
    }
}

TEST_CASE("library: an unknown name is one problem that names the nearest ones of that kind", "[analytic]") {
    const Library library({}, built_in);
    const PresetText text = library.read(FileKind::tractor, "samll");
    REQUIRE(text.problems.size() == 1);
    CHECK(text.problems.front().nearest_key == "small");
    CHECK(text.problems.front().allowed.find("big, small") != std::string::npos);
    CHECK(text.problems.front().allowed.find("blade") == std::string::npos);
    CHECK(library.read(FileKind::setup, "x").problems.front().message == "there is no set-up of that name");
    CHECK_FALSE(library.read(FileKind::tractor, "").ok());
}

TEST_CASE("library: a name with a slash or the ending is a path, relative to the folder given", "[analytic]") {
    const ScratchFolder folder;
    const std::string path = folder.write("a/mine.toml", "name = \"Mine\"\n");
    const Library library({}, built_in);
    const PresetText absolute = library.read(FileKind::tractor, path);
    CHECK(absolute.ok());
    CHECK(absolute.key == "mine");
    CHECK(absolute.folder == folder.path("a") + "/");
    CHECK(library.read(FileKind::tractor, "mine.toml", absolute.folder).text == "name = \"Mine\"\n");
    CHECK(library.read(FileKind::tractor, "../a/mine.toml", absolute.folder).ok());
    const PresetText here = library.read(FileKind::tractor, "././mine.toml", absolute.folder);
    CHECK(here.ok());
    CHECK(here.file == path);
    CHECK(library.read(FileKind::tractor, "./nothing.toml").file == "./nothing.toml");
    // "small.toml" is a path although a preset "small" exists.
    CHECK(library.read(FileKind::tractor, "small.toml", absolute.folder).problems.front().message == "there is no such file");
    CHECK(is_path("a/b"));
    CHECK(is_path("b.toml"));
    CHECK_FALSE(is_path("b"));
}

TEST_CASE("library: the user's folder comes from the environment in a fixed order", "[analytic]") {
    CHECK(find_folder({{"HITCHWRIGHT_PRESETS", "/p"}, {"XDG_DATA_HOME", "/x"}, {"HOME", "/h"}}) == "/p");
    CHECK(find_folder({{"XDG_DATA_HOME", "/x"}, {"HOME", "/h"}}) == "/x/hitchwright/presets");
    CHECK(find_folder({{"XDG_DATA_HOME", "x"}, {"HOME", "/h"}}) == "/h/.local/share/hitchwright/presets");
    CHECK(find_folder({{"HITCHWRIGHT_PRESETS", ""}, {"HOME", "/h"}}) == "/h/.local/share/hitchwright/presets");
    CHECK(find_folder({}).empty());
}

TEST_CASE("library: the shown name of a file is read without judging the rest", "[analytic]") {
    CHECK(peek_name("name = \"Small\"\nwhatever = 3\n") == "Small");
    CHECK(peek_name("name = 3\n").empty());
    CHECK(peek_name("name = \"a\\u001b\"\n").empty());
    CHECK(peek_name("name = \n").empty());
}
