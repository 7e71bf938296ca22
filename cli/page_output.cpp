// See page_output.h.
#include "cli/page_output.h"

#include <fmt/format.h>

#include "cli/records.h"
#include "report/atomic_file.h"
#include "report/html_writer.h"
#include "report/safe_words.h"
#include "report/text_clean.h"

namespace hitchwright {

std::string find_ending(std::string_view path) {
    const std::size_t stop = path.rfind('.');
    std::string ending(stop == std::string_view::npos ? std::string_view{} : path.substr(stop));
    for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return ending;
}

void check_page_output(const Arguments& arguments, Form form, OptionReader& reader) {
    if (!arguments.has("--output")) {
        if (arguments.has("--paper")) reader.add_problem({"--paper", "paper is for a printed page: -o FILE.pdf or FILE.html", {}});
        return;
    }
    if (form == Form::csv) reader.add_problem({"--format", "-o writes a PDF or HTML; CSV goes to the output without it", {}});
    const std::string path = arguments.value("--output"), ending = find_ending(path);
    if ((ending != ".pdf" && ending != ".html") || path.size() == ending.size()) {
        reader.add_problem({"--output", fmt::format("{} was read; allowed: a name ending in .pdf or .html", in_quotes(path)), {}});
    }
}

RenderResult render_pages(const std::vector<PagePicture>& pages, std::string_view ending) {
    return ending == ".html" ? RenderResult{write_html(pages), {}} : render_pdf(pages);
}

Outcome write_pages(const std::vector<PagePicture>& pages, const std::string& path, Form form) {
    const RenderResult rendered = render_pages(pages, find_ending(path));
    Failure failure;
    if (!rendered.ok()) {
        failure.message = rendered.error;
        return failure;
    }
    if (const auto failed = write_file_atomically(path, rendered.bytes)) {
        failure.message = failed->message;
        return failure;
    }
    if (form == Form::json) {
        return Answer{exit_code::fits,
                      format_json("written", {{"file", path}, {"pages", static_cast<int>(pages.size())}})};
    }
    return Answer{exit_code::fits,
                  fmt::format("Written: {}, {}\n", escape_text(path, 4096), format_count(pages.size(), "page"))};
}

}  // namespace hitchwright
