// See pdf_output.h.
#include "cli/pdf_output.h"

#include <fmt/format.h>

#include "cli/records.h"
#include "report/atomic_file.h"
#include "report/cairo_writer.h"
#include "report/safe_words.h"
#include "report/text_clean.h"

namespace hitchwright {

void check_pdf_output(const Arguments& arguments, Form form, OptionReader& reader) {
    if (!arguments.has("--output")) {
        if (arguments.has("--paper")) reader.add_problem({"--paper", "paper is for a PDF: -o FILE.pdf", {}});
        return;
    }
    if (form == Form::csv) reader.add_problem({"--format", "-o writes a PDF; CSV goes to the output without it", {}});
    const std::string path = arguments.value("--output");
    std::string ending = path.size() > 4 ? path.substr(path.size() - 4) : std::string{};
    for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if (ending != ".pdf") {
        reader.add_problem({"--output", fmt::format("{} was read; allowed: a name ending in .pdf", in_quotes(path)), {}});
    }
}

Outcome write_pdf_pages(const std::vector<PagePicture>& pages, const std::string& path, Form form) {
    const RenderResult rendered = render_pdf(pages);
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
