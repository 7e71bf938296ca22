// The viewer's command line.
#include <catch2/catch.hpp>

#include "gui/viewer_options.h"

using namespace hitchwright;

namespace {

/// The usage problems of a command line, in one text; empty: none.
std::string refuse(const std::vector<std::string>& args) {
    const ViewerCommand command = read_viewer_options(args);
    const auto* failure = std::get_if<Failure>(&command);
    if (failure == nullptr) return {};
    CHECK(failure->code == exit_code::usage);
    return format_failure(*failure, "hitchwright-viewer");
}

}  // namespace

TEST_CASE("viewer options: set-up, edits, units, size and height are read", "[gui][cli]") {
    const ViewerCommand command =
        read_viewer_options({"--units=mm", "x.toml", "--set", "a.b=1 in", "--set=c=2", "--rules", "close", "--size",
                             "1024x700", "--height", "500", "--screenshot", "out.png", "--view", "ditch"});
    const auto* options = std::get_if<ViewerOptions>(&command);
    REQUIRE(options != nullptr);
    CHECK(options->setup == "x.toml");
    CHECK(options->edits == Edits{{"a.b=1 in", "c=2"}, "close"});
    CHECK(options->units == UnitSystem::millimetre);
    CHECK(options->size.width == 1024);
    CHECK(options->size.height == 700);
    CHECK(options->mark == millimetre_mark);
    CHECK(*options->ball_height == Approx(0.5).margin(1e-12).epsilon(0));
    CHECK(options->screenshot == "out.png");
    CHECK(options->picture == DrawnPicture::ditch);
}

TEST_CASE("viewer options: a view is one of drawn set-ups, of mounted ones or of both", "[gui][cli]") {
    const auto read = [](const char* view) { return std::get<ViewerOptions>(read_viewer_options({"x.toml", "--view", view})); };
    CHECK((read("plan").picture == DrawnPicture::plan && read("plan").mounted_picture == MountedPicture::plan));
    CHECK((read("side").picture == DrawnPicture::side && read("side").mounted_picture == MountedPicture::side));
    CHECK((!read("rear").picture && read("rear").mounted_picture == MountedPicture::rear));
    CHECK((read("ditch").picture == DrawnPicture::ditch && !read("ditch").mounted_picture));
    CHECK(std::holds_alternative<Failure>(read_viewer_options({"x.toml", "--view", "behind"})));
}

TEST_CASE("viewer options: an answer is chosen by its name and opens its room", "[gui][cli]") {
    const ViewerCommand command = read_viewer_options({"x.toml", "--answer", "sheet"});
    const auto* options = std::get_if<ViewerOptions>(&command);
    REQUIRE(options != nullptr);
    CHECK(options->answer == AnswerKind::sheet);
    CHECK(options->side_room == SideRoom::answers);
    const ViewerCommand wrong = read_viewer_options({"x.toml", "--answer", "sheets"});
    const auto* failure = std::get_if<Failure>(&wrong);
    REQUIRE(failure != nullptr);
    CHECK(format_failure(*failure).find("sheet") != std::string::npos);
}

TEST_CASE("viewer options: help and version are answers", "[gui][cli]") {
    for (const char* word : {"--help", "-h", "--version"}) {
        const ViewerCommand command = read_viewer_options({word});
        const auto* answer = std::get_if<Answer>(&command);
        REQUIRE(answer != nullptr);
        CHECK(answer->code == exit_code::fits);
        CHECK(answer->text.find("hitchwright-viewer") == 0);
    }
    const ViewerCommand command = read_viewer_options({"--help"});
    std::size_t column = 0;
    for (const char c : std::get<Answer>(command).text) {
        column = c == '\n' ? 0 : column + 1;
        CHECK(column <= page_width);
    }
}

TEST_CASE("viewer options: a wrong command line is refused with a reason", "[gui][cli]") {
    CHECK(refuse({""}).find("SETUP is empty") != std::string::npos);
    CHECK(refuse({"--set", "rules=close"}).find("belong to a set-up") != std::string::npos);
    CHECK(refuse({"a", "--state-file="}).find("--state-file: ") != std::string::npos);
    CHECK(refuse({"a", "b"}).find("one name too many") != std::string::npos);
    CHECK(refuse({"a", "--sizee", "1x1"}).find("\"--size\".") != std::string::npos);
    for (const char* size : {"", "x", "800", "800x", "x600", "0x0", "-800x600", "800x600x3", "8e2x600", "99999x600",
                             "99999999999999999999x600", "800 x 600", "nanxnan"}) {
        INFO("size " << size);
        CHECK(refuse({"a", "--size", size}).find("--size: ") != std::string::npos);
    }
    for (const char* height : {"", "nan", "inf", "rubbish", "400 ft", "3 kg"}) {
        INFO("height " << height);
        CHECK(refuse({"a", "--height", height}).find("--height: ") != std::string::npos);
    }
    for (const char* file : {"", "x", ".png", "x.jpg", "x.PNG"}) {
        INFO("file " << file);
        CHECK(refuse({"a", "--screenshot", file}).find("--screenshot: ") != std::string::npos);
    }
    CHECK(refuse({"a", "--size"}).find("WxH is missing behind it") != std::string::npos);
    CHECK(refuse({"a", "--help=x"}).find("takes no value") != std::string::npos);
    CHECK(refuse({"a", "--units", "mm", "--units", "in"}).find("given twice") != std::string::npos);
    CHECK(refuse({"a", "--units", "furlong"}).find("--units: ") != std::string::npos);
    CHECK(refuse({"a", "--rules="}).find("--rules: ") != std::string::npos);
    CHECK(refuse({"a", "-x"}).find("there is no option") != std::string::npos);
    CHECK(refuse({"a", "--size", "1x1", "--height", "x"}).find("Help: hitchwright-viewer --help") != std::string::npos);
}

TEST_CASE("viewer options: without a set-up nothing is missing, and what was typed is told from what is usual", "[gui][cli]") {
    const ViewerCommand none = read_viewer_options({});
    const auto* plain = std::get_if<ViewerOptions>(&none);
    REQUIRE(plain != nullptr);
    CHECK(plain->setup.empty());
    CHECK_FALSE((plain->says_size || plain->says_units || plain->says_mark));
    const ViewerCommand all = read_viewer_options({"--units=in", "--size", "800x600", "--mark", "1mm", "--state-file", "s.json"});
    const auto* typed = std::get_if<ViewerOptions>(&all);
    REQUIRE(typed != nullptr);
    CHECK((typed->says_size && typed->says_units && typed->says_mark));
    CHECK(typed->state_file == "s.json");
}

TEST_CASE("viewer options: behind two dashes everything is a name", "[gui][cli]") {
    const ViewerCommand command = read_viewer_options({"--", "--help"});
    const auto* options = std::get_if<ViewerOptions>(&command);
    REQUIRE(options != nullptr);
    CHECK(options->setup == "--help");
}
