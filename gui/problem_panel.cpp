// What is wrong with the files, all of it, by file and line.
#include <algorithm>

#include "gui/palette.h"
#include "gui/panels.h"
#include "report/safe_words.h"

namespace hitchwright {

void show_problems(Screen& screen) {
    const AppState& app = screen.app;
    show_text("This set-up cannot be read", screen.fonts.large, palette().alarm);
    show_text(escape_text(app.name) + ": " + format_count(app.problems.size(), "problem") +
              " in what it is made from. Nothing was computed. Mend the files, then press \"Read files again\".");
    ImGui::Spacing();
    for (const Problem& problem : app.problems) {
        // The place and what is wrong, then what was read and what is allowed.
        const std::string text = format_problem(problem);
        const std::size_t end = std::min(text.find('\n'), text.size());
        show_text(text.substr(0, end), screen.fonts.bold, palette().ink);
        if (end < text.size()) show_text(text.substr(text.find_first_not_of(' ', end + 1)));
        ImGui::Spacing();
    }
    remember_place(screen, "problems");
}

}  // namespace hitchwright
