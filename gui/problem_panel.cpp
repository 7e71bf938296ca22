// What is wrong with the files, all of it, by file and line.
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/safe_words.h"

namespace hitchwright {

void show_problems(Screen& screen) {
    const AppState& app = screen.app;
    show_text("This set-up cannot be read", screen.fonts.large, palette::alarm);
    show_text(escape_text(app.name) + ": " + format_count(app.problems.size(), "problem") +
              " in what it is made from. Nothing was computed. Mend the files, then press \"Read files again\".");
    ImGui::Spacing();
    for (const Problem& problem : app.problems) {
        show_text(format_problem(problem));
        ImGui::Spacing();
    }
    remember_place(screen, "problems");
}

}  // namespace hitchwright
