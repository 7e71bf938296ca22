#include "gui/state_folder.h"

#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "presets/problem.h"

namespace hitchwright {

std::string find_state_folder(const std::function<const char*(const char*)>& variable) {
    const auto absolute = [&](const char* name) {
        const char* text = variable(name);
        return text != nullptr && *text == '/' ? std::string(text) : std::string{};
    };
    const std::string state = absolute("XDG_STATE_HOME"), home = absolute("HOME");
    if (!state.empty()) return state + "/hitchwright";
    return home.empty() ? std::string{} : home + "/.local/state/hitchwright";
}

std::string make_state_folder(const std::string& folder) {
    if (folder.empty()) return "neither HOME nor XDG_STATE_HOME is set";
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    const bool there = std::filesystem::is_directory(folder, error);
    return there ? std::string{} : fmt::format("\"{}\" cannot be made", escape_text(folder));
}

}  // namespace hitchwright
