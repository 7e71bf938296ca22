#include "gui/block_view.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/palette.h"
#include "report/text_clean.h"

namespace hitchwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr float widest_label_share = 0.4F;

ImU32 colour_of(Severity severity) {
    switch (severity) {
        case Severity::forbids:
        case Severity::change: return palette().alarm;
        case Severity::unknown:
        case Severity::condition: return palette().rust;
        case Severity::watch:
        case Severity::good: break;
    }
    return palette().blue;
}

std::string trimmed(const std::string& label) {
    const std::size_t begin = label.find_first_not_of(' ');
    return begin == std::string::npos ? std::string() : label.substr(begin, label.find_last_not_of(' ') + 1 - begin);
}

/// Words beside what was shown last, or below it where it took too much of the line.
void stand_beside(float line) {
    if (ImGui::GetItemRectSize().x <= widest_label_share * line) ImGui::SameLine();
}

void show_finding(Screen& screen, const AnswerBlock& b) {
    const FindingText& f = b.finding;
    const float line = ImGui::GetContentRegionAvail().x;
    show_text(f.mark, screen.fonts.bold, colour_of(b.severity.value_or(Severity::watch)));
    stand_beside(line);
    show_text(f.headline, screen.fonts.bold, palette().ink);
    if (!f.detail.empty()) show_text(f.detail);
    if (f.steps.size() > 1) show_quiet_text(f.all_steps ? "All of these:" : "One of these:");
    for (const std::string& step : f.steps) show_text("- " + step);
    for (const std::string& caution : f.cautions) show_warning(caution);
    if (!f.source.empty()) show_quiet_text("Rule: " + f.source);
}

/// True when its button was pressed.
bool show_item(Screen& screen, const AnswerBlock& b) {
    const float line = ImGui::GetContentRegionAvail().x;
    const std::string label = trimmed(b.label);
    bool pressed = false;
    if (!b.key.empty()) {
        pressed = ImGui::Button(label.c_str());
        remember_place(screen, "try " + b.key);
        if (ImGui::IsItemHovered()) show_hint(screen, fmt::format("Try {}: it takes the place of the shaft; undo takes it back", b.key));
        stand_beside(line);
    } else if (label == "!") {
        show_warning(b.text);
        return false;
    } else if (!label.empty()) {
        show_text(label, screen.fonts.bold, b.severity ? colour_of(*b.severity) : palette().ink);
        stand_beside(line);
    }
    show_text(b.text);
    return pressed;
}

std::vector<float> find_widths(const Rows& rows) {
    std::vector<float> widths;
    for (const std::vector<std::string>& row : rows) {
        widths.resize(std::max(widths.size(), row.size()), 1.0F);
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], std::ceil(ImGui::CalcTextSize(row[i].c_str()).x));
    }
    return widths;
}

bool has_room(const std::vector<float>& widths) {
    float sum = 0.0F;
    for (const float w : widths) sum += w + 2.0F * ImGui::GetStyle().CellPadding.x + 1.0F;
    return sum <= ImGui::GetContentRegionAvail().x;
}

/// Cell by cell behind its heading, for a narrow panel.
void show_stacked(Screen& screen, const Rows& rows) {
    for (std::size_t r = 1; r < rows.size(); ++r) {
        std::string title, rest;
        for (std::size_t i = 0; i < rows[r].size(); ++i) {
            const std::string cell = clean_text(trimmed(rows[r][i]));
            const std::string& head = i < rows[0].size() ? rows[0][i] : rows[0][0];
            if (cell.empty()) continue;
            std::string headed = trimmed(head).empty() ? "" : head + " ";
            headed += cell;
            if (title.empty() || (i == 1 && rows[0][0].empty())) title += (title.empty() ? "" : " ") + (i == 1 ? cell : headed);
            else rest += (rest.empty() ? "" : "; ") + headed;
        }
        show_text(title, screen.fonts.bold, palette().ink);
        if (!rest.empty()) show_text(rest);
    }
}

void show_table(Screen& screen, const Rows& rows, int number) {
    if (rows.empty()) return;
    const std::vector<float> widths = find_widths(rows);
    if (!has_room(widths)) return show_stacked(screen, rows);
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingFixedFit;
    if (!ImGui::BeginTable(fmt::format("answer {} {}", number, widths.size()).c_str(), static_cast<int>(widths.size()), flags)) return;
    // Given, not found by the table itself: one that scrolls into sight would find them a frame late.
    for (const float width : widths) ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, width);
    for (const std::vector<std::string>& row : rows) {
        const bool head = &row == &rows.front();
        ImGui::TableNextRow(head ? ImGuiTableRowFlags_Headers : ImGuiTableRowFlags_None);
        for (const std::string& cell : row) {
            ImGui::TableNextColumn();
            const std::string clean = clean_text(cell);
            ImGui::TextUnformatted(clean.data(), clean.data() + clean.size());
        }
    }
    ImGui::EndTable();
}

}  // namespace

std::string show_blocks(Screen& screen, const std::vector<AnswerBlock>& blocks) {
    std::string pressed;
    int number = 0;
    for (const AnswerBlock& b : blocks) {
        ++number;
        if (b.place == BlockPlace::terminal) continue;
        const float indent = b.first > 2 && b.kind == BlockKind::item ? screen.em() : 0.0F;
        if (indent > 0.0F) ImGui::Indent(indent);
        ImGui::PushID(number);
        switch (b.kind) {
            case BlockKind::machines: break;
            case BlockKind::gap: ImGui::Spacing(); break;
            case BlockKind::answer: show_text(b.text, screen.fonts.bold, palette().ink); break;
            case BlockKind::heading: show_heading(screen, b.text); break;
            case BlockKind::words: show_text(b.text); break;
            case BlockKind::item:
                if (show_item(screen, b)) pressed = b.key;
                break;
            case BlockKind::table: show_table(screen, b.rows, number); break;
            case BlockKind::finding: show_finding(screen, b); break;
            case BlockKind::caution: show_warning(b.text); break;
        }
        ImGui::PopID();
        if (indent > 0.0F) ImGui::Unindent(indent);
    }
    return pressed;
}

}  // namespace hitchwright
