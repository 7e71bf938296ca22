// Files taken out of the window: byte for byte those of the command line, never over what is there, and what is said.
#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include <unistd.h>

#include "cli/run_cli.h"
#include "gui/export.h"
#include "tests/gui/headless.h"

using namespace hitchwright;
using hitchwright::test::Headless;
namespace fs = std::filesystem;

namespace {

/// A folder that is the working folder while it lives; the day of a print is fixed.
class Folder {
public:
    Folder() : before_(fs::current_path()) {
        path_ = fs::temp_directory_path() / ("hitchwright-export-" + std::to_string(getpid()));
        fs::remove_all(path_);
        fs::create_directories(path_);
        fs::current_path(path_);
        setenv("SOURCE_DATE_EPOCH", "1772323200", 1);
    }
    ~Folder() {
        unsetenv("SOURCE_DATE_EPOCH");
        fs::current_path(before_);
        fs::remove_all(path_);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    const fs::path& path() const { return path_; }

private:
    fs::path before_, path_;
};

std::string read(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// What the program itself gives for a command line: its output, or the file it writes.
std::string run_program(std::vector<std::string> words, const std::string& file) {
    std::istringstream in;
    std::ostringstream out, err;
    if (!file.empty()) words.insert(words.end(), {"-o", file});
    const int code = run_cli(words, {in, out, err, false, [](const char* name) -> const char* { return std::getenv(name); }, false});
    INFO("err: " << err.str());
    CHECK(err.str().empty());
    CHECK((code == 0 || code == 1 || code == 5));
    return file.empty() ? out.str() : read(file);
}

/// The command line a person would type for the same file.
std::vector<std::string> typed_for(const ExportKind& kind, const std::string& setup, const std::vector<std::string>& options) {
    std::vector<std::string> words = kind.command;
    words.push_back(setup);
    words.insert(words.end(), options.begin(), options.end());
    return words;
}

void check_all_kinds(const std::string& setup, const std::string& edit, UnitSystem units) {
    const Folder folder;
    Headless window(setup);
    AppState& app = window.app();
    REQUIRE(change_value(app, edit.substr(0, edit.find('=')), edit.substr(edit.find('=') + 1)).empty());
    app.view.units = units;
    app.mark = units == UnitSystem::inch ? sixteenth_inch_mark : millimetre_mark;
    int written = 0;
    ask_to_export(app);
    for (const ExportKind& kind : export_kinds()) {
        if (kind.command.empty() || !is_there(app, kind)) continue;
        choose_export(app, kind.name);
        REQUIRE(&chosen_export(app) == &kind);
        for (const std::string& ending : kind.endings) {
            choose_ending(app, ending);
            INFO(setup << " " << app.view.take.path);
            CHECK(app.view.take.path == setup + "-" + kind.name + ending);
            write_export(app);
            INFO(app.view.take.message);
            CHECK_FALSE(app.view.take.failed);
            CHECK(has(app.view.take.message, (folder.path() / app.view.take.path).string()));
            std::vector<std::string> options{"--set", edit, "--units", units == UnitSystem::inch ? "in" : "mm"};
            if (kind.as_shown && app.results.analysis.drawn) options.insert(options.end(), {"--view", "plan"});
            const std::string expected = run_program(typed_for(kind, setup, options), kind.to_file ? "typed" + ending : "");
            CHECK_FALSE(expected.empty());
            CHECK(read(app.view.take.path) == expected);
            ++written;
        }
    }
    CHECK(written >= 12);
}

}  // namespace

TEST_CASE("export: every file of a mounted set-up is the one of its command, with the window's edits", "[gui]") {
    check_all_kinds("compact-tiller-bottoms-out", "choices.lift_stop=26 in", UnitSystem::inch);
}

TEST_CASE("export: every file of a drawn set-up is the one of its command, in millimetres", "[gui]") {
    check_all_kinds("utility-drawn-cutter-short", "choices.turn_left_most=40", UnitSystem::millimetre);
}

TEST_CASE("export: the picture stands at the height that is shown", "[gui]") {
    const Folder folder;
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    app.view.ball_height = app.results.bands->travel.high;
    ask_to_export(app);
    choose_ending(app, ".svg");
    write_export(app);
    REQUIRE_FALSE(app.view.take.failed);
    const std::string raised = read(app.view.take.path);
    std::vector<std::string> words{"draw", "compact-tiller-bottoms-out", "--height", "27 in"};
    REQUIRE(app.results.bands->travel.high == Approx(27.0 * 0.0254).margin(1e-9).epsilon(0));
    CHECK(raised == run_program(words, "typed.svg"));
    words.resize(2);
    CHECK(raised != run_program(words, "usual.svg"));
}

TEST_CASE("export: a file that exists is left alone until a second press for the same name", "[gui]") {
    const Folder folder;
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 900.0F});
    AppState& app = window.app();
    window.press_key('E', true);
    REQUIRE(app.view.take.open);
    window.click("export Findings, a table");
    const std::string name = "compact-tiller-bottoms-out-findings.csv";
    REQUIRE(app.view.take.path == name);
    std::ofstream(name) << "mine\n";
    window.click("Write export");
    CHECK(app.view.take.failed);
    CHECK(has(app.view.take.message, name + " exists and was left alone"));
    CHECK(read(name) == "mine\n");
    // Another name in between takes the leave back.
    app.view.take.path = "other.csv";
    CHECK_FALSE(writes_over(app));
    app.view.take.path = name;
    window.click("Write export");
    CHECK_FALSE(app.view.take.failed);
    CHECK(has(app.view.take.message, "Written: "));
    CHECK(read(name) == run_program({"fit", "--format", "csv", "compact-tiller-bottoms-out"}, ""));
    std::size_t files = 0;
    for (const auto& entry : fs::directory_iterator(folder.path())) files += entry.is_regular_file() ? 1U : 0U;
    CHECK(files == 1);  // nothing temporary is left
    window.click("Close export");
    CHECK_FALSE(app.view.take.open);
}

TEST_CASE("export: a name that will not do is refused in words with what is allowed", "[gui]") {
    const Folder folder;
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    ask_to_export(app);
    choose_export(app, "analysis");
    fs::create_directory("folder.json");
    const std::pair<const char*, const char*> wrong[] = {
        {"", "Type a name that ends in .json."},
        {"analysis.csv", "\"analysis.csv\" was read; allowed: a name that ends in .json."},
        {".json", "allowed: a name that ends in .json"},
        {"folder.json", "is a folder; allowed: the name of a file"},
        {"nowhere/analysis.json", "Allowed: a name in a folder that exists and that you may write to."},
        {"line\nend.json", "The name holds what cannot be printed."},
    };
    for (const auto& [path, words] : wrong) {
        INFO("path " << path);
        app.view.take.path = path;
        write_export(app);
        CHECK(app.view.take.failed);
        CHECK(has(app.view.take.message, words));
    }
    app.view.take.path = (folder.path() / "UPPER.JSON").string();
    write_export(app);
    CHECK_FALSE(app.view.take.failed);
    CHECK(fs::exists("UPPER.JSON"));
}

TEST_CASE("export: a proposed name follows the kind, and of a typed one the ending does", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    ask_to_export(app);
    CHECK(app.view.take.path == "compact-tiller-bottoms-out-picture.pdf");
    choose_ending(app, ".png");
    CHECK(app.view.take.path == "compact-tiller-bottoms-out-picture.png");
    choose_export(app, "sheet");
    CHECK(app.view.take.path == "compact-tiller-bottoms-out-sheet.pdf");
    app.view.take.path = "my.folder/north yard.pdf";
    choose_export(app, "sweep");
    CHECK(app.view.take.path == "my.folder/north yard.csv");
}

TEST_CASE("export: with files changed since they were read nothing is written that is not on the screen", "[gui]") {
    const Folder folder;
    const auto write = [](const char* height) {
        std::ofstream("mine.toml") << "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = \"tiller-5\"\n"
                                      "[driveline]\nuse = \"shaft-31\"\n[choices]\nlift_stop = "
                                   << height << "\n";
    };
    write("25");
    Headless window("mine.toml");
    AppState& app = window.app();
    REQUIRE(app.problems.empty());
    ask_to_export(app);
    choose_export(app, "findings");
    CHECK(app.view.take.path == "mine-findings.csv");
    write("24");
    write_export(app);
    CHECK(app.view.take.failed);
    CHECK(has(app.view.take.message, "were changed since they were read"));
    CHECK_FALSE(fs::exists("mine-findings.csv"));
    REQUIRE(read_again(app).empty());
    write_export(app);
    CHECK_FALSE(app.view.take.failed);
    CHECK(fs::exists("mine-findings.csv"));
}

TEST_CASE("export: a set-up without a file is to be saved first", "[gui]") {
    const Folder folder;
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    app.drafted = true;
    ask_to_export(app);
    choose_export(app, "analysis");
    write_export(app);
    CHECK(app.view.take.failed);
    CHECK(has(app.view.take.message, "has no file yet. Save it first (Ctrl+S)"));
    CHECK_FALSE(fs::exists(app.view.take.path));
}

TEST_CASE("export: the window itself is asked for, and comes without the question in it", "[gui]") {
    const Folder folder;
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    window.press_key('E', true);
    choose_export(app, "screen");
    window.settle();
    window.click("Write export");
    CHECK(app.view.take.wants_screen);
    CHECK_FALSE(app.view.take.open);
    CHECK_FALSE(ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel));
    const PixelImage image{2, 1, {255, 255, 255, 0, 0, 0}};
    const RenderResult png = encode_png(image);
    finish_screen_export(app, png);
    CHECK_FALSE(app.view.take.wants_screen);
    CHECK(read("compact-tiller-bottoms-out-screen.png") == png.bytes);
    CHECK(has(app.view.notice, "Written: "));
    // A file that came in the meantime was not agreed to.
    app.view.take.path = "came.png";
    std::ofstream("came.png") << "mine\n";
    finish_screen_export(app, png);
    CHECK(has(app.view.notice, "Not written: "));
    CHECK(read("came.png") == "mine\n");
    // A picture that could not be made is said, and leaves no file.
    app.view.take.path = "none.png";
    finish_screen_export(app, encode_png({}));
    CHECK(has(app.view.notice, "Not written: "));
    CHECK_FALSE(fs::exists("none.png"));
}

TEST_CASE("export: every kind has a name, words and a hint of its own", "[gui]") {
    std::set<std::string> names, words;
    for (const ExportKind& kind : export_kinds()) {
        CHECK(names.insert(kind.name).second);
        CHECK(words.insert(kind.word).second);
        CHECK(std::string(kind.hint).size() > 10);
        CHECK_FALSE(kind.endings.empty());
    }
}
