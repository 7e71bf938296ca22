// The answers of the command line for the set-up as it stands in the window. Numbers from geometry/, words from report/;
// made when they are looked at and kept until something they depend on changes. Nothing here draws.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "gui/app_state.h"
#include "gui/entry_table.h"

namespace hitchwright {

/// An answer with its button; the hint is the question it answers.
using AnswerEntry = TableEntry<AnswerKind>;
std::span<const AnswerEntry> answer_entries();

/// The one chosen, or the first where that one is not there for this set-up.
const AnswerEntry& shown_answer(const AppState& app);
std::optional<AnswerKind> find_answer(std::string_view name);

/// True for pages of paper.
bool is_paper(AnswerKind kind);

/// What was ticked and can be read, as `trace --seen` takes it; problems stand beside the ticks afterwards.
std::vector<std::string> list_seen(AppState& app);

/// True: what was made is not of the present state.
bool is_stale(AppState& app);
/// The blocks of the answer shown, made anew where they are stale. Not for paper.
const std::vector<AnswerBlock>& make_answer(AppState& app);

/// The pages of the paper shown, made anew where they are stale.
const PagePreview& make_preview(AppState& app);
/// "Page 1", "Drawing".
std::string name_page(const AppState& app, std::size_t page);

}  // namespace hitchwright
