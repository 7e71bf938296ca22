// See html_writer.h. Sizes of paper are named pages (CSS Paged Media), so that a lying page may follow an upright one.
#include "report/html_writer.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/svg_writer.h"

namespace hitchwright {
namespace {

/// Width and height as the document says them, "215.9mm 279.4mm".
std::string size_of(const PagePicture& page) { return fmt::format("{} {}", format_svg_length(page.width_mm), format_svg_length(page.height_mm)); }

std::vector<std::string> list_sizes(const std::vector<PagePicture>& pages) {
    std::vector<std::string> sizes;
    for (const PagePicture& page : pages) {
        if (std::find(sizes.begin(), sizes.end(), size_of(page)) == sizes.end()) sizes.push_back(size_of(page));
    }
    return sizes;
}

/// On the screen pages lie on a desk, on paper each is the page: a line of text may not be left over for one more.
std::string format_style(const std::vector<std::string>& sizes) {
    std::string style;
    for (std::size_t i = 0; i < sizes.size(); ++i)
        style += fmt::format("@page paper-{0} {{ size: {1}; margin: 0 }}\n.paper-{0} {{ page: paper-{0} }}\n", i + 1, sizes[i]);
    return style +
           ".paper { overflow: hidden; break-after: page; break-inside: avoid }\n"
           ".paper:last-child { break-after: auto }\n"
           ".paper svg { display: block }\n"
           "@media screen { .paper { width: max-content; margin: 4mm auto; outline: 1px solid #808080 } }\n"
           "@media print { html, body { margin: 0; padding: 0 } }\n";
}

}  // namespace

std::string write_html(const std::vector<PagePicture>& pages) {
    const std::vector<std::string> sizes = list_sizes(pages);
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
        pages.empty() ? std::string() : escape_xml(pages.front().title), format_style(sizes));
    for (const PagePicture& page : pages) {
        const auto size = std::find(sizes.begin(), sizes.end(), size_of(page)) - sizes.begin();
        out += fmt::format("<section class=\"paper paper-{}\">\n{}</section>\n", size + 1, write_svg_element(page));
    }
    return out + "</body>\n</html>\n";
}

}  // namespace hitchwright
