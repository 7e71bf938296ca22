// Text from files and from the command line does no harm: not in SVG or PDF, not in JSON and CSV, not on the terminal.
//
// Every name, note and source of the presets is given a tail of markup, quotes and words that run scripts elsewhere;
// then the commands are run. Control characters and marks that turn the text are refused in files, with an answer that
// holds none.
#include <catch2/catch.hpp>

#include <regex>
#include <set>

#include <nlohmann/json.hpp>

#include "report/text_clean.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const std::string tail =
    "</text><script>alert(1)</script>\" onload=\"x' javascript:x /JS /OpenAction) << /Launch >> & ]]> $(id) `id`";

/// `text` as it stands between the quotes of a TOML string.
std::string quote_toml(const std::string& text) {
    std::string result;
    for (const char c : text) result += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
    return result;
}

/// The presets with the tail behind every text that a person writes, in a folder of the user's.
void write_hostile_presets(const std::filesystem::path& folder) {
    const std::filesystem::path from = std::filesystem::path(HITCHWRIGHT_SOURCE_DIR) / "presets";
    const std::regex text(
        "(name|note|source|how|specification|if_below|if_above|consequence|complaint|adjuster|upper_link_pin|mast_pin|"
        "lift_rod_hole|drawbar_pin|tyre_set|point|customer|technician|date|hours|[a-z]+_serial) = \"(.*)\"(.*)");
    std::size_t changed = 0;
    for (const char* kind : {"tractors", "implements", "drivelines", "setups", "rules", "specifications"}) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(from / kind)) {
            if (entry.path().extension() != ".toml") continue;
            const std::filesystem::path to = folder / std::filesystem::relative(entry.path(), from);
            std::filesystem::create_directories(to.parent_path());
            std::string lines;
            for (const std::string& line : split_lines(read_file(entry.path()))) {
                std::smatch match;
                const bool is_text = std::regex_match(line, match, text);
                const std::string before =
                    line.size() + tail.size() < 200 ? match[2].str() : "";  // no text may be longer
                lines += is_text ? match[1].str() + " = \"" + before + quote_toml(tail) + "\"" + match[3].str() : line;
                lines += "\n";
                changed += is_text ? 1 : 0;
            }
            write_file(to, lines);
        }
    }
    REQUIRE(changed > 200);
}

/// What in a text could steer a terminal, or turn or hide what stands behind it: its first place, or nothing.
std::string find_control(const std::string& text) {
    for (std::size_t at = 0; at < text.size();) {
        const DecodedCharacter c = decode_character(text, at);
        const bool turns = c.code == 0x61C || c.code == 0x200E || c.code == 0x200F ||
                           (c.code >= 0x202A && c.code <= 0x202E) || (c.code >= 0x2066 && c.code <= 0x2069);
        const bool controls = (c.code < 0x20 && c.code != '\n') || (c.code >= 0x7F && c.code < 0xA0);
        if (!c.valid || turns || controls) return "character " + std::to_string(at) + " is " + std::to_string(c.code);
        at += c.bytes;
    }
    return "";
}

/// Elements and attributes of an SVG that are not on the short list of those the writer needs; none can run or load
/// anything.
std::string find_unknown_markup(const std::string& svg) {
    static const std::set<std::string> elements{"svg", "title", "desc", "rect", "g", "path", "circle", "text"};
    static const std::set<std::string> attributes{"xmlns",
                                                  "version",
                                                  "width",
                                                  "height",
                                                  "viewBox",
                                                  "class",
                                                  "fill",
                                                  "stroke",
                                                  "stroke-width",
                                                  "stroke-linecap",
                                                  "stroke-linejoin",
                                                  "stroke-dasharray",
                                                  "font-family",
                                                  "font-size",
                                                  "font-weight",
                                                  "text-anchor",
                                                  "textLength",
                                                  "lengthAdjust",
                                                  "transform",
                                                  "d",
                                                  "x",
                                                  "y",
                                                  "cx",
                                                  "cy",
                                                  "r"};
    static const std::regex tag("<([^>]*)>"), attribute(" ([^ =]+)=\"([^\"]*)\"");
    const std::string head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    if (!svg.starts_with(head)) return "no head";
    const std::string body = svg.substr(head.size());
    for (std::sregex_iterator at(body.begin(), body.end(), tag), end; at != end; ++at) {
        const std::string inside = (*at)[1].str();
        if (inside.starts_with("/")) continue;
        const std::string name = inside.substr(0, inside.find_first_of(" /"));
        if (!elements.contains(name)) return "element " + name;
        for (std::sregex_iterator a(inside.begin(), inside.end(), attribute); a != end; ++a) {
            if (!attributes.contains((*a)[1].str())) return "attribute " + (*a)[1].str();
            const std::string value = (*a)[2].str();
            if (value.find("script") != std::string::npos || value.find("url(") != std::string::npos)
                return "value " + value;
        }
    }
    return "";
}

/// The same for an HTML document of pages: each page is such an SVG, and what is round them has no more than the writer's own.
std::string find_unknown_html(const std::string& html) {
    static const std::set<std::string> elements{"!DOCTYPE", "html", "head", "meta", "title", "style", "body", "section"};
    static const std::regex tag("<([^>]*)>");
    std::string around = html;
    for (std::size_t at = around.find("<svg"); at != std::string::npos; at = around.find("<svg")) {
        const std::size_t end = around.find("</svg>\n", at) + 7;
        const std::string unknown = find_unknown_markup("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + around.substr(at, end - at));
        if (!unknown.empty()) return unknown;
        around.erase(at, end - at);
    }
    for (std::sregex_iterator at(around.begin(), around.end(), tag), end; at != end; ++at) {
        const std::string inside = (*at)[1].str(), name = inside.substr(inside.starts_with("/") ? 1 : 0);
        if (!elements.contains(name.substr(0, name.find(' ')))) return "element " + name;
        if (inside.find(" on") != std::string::npos || inside.find("script") != std::string::npos) return "tag " + inside;
    }
    return "";
}

/// Names of a PDF (/Type, /Page) outside of its strings and streams.
std::set<std::string> list_pdf_names(const std::string& pdf) {
    std::set<std::string> names;
    const std::string delimiters(" \n\r\t\f()<>[]{}/%");
    for (std::size_t at = 0; at < pdf.size();) {
        if (pdf.compare(at, 6, "stream") == 0 && at > 3 && pdf.compare(at - 3, 3, "end") != 0) {
            at = pdf.find("endstream", at) + 9;
        } else if (pdf[at] == '(') {
            int depth = 0;
            do {
                if (pdf[at] == '\\')
                    ++at;
                else
                    depth += pdf[at] == '(' ? 1 : pdf[at] == ')' ? -1 : 0;
                ++at;
            } while (depth > 0 && at < pdf.size());
        } else if (pdf[at] == '/') {
            const std::size_t end = std::min(pdf.find_first_of(delimiters, at + 1), pdf.size());
            names.insert(pdf.substr(at + 1, end - at - 1));
            at = end;
        } else {
            ++at;
        }
    }
    return names;
}

/// Names that run, open or load something, or would hide such names from this test; empty: none.
std::string find_active_names(const std::string& pdf) {
    std::string found;
    for (const std::string& name : list_pdf_names(pdf)) {
        static const std::set<std::string> active{
            "JS",         "JavaScript",   "OpenAction",    "AA",       "A",
            "Launch",     "URI",          "GoToR",         "GoToE",    "SubmitForm",
            "ImportData", "EmbeddedFile", "EmbeddedFiles", "Filespec", "RichMedia",
            "XFA",        "AcroForm",     "Rendition",     "Movie",    "Sound",
            "ObjStm"};
        // A name may be spelled with #4A for J.
        if (active.contains(name) || name.find('#') != std::string::npos) found += " /" + name;
    }
    return found;
}

const std::vector<std::string> mounted = {"compact-tiller-bottoms-out", "utility-cutter-sheet",
                                          "compact-rear-blade-tilted"};
const std::vector<std::string> drawn = {"utility-drawn-cutter-short"};

}  // namespace

TEST_CASE("hostile text: names of files are plain text on the terminal, in JSON and in CSV", "[cli]") {
    const WorkingFolder folder;
    write_hostile_presets("presets");
    World world;
    world.variables["HITCHWRIGHT_PRESETS"] = "presets";
    world.variables["SOURCE_DATE_EPOCH"] = "1760000000";
    const auto check = [&](const std::vector<std::string>& args) {
        for (const char* format : {"text", "json", "csv"}) {
            std::vector<std::string> all = args;
            all.insert(all.end(), {"--format", format});
            CAPTURE(show(all));
            const Run result = run(all, world);
            if (result.code == 2 && all.back() != "text") continue;  // no such form of this answer
            CAPTURE(result.err);
            CHECK((result.code == 0 || result.code == 1 || result.code == 5));
            CHECK(find_control(result.out + result.err) == "");
            if (std::string(format) == "json") CHECK(nlohmann::json::parse(result.out).is_object());
        }
    };
    for (const std::string& name : mounted) {
        CAPTURE(name);
        CHECK(contains(run({"fit", name, "--format", "json"}, world).out, "script"));
        for (const char* command : {"fit", "sweep", "holes", "load", "lines", "sheet", "measure", "code", "compare"})
            check({command, name});
        check({"fit", name, "--explain"});
        check({"trace", name, "--seen", "tail 3 in low at working height"});
    }
    for (const char* command : {"cut", "shafts"}) check({command, mounted.front()});
    for (const std::string& name : drawn) {
        for (const char* command : {"fit", "drawbar", "ditch", "envelope", "sheet"}) check({command, name});
    }
    check({"presets", "list"});
    check({"rules", "list"});
}

TEST_CASE("hostile text: pictures hold no script, no reference and no action, whatever the names", "[cli]") {
    const WorkingFolder folder;
    write_hostile_presets("presets");
    World world;
    world.variables["HITCHWRIGHT_PRESETS"] = "presets";
    const std::string marks = "\x1b[31m\xE2\x80\xAE\x07 " + tail;  // the caption is drawn whatever it holds
    const auto draw = [&](const std::string& name, const std::string& view) {
        CAPTURE(name, view);
        const Run svg = run({"draw", name, "-o", "a.svg", "--view", view, "--caption", marks}, world);
        CAPTURE(svg.err);
        REQUIRE((svg.code == 0 || svg.code == 1 || svg.code == 5));
        const std::string picture = read_file("a.svg");
        CHECK(contains(picture, "&lt;script&gt;"));
        CHECK(find_unknown_markup(picture) == "");
        CHECK(find_control(picture) == "");
        REQUIRE(run({"draw", name, "-o", "a.pdf", "--view", view, "--caption", marks}, world).code == svg.code);
        CHECK(list_pdf_names(read_file("a.pdf")).contains("Catalog"));
        CHECK(find_active_names(read_file("a.pdf")) == "");
    };
    for (const std::string& name : mounted) {
        for (const char* view : {"side", "rear", "plan", "travel"}) draw(name, view);
        REQUIRE(run({"sheet", name, "-o", "sheet.pdf"}, world).code != 3);
        CHECK(find_active_names(read_file("sheet.pdf")) == "");
        REQUIRE(run({"sheet", name, "-o", "sheet.html"}, world).code != 3);
        const std::string sheet = read_file("sheet.html");
        CHECK(contains(sheet, "&lt;script&gt;"));
        CHECK(find_unknown_html(sheet) == "");
        CHECK(find_control(sheet) == "");
    }
    for (const std::string& name : drawn) {
        for (const char* view : {"plan", "envelope", "ditch"}) draw(name, view);
    }
    REQUIRE(run({"measure", mounted.front(), "-o", "card.pdf"}, world).code == 0);
    CHECK(find_active_names(read_file("card.pdf")) == "");
}

TEST_CASE("hostile text: control characters and marks that turn the text are refused in files, and not repeated",
          "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"presets", "copy", "compact-tiller-bottoms-out"}).code == 0);
    const std::string good = read_file("compact-tiller-bottoms-out.toml");
    REQUIRE(run({"fit", "compact-tiller-bottoms-out.toml"}).code == 1);
    for (const char* written :
         {"\\u001b[31m", "\\u202e", "\\u2066", "\\u009b", "\\u0007", "\\u200b", "\\n", "\xE2\x80\xAE"}) {
        CAPTURE(written);
        std::string bad = good;
        const std::size_t at = bad.find("name = \"");
        REQUIRE(at != std::string::npos);
        bad.insert(at + 8, written);
        write_file("bad.toml", bad);
        for (const char* command : {"fit", "sheet", "holes"}) {
            const Run result = run({command, "bad.toml"});
            CHECK(result.code == 3);
            CHECK(contains(result.err, "bad.toml:"));
            CHECK(find_control(result.out + result.err) == "");
        }
    }
    // A file's own name, and what is typed, come back in answers.
    const std::string name = "a\x1b[31m\xE2\x80\xAE<b>&.toml";
    write_file(name, good);
    for (const std::vector<std::string>& args : {std::vector<std::string>{"fit", name},
                                                 {"fit", name, "--format", "json"},
                                                 {"fit", name + "x"},
                                                 {"fit", name, "--set", name + "=1"},
                                                 {"code", name}}) {
        const Run result = run(args);
        CAPTURE(result.code);
        CHECK(find_control(result.out + result.err) == "");
    }
}

TEST_CASE("hostile text: the checks of this file notice what they look for", "[cli]") {
    const std::string head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    CHECK(find_unknown_markup(head + "<svg width=\"1\"><text x=\"1\">a &lt;script&gt;</text></svg>") == "");
    CHECK(find_unknown_markup(head + "<svg><script>x</script></svg>") == "element script");
    CHECK(find_unknown_markup(head + "<svg onload=\"x\"></svg>") == "attribute onload");
    CHECK(find_unknown_markup(head + "<svg><a href=\"x\"></a></svg>") == "element a");
    CHECK(find_unknown_markup(head + "<svg fill=\"url(#x)\"></svg>") == "value url(#x)");
    CHECK(find_active_names("1 0 obj << /Type /Catalog /Title (/JS \\) (/AA) /URI) >> endobj") == "");
    CHECK(find_active_names("<< /OpenAction << /S /JavaScript /JS (x) >> >>") == " /JS /JavaScript /OpenAction");
    CHECK(find_active_names("<< /J#53 (x) >>") == " /J#53");
    CHECK(find_active_names("<< >> stream /JS endstream /Launch") == " /Launch");
    CHECK(find_control("a\nb\xC3\xBC") == "");
    for (const char* text : {"\x1b[0m", "\r", "\xC2\x9B", "\xE2\x80\xAE", "\xE2\x81\xA6", "\xFF"})
        CHECK(find_control(text) != "");
}
