// See file_words.h.
#include "gui/file_words.h"

#include <algorithm>
#include <string>
#include <vector>

#include "gui/palette.h"
#include "gui/typing.h"

namespace hitchwright {

void show_refusal(Screen& screen, std::string_view message) {
    // Line by line: text on the screen knows no line ends.
    while (!message.empty()) {
        const std::string_view line = message.substr(0, message.find('\n'));
        show_text(line, screen.fonts.bold, palette().alarm);
        message.remove_prefix(std::min(line.size() + 1, message.size()));
    }
}

void show_left_out(Screen& screen) {
    const std::vector<std::string> left_out = list_refused_texts(screen.app);
    if (!left_out.empty()) show_text("Typed and not taken, so not among what is written:");
    for (const std::string& line : left_out) show_text(line, screen.fonts.bold, palette().alarm);
}

}  // namespace hitchwright
