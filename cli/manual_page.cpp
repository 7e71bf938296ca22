// See manual_page.h. roff: a line that begins with a dot or a quote is a request, and "-" is a hyphen, "\-" a minus.
#include "cli/manual_page.h"

#include <algorithm>

#include <fmt/format.h>

#include "cli/command_table.h"

namespace hitchwright {
namespace {

/// Plain words as roff text: no request, no escape, minus signs that can be copied.
std::string escape_roff(std::string_view text) {
    std::string result;
    bool line_start = true;
    for (const char c : text) {
        if (line_start && (c == '.' || c == '\'')) result += "\\&";
        if (c == '\\') result += "\\e";
        else if (c == '-') result += "\\-";
        else result += c;
        line_start = c == '\n';
    }
    return result;
}

/// Paragraphs separated by empty lines.
std::string format_paragraphs(std::string_view text) {
    std::string result;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find("\n\n"), text.size());
        result += ".PP\n" + escape_roff(text.substr(0, end)) + "\n";
        text.remove_prefix(std::min(text.size(), end + 2));
    }
    return result;
}

std::string format_command(const CommandSpec& command) {
    std::string line = fmt::format(".SS \"hitchwright {}", escape_roff(command.name));
    for (const NameSpec& name : command.names) {
        line += " " + format_name(name);
    }
    std::string text = line + "\"\n" + escape_roff(command.summary) + ".\n" + format_paragraphs(command.details);
    if (!command.options.empty()) {
        std::string names;
        for (const std::string_view option : command.options) names += (names.empty() ? "" : ", ") + std::string(option);
        text += ".PP\nOptions: " + escape_roff(names) + ".\n";
    }
    // What means something else here than in the list of all options.
    for (const OwnMeaning& own : command.meanings)
        text += fmt::format(".TP\n\\fB{}\\fR \\fI{}\\fR\n{}.\n", escape_roff(own.option), escape_roff(own.value),
                            escape_roff(own.meaning));
    if (!command.examples.empty()) text += ".PP\n.EX\n" + escape_roff(command.examples) + ".EE\n";
    if (!command.codes.empty()) text += ".PP\nExit codes: " + escape_roff(command.codes) + "\n";
    return text;
}

std::string format_option(const OptionSpec& option) {
    std::string name = option.short_name.empty() ? "" : fmt::format("\\fB{}\\fR, ", escape_roff(option.short_name));
    name += fmt::format("\\fB{}\\fR", escape_roff(option.name));
    if (!option.value.empty()) name += fmt::format(" \\fI{}\\fR", option.value);
    return fmt::format(".TP\n{}\n{}{}.\n", name, escape_roff(option.meaning), option.repeatable ? "; may be repeated" : "");
}

}  // namespace

std::string format_manual_page(const std::string& version) {
    std::string text = fmt::format(".TH HITCHWRIGHT 1 \"\" \"hitchwright {}\" \"User Commands\"\n", version);
    text +=
        ".SH NAME\nhitchwright \\- hitching and driveline geometry of a tractor and its implement\n"
        ".SH SYNOPSIS\n\\fBhitchwright\\fR \\fICOMMAND\\fR [\\fIOPTIONS\\fR]\n.SH DESCRIPTION\n"
        "From readings taken with a tape: which hole and length of the upper link, pitch and clearance through the "
        "lift, length of the PTO shaft over the whole travel, whether it bottoms out or parts, what to cut, and the "
        "joint angles.\n.PP\n"
        "Results are an aid. The makers' manuals, local code and licensed practice rule. Engine off, key out and "
        "rotation stopped before connecting, measuring, cutting or greasing.\n.SH COMMANDS\n";
    for (const CommandSpec& command : command_specs()) {
        if (!is_group(command)) text += format_command(command);
    }
    text += ".SH OPTIONS\nEach command takes those it lists, before or behind its name.\n";
    for (const OptionSpec& option : option_specs()) text += format_option(option);
    text +=
        ".SH EXIT STATUS\n0 it fits, or done; 1 it fits after a change, or must not run; 5 too close to call, or not "
        "known; 2 wrong command line; 3 wrong file or \\-\\-set; 4 output that cannot be written, or an error of the "
        "program.\n.SH ENVIRONMENT\n.TP\nHITCHWRIGHT_PRESETS\nfolder of your own files; searched first\n"
        ".TP\nNO_COLOR\nwhen not empty: no colours\n";
    return text;
}

}  // namespace hitchwright
