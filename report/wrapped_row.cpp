#include "report/wrapped_row.h"

#include <algorithm>
#include <vector>

#include "report/text_layout.h"

namespace hitchwright {

std::string format_wrapped_row(std::span<const std::string> cells, std::span<const std::size_t> widths, std::size_t between, std::size_t first_hang) {
    std::vector<std::vector<std::string>> lines;
    std::size_t most = 0;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        lines.push_back(wrap_columns(cells[i], widths[i], 0, i == 0 ? first_hang : 0));
        most = std::max(most, lines[i].size());
    }
    std::string text;
    for (std::size_t n = 0; n < most; ++n) {
        std::string line;
        for (std::size_t i = 0; i < cells.size(); ++i)
            line += pad_right(n < lines[i].size() ? lines[i][n] : "", widths[i] + (i + 1 < cells.size() ? between : 0));
        line.erase(line.find_last_not_of(' ') + 1);
        text += line + '\n';
    }
    return text;
}

}  // namespace hitchwright
