#include "report/answer_blocks.h"

#include <utility>

#include "report/caution_text.h"
#include "report/fit_report.h"

namespace hitchwright {
namespace {

/// The mark at the beginning of a label in its colour; the spaces behind it stay as they are.
std::string format_item(const AnswerBlock& b, const TextStyle& style) {
    std::string text = format_labelled(b.label, b.text, style.width, b.first, b.hang);
    if (!b.severity) return text;
    const std::string mark = b.label.substr(0, b.label.find_last_not_of(' ') + 1);
    return text.replace(b.first, mark.size(), paint_mark(*b.severity, mark, style));
}

std::string format_block(const AnswerBlock& b, const TextStyle& style) {
    if (!b.terminal.empty()) return b.terminal;
    switch (b.kind) {
        case BlockKind::gap: return "\n";
        case BlockKind::heading: return std::string(b.first, ' ') + b.text + "\n";
        case BlockKind::answer:
        case BlockKind::words: return format_paragraph(b.text, style.width, b.first, b.hang);
        case BlockKind::item: return format_item(b, style);
        case BlockKind::table: return format_columns(b.rows, 2, 2);
        case BlockKind::caution: return format_labelled("! ", b.text, style.width, 2, 4);
        case BlockKind::machines:
        case BlockKind::finding: break;
    }
    return {};
}

}  // namespace

AnswerBlock& AnswerBuilder::add(BlockKind kind, std::string text, std::size_t first, std::size_t hang) {
    AnswerBlock& b = blocks_.emplace_back();
    b.kind = kind;
    b.text = std::move(text);
    b.first = first;
    b.hang = hang;
    return b;
}

void AnswerBuilder::machines(const Setup& setup) { add(BlockKind::machines, {}).terminal = format_machines(setup, style_); }

void AnswerBuilder::answer(std::string text) { add(BlockKind::answer, std::move(text)); }

void AnswerBuilder::heading(std::string text, std::size_t first, BlockPlace place) {
    add(BlockKind::heading, std::move(text), first).place = place;
}

void AnswerBuilder::words(std::string text, std::size_t first, std::size_t hang, BlockPlace place) {
    add(BlockKind::words, std::move(text), first, hang).place = place;
}

AnswerBlock& AnswerBuilder::item(std::string label, std::string text, std::size_t first, std::size_t hang) {
    AnswerBlock& b = add(BlockKind::item, std::move(text), first, hang);
    b.label = std::move(label);
    return b;
}

void AnswerBuilder::table(std::vector<std::vector<std::string>> rows, std::string terminal) {
    AnswerBlock& b = add(BlockKind::table, {});
    b.rows = std::move(rows);
    b.terminal = std::move(terminal);
}

void AnswerBuilder::finding(const Finding& finding, const FindingContext& context) {
    AnswerBlock& b = add(BlockKind::finding, {});
    b.finding = describe_finding(finding, context);
    b.severity = finding.severity;
    b.terminal = format_finding(finding, context, style_);
}

void AnswerBuilder::cautions(const std::vector<Caution>& list) {
    gap();
    heading("Cautions");
    for (const Caution c : list) add(BlockKind::caution, std::string(caution_sentence(c)));
}

std::string format_blocks(const std::vector<AnswerBlock>& blocks, const TextStyle& style) {
    std::string text;
    for (const AnswerBlock& b : blocks) {
        if (b.place != BlockPlace::window) text += format_block(b, style);
    }
    return text;
}

}  // namespace hitchwright
