// Taking answers out of the window as files: by the commands of the command line with the window's edits, so that a file
// is byte for byte the one that the command writes. Nothing here draws.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "gui/app_state.h"
#include "report/cairo_writer.h"

namespace hitchwright {

/// Which set-ups a thing is there for.
enum class ExportFor { both, mounted, drawn };

/// A thing that can be taken along.
struct ExportKind {
    const char* name;    ///< part of the proposed file name: "sheet"
    const char* word;    ///< in the list
    const char* hint;    ///< what it is, in a sentence
    std::vector<std::string> command;  ///< words of the command and its own options; none: the screen itself
    std::vector<std::string> endings;  ///< forms it can have: ".png"
    ExportFor there = ExportFor::both;
    bool to_file = true;      ///< the command writes the file itself (-o); else its output is the file
    bool as_shown = false;    ///< the picture that is shown, at the height shown
};

/// All of them, in the order of the list.
std::span<const ExportKind> export_kinds();
bool is_there(const AppState& app, const ExportKind& kind);
/// True: letter or A4 can be chosen.
bool has_paper(const ExportKind& kind);

/// The kind chosen, or the first that is there for this set-up.
const ExportKind& chosen_export(const AppState& app);
/// Its form chosen, with the stop: ".pdf".
const std::string& chosen_ending(const AppState& app);

/// What the names of all files begin with: that of the set-up's own file or preset, without folder and ending.
std::string find_export_stem(const AppState& app);
/// Name for the file of what is chosen, after the set-up's own: "my-setup-sheet.pdf".
std::string propose_export_name(const AppState& app);

/// Opens the question with a proposed name.
void ask_to_export(AppState& app);
/// Chooses a kind, a form or a paper. A name that is still as proposed follows; of one that was typed the ending does.
void choose_export(AppState& app, std::string_view name);
void choose_ending(AppState& app, std::string_view ending);

/// The words of the command, as behind the program's name, without the file it writes to.
std::vector<std::string> list_export_words(const AppState& app);

/// The file's bytes; an error where the set-up is in no file as it is shown, or the command gives none.
RenderResult make_export(const AppState& app);

/// Writes the file; the question's message says what was written and where, or why not. A file that exists is left alone
/// until this is called again for the same name. The screen is only asked for (finish_screen_export).
void write_export(AppState& app);

/// True: the next press writes over the file that is named.
bool writes_over(const AppState& app);

/// Writes the picture of the screen that was asked for.
void finish_screen_export(AppState& app, const RenderResult& png);

}  // namespace hitchwright
