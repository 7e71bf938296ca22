#include "gui/viewer_options.h"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>

#include "cli/option_values.h"
#include "gui/rooms.h"
#include "gui/answers.h"
#include "presets/nearest.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr int least_side = 320, most_side = 8000;
constexpr LengthRange ball_heights{-0.5, 3.0};

constexpr OptionSpec options[] = {
    {"--screenshot", "", "FILE", "write the window as it opens to FILE, ending in .png, and end"},
    {"--size", "", "WxH", "size of the window in points, such as 1280x800 (default)"},
    {"--height", "", "LENGTH", "ball height at which the lift stands at the start; default: the working height"},
    {"--view", "", "VIEW", "picture at the start: side (default of mounted implements), plan (default of drawn ones), rear (mounted), envelope or ditch (drawn)"},
    {"--answer", "", "ANSWER", "which answer stands in the room of answers, by its name in the list below"},
    {"--room", "", "ROOM", "what stands on the right at the start, by its name in the list below"},
    {"--lower", "", "ROOM", "what stands below the picture at the start"},
    {"--compare", "", "SETUP", "another set-up, kept as A beside the one shown"},
    {"--theme", "", "THEME", "light (default) or dark"},
    {"--scale", "", "PERCENT", "size of letters and all else, 60 to 300; default 100"},
    {"--touch", "", "", "controls as large as a finger needs"},
    {"--rules", "", "NAME", "rule set to judge by: a name from \"hitchwright rules list\", or a path"},
    {"--set", "", "KEY=VALUE", "change one value, by its key in the files", true},
    {"--mark", "", "LENGTH", "step of the marks cuts are rounded to; default 1/16 in with --units in, 1 mm with mm"},
    {"--units", "", "UNIT", "in or mm; default in. Can be changed in the window"},
    {"--state-file", "", "FILE", "write what the window shows to FILE as JSON whenever it has settled; for tests"},
    {"--help", "-h", "", "this help"},
    {"--version", "", "", "the version"},
};

const OptionSpec* find_viewer_option(std::string_view name) {
    for (const OptionSpec& option : options) {
        if (option.name == name || (!option.short_name.empty() && option.short_name == name)) return &option;
    }
    return nullptr;
}

std::string format_viewer_help() {
    constexpr std::size_t column = 22;
    std::string text = "hitchwright-viewer: a set-up in a window, with a lift to move\n\n"
                       "Usage: hitchwright-viewer [SETUP] [OPTIONS]\n\n";
    text += format_paragraph("SETUP is a name from \"hitchwright presets list setup\" or a path; without one the window "
                             "shows the set-up opened last, at the first start the demo. It needs a screen; without one, \"hitchwright draw\" makes the picture.",
                             page_width, 0, 0);
    text += "\nOptions (--name VALUE or --name=VALUE):\n";
    for (const OptionSpec& option : options) {
        std::string name = option.short_name.empty() ? std::string() : std::string(option.short_name) + ", ";
        name += std::string(option.name) + (option.value.empty() ? "" : " ") + std::string(option.value);
        std::string meaning(option.meaning);
        if (option.repeatable) meaning += "; may be repeated";
        const std::string lines = format_paragraph(meaning, page_width, column, column);
        text += pad_right("  " + name, column) + lines.substr(std::min(column, lines.size()));
    }
    text += "\nRooms on the right:";
    for (const auto& room : side_rooms()) text += std::string(" ") + room.name;
    text += "\nAnswers:";
    for (const AnswerEntry& entry : answer_entries()) text += std::string(" ") + entry.name;
    text += "\nBelow the picture:";
    for (const auto& room : lower_rooms()) text += std::string(" ") + room.name;
    text += "\n\nExamples:\n  hitchwright-viewer compact-tiller-bottoms-out\n"
            "  hitchwright-viewer my-setup.toml --units mm --size 1024x700\n"
            "  hitchwright-viewer my-setup.toml --screenshot lifted.png --height 26in\n\n";
    text += format_paragraph("Exit codes: 0 the window was closed, or the file written; 2 wrong command line; 3 wrong "
                             "file or --set; 4 no screen, no OpenGL 3.0, output that cannot be written, or an error of the program.",
                             page_width, 0, 0);
    return text + "\n" +
           format_paragraph("Results are an aid. The makers' manuals, local code and licensed practice rule. Engine "
                            "off, key out and rotation stopped before connecting, measuring, cutting or greasing.",
                            page_width, 0, 0);
}

/// Splits the words by the list of options; what is wrong goes to `problems`.
class WordReader {
public:
    WordReader(const std::vector<std::string>& args, std::vector<UsageProblem>& problems)
        : args_(args), problems_(problems) {}

    Arguments read() {
        bool names_only = false;
        for (at_ = 0; at_ < args_.size(); ++at_) {
            const std::string& word = args_[at_];
            if (!names_only && word == "--") names_only = true;
            else if (!names_only && word.size() > 1 && word.front() == '-') take_option(word);
            else arguments_.names.push_back(word);
        }
        return std::move(arguments_);
    }

private:
    void take_option(const std::string& word) {
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        const OptionSpec* option = find_viewer_option(name);
        if (option == nullptr) return refuse_option(name);
        std::vector<std::string>& values = arguments_.options[std::string(option->name)];
        if (option->value.empty()) {
            if (equals != std::string::npos) problems_.push_back({name, "this option takes no value", {}});
            return;
        }
        if (equals == std::string::npos && at_ + 1 >= args_.size()) {
            problems_.push_back({name, fmt::format("{} is missing behind it", option->value), {}});
            return;
        }
        values.push_back(equals == std::string::npos ? args_[++at_] : word.substr(equals + 1));
        if (values.size() == 2 && !option->repeatable)
            problems_.push_back({name, "given twice; once is allowed", {}});
    }

    void refuse_option(const std::string& name) {
        std::vector<std::string> known;
        known.reserve(std::size(options));
        for (const OptionSpec& option : options) known.emplace_back(option.name);
        problems_.push_back({{},
                             fmt::format("there is no option {}; allowed: {}", in_quotes(name), join_words(known)),
                             nearest_word(name, known)});
    }

    const std::vector<std::string>& args_;
    std::vector<UsageProblem>& problems_;
    Arguments arguments_;
    std::size_t at_ = 0;
};

std::optional<int> read_side(std::string_view text) {
    int side = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), side);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    return whole && side >= least_side && side <= most_side ? std::optional(side) : std::nullopt;
}

WindowSize read_size(const Arguments& arguments, std::vector<UsageProblem>& problems) {
    WindowSize size;
    if (!arguments.has("--size")) return size;
    const std::string typed = arguments.value("--size");
    const std::size_t cross = typed.find('x');
    const std::string_view text(typed);
    const auto width = read_side(text.substr(0, cross));
    const auto height = cross == std::string::npos ? std::nullopt : read_side(text.substr(cross + 1));
    if (width && height) return {*width, *height};
    problems.push_back({"--size",
                        fmt::format("{} was read; allowed: two whole numbers from {} to {}, such as 1280x800",
                                    in_quotes(typed), least_side, most_side),
                        {}});
    return size;
}

void check_names(const Arguments& arguments, std::vector<UsageProblem>& problems) {
    if (!arguments.names.empty() && arguments.names.front().empty())
        problems.push_back({{}, "SETUP is empty; allowed: a name from \"hitchwright presets list setup\", or a path", {}});
    const bool changed = arguments.has("--set") || arguments.has("--rules");
    if (arguments.names.empty() && changed)
        problems.push_back({{}, "--set and --rules belong to a set-up: name it as well", {}});
    if (arguments.names.size() > 1)
        problems.push_back({{}, fmt::format("{} is one name too many", in_quotes(arguments.names[1])), {}});
}

/// The room of that name; a wrong one is a problem.
template <class Room>
std::optional<Room> read_room(OptionReader& reader, const Arguments& arguments, const char* option, std::span<const RoomEntry<Room>> rooms) {
    if (!arguments.has(option)) return std::nullopt;
    std::vector<std::pair<std::string_view, Room>> words;
    for (const RoomEntry<Room>& room : rooms) words.emplace_back(room.name, room.choice);
    return reader.choice<Room>(option, words, rooms.front().choice);
}

/// A view by its name, of a drawn implement, a mounted one or both.
void read_view(OptionReader& reader, const Arguments& arguments, ViewerOptions& viewer) {
    if (!arguments.has("--view")) return;
    enum class View { side, plan, rear, envelope, ditch };
    switch (reader.choice<View>("--view", {{"plan", View::plan}, {"side", View::side}, {"rear", View::rear}, {"envelope", View::envelope}, {"ditch", View::ditch}}, View::plan)) {
        case View::side: viewer.picture = DrawnPicture::side, viewer.mounted_picture = MountedPicture::side; break;
        case View::plan: viewer.picture = DrawnPicture::plan, viewer.mounted_picture = MountedPicture::plan; break;
        case View::rear: viewer.mounted_picture = MountedPicture::rear; break;
        case View::envelope: viewer.picture = DrawnPicture::chart; break;
        case View::ditch: viewer.picture = DrawnPicture::ditch; break;
    }
}

void check_state_file(const Arguments& arguments, std::vector<UsageProblem>& problems) {
    if (arguments.has("--state-file") && arguments.value("--state-file").empty())
        problems.push_back({"--state-file", "an empty name was read; allowed: the name of a file", {}});
}

void check_screenshot(const Arguments& arguments, std::vector<UsageProblem>& problems) {
    const std::string file = arguments.value("--screenshot");
    if (!arguments.has("--screenshot") || (file.size() > 4 && file.ends_with(".png"))) return;
    problems.push_back(
        {"--screenshot", fmt::format("{} was read; allowed: a name ending in .png", in_quotes(file)), {}});
}

}  // namespace

ViewerCommand read_viewer_options(const std::vector<std::string>& args) {
    std::vector<UsageProblem> problems;
    const Arguments arguments = WordReader(args, problems).read();
    if (problems.empty() && arguments.has("--help")) return Answer{exit_code::fits, format_viewer_help()};
    if (problems.empty() && arguments.has("--version"))
        return Answer{exit_code::fits, "hitchwright-viewer " HITCHWRIGHT_VERSION "\n"};
    check_names(arguments, problems);
    check_screenshot(arguments, problems);
    check_state_file(arguments, problems);
    ViewerOptions viewer;
    viewer.size = read_size(arguments, problems);
    OptionReader reader(arguments);
    const CommonValues common = read_common(reader, arguments, {Form::text});
    read_view(reader, arguments, viewer);
    if (arguments.has("--theme"))
        viewer.theme = reader.choice<Theme>("--theme", {{"light", Theme::light}, {"dark", Theme::dark}}, Theme::light);
    if (arguments.has("--scale")) viewer.scale = static_cast<float>(reader.whole("--scale", 60, 300, 100)) / 100.0F;
    viewer.touch = arguments.has("--touch");
    viewer.compare = arguments.value("--compare");
    viewer.side_room = read_room(reader, arguments, "--room", side_rooms());
    viewer.lower_room = read_room(reader, arguments, "--lower", lower_rooms());
    if (arguments.has("--answer")) {
        std::vector<std::pair<std::string_view, AnswerKind>> words;
        for (const AnswerEntry& entry : answer_entries()) words.emplace_back(entry.name, entry.choice);
        viewer.answer = reader.choice<AnswerKind>("--answer", words, AnswerKind::loads);
        if (!viewer.side_room) viewer.side_room = SideRoom::answers;
    }
    viewer.ball_height = reader.length("--height", common.units, ball_heights);
    problems.insert(problems.end(), reader.problems().begin(), reader.problems().end());
    if (!problems.empty()) return make_failure(std::move(problems), nullptr);
    if (!arguments.names.empty()) viewer.setup = arguments.name(0);
    viewer.state_file = arguments.value("--state-file");
    viewer.says_size = arguments.has("--size");
    viewer.says_units = arguments.has("--units");
    viewer.says_mark = arguments.has("--mark");
    viewer.edits = {common.sets, common.rules};
    viewer.units = common.units;
    viewer.mark = common.mark;
    viewer.screenshot = arguments.value("--screenshot");
    return viewer;
}

}  // namespace hitchwright
