#include "tests/gui/screen_text.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <imgui_internal.h>

namespace hitchwright::test {
namespace {

struct Letter {
    const ImFont* font;
    const ImFontGlyph* glyph;
};
using Letters = std::map<std::pair<float, float>, Letter>;

/// Every letter by the place of its picture in the atlas.
Letters list_letters() {
    Letters letters;
    for (const ImFont* font : ImGui::GetIO().Fonts->Fonts) {
        for (const ImFontGlyph& glyph : font->Glyphs) {
            if (glyph.Visible != 0U) letters.emplace(std::pair(glyph.U0, glyph.V0), Letter{font, &glyph});
        }
    }
    return letters;
}

void append_utf8(std::string& text, unsigned code) {
    char bytes[5] = {};
    ImTextCharToUtf8(bytes, code);
    text += bytes;
}

/// Puts letters together to lines: a letter goes on where the one before it ended, or whole blanks further.
class Reader {
public:
    explicit Reader(std::vector<ScreenWords>& words) : words_(words) {}

    void start_panel(std::string panel, bool scrolls) {
        panel_ = std::move(panel);
        scrolls_ = scrolls;
        font_ = nullptr;
    }

    void take(const Letter& letter, ImVec2 least, ImVec2 most, const ImVec4& clip) {
        const float pen = least.x - letter.glyph->X0, top = least.y - letter.glyph->Y0;
        const float blank = letter.font->GetCharAdvance(' ');
        const float blanks = std::round((pen - pen_) / blank);
        const bool goes_on = letter.font == font_ && std::fabs(top - top_) < 0.5F && blanks >= 0.0F && blanks < 4.0F &&
                             std::fabs(pen - pen_ - blanks * blank) < 0.6F;
        if (!goes_on) words_.push_back({{}, least, most, clip, panel_, scrolls_});
        ScreenWords& last = words_.back();
        if (goes_on) last.text.append(static_cast<std::size_t>(blanks), ' ');
        append_utf8(last.text, letter.glyph->Codepoint);
        last.least = {std::min(last.least.x, least.x), std::min(last.least.y, least.y)};
        last.most = {std::max(last.most.x, most.x), std::max(last.most.y, most.y)};
        font_ = letter.font;
        pen_ = pen + letter.glyph->AdvanceX;
        top_ = top;
    }

private:
    std::vector<ScreenWords>& words_;
    std::string panel_;
    bool scrolls_ = false;
    const ImFont* font_ = nullptr;
    float pen_ = 0.0F, top_ = 0.0F;
};

void read_command(const ImDrawList& list, const ImDrawCmd& cmd, const Letters& letters, Reader& reader) {
    const ImDrawIdx* const index = list.IdxBuffer.Data + cmd.IdxOffset;
    const ImDrawVert* const vertex = list.VtxBuffer.Data + cmd.VtxOffset;
    for (unsigned i = 0; i + 6 <= cmd.ElemCount; i += 3) {
        const ImDrawIdx* const t = index + i;
        const bool quad = t[1] == t[0] + 1 && t[2] == t[0] + 2 && t[3] == t[0] && t[4] == t[2] && t[5] == t[0] + 3;
        if (!quad) continue;
        const ImDrawVert& from = vertex[t[0]];
        const ImDrawVert& to = vertex[t[2]];
        const auto found = letters.find({from.uv.x, from.uv.y});
        if (found == letters.end() || to.uv.x != found->second.glyph->U1 || to.uv.y != found->second.glyph->V1) continue;
        reader.take(found->second, from.pos, to.pos, cmd.ClipRect);
    }
}

const ImGuiWindow* find_window(const char* name) { return name == nullptr ? nullptr : ImGui::FindWindowByName(name); }

/// "window/panel_0123ABCD" without what Dear ImGui adds.
std::string short_name(const char* name) {
    std::string text = name == nullptr ? "" : name;
    const std::size_t id = text.rfind('_');
    if (id != std::string::npos && id + 9 == text.size()) text.resize(id);
    const std::size_t slash = text.rfind('/');
    return slash == std::string::npos ? text : text.substr(slash + 1);
}

ImGuiWindow* find_panel(std::string_view panel) {
    for (ImGuiWindow* window : ImGui::GetCurrentContext()->Windows) {
        if (window->Active && short_name(window->Name) == panel) return window;
    }
    return nullptr;
}

/// True when it or what it stands in has more than it shows.
bool is_scrolled(const ImGuiWindow* window) {
    for (; window != nullptr; window = window->ParentWindow) {
        if (window->ScrollMax.y > 0.0F) return true;
        if ((window->Flags & ImGuiWindowFlags_ChildWindow) == 0) return false;
    }
    return false;
}

std::string without_blanks(std::string_view text) {
    std::string plain;
    for (const char c : text) {
        if (c != ' ' && c != '\n') plain += c;
    }
    return plain;
}

std::string say_place(const ScreenWords& w) {
    return fmt::format("\"{}\" in {} at {:.0f},{:.0f} to {:.0f},{:.0f}", w.text, w.panel, w.least.x, w.least.y, w.most.x, w.most.y);
}

bool lies_on(const ScreenWords& a, const ScreenWords& b) {
    constexpr float touch = 1.0F;
    const float left = std::max({a.least.x, b.least.x, a.clip.x, b.clip.x}), right = std::min({a.most.x, b.most.x, a.clip.z, b.clip.z});
    const float top = std::max({a.least.y, b.least.y, a.clip.y, b.clip.y}), bottom = std::min({a.most.y, b.most.y, a.clip.w, b.clip.w});
    return right - left > touch && bottom - top > touch;
}

}  // namespace

std::vector<ScreenWords> read_screen() {
    const Letters letters = list_letters();
    std::vector<ScreenWords> words;
    Reader reader(words);
    const ImDrawData& data = *ImGui::GetDrawData();
    for (int i = 0; i < data.CmdListsCount; ++i) {
        const ImDrawList& list = *data.CmdLists[i];
        const ImGuiWindow* const window = find_window(list._OwnerName);
        reader.start_panel(short_name(list._OwnerName), is_scrolled(window));
        for (const ImDrawCmd& cmd : list.CmdBuffer) read_command(list, cmd, letters, reader);
    }
    return words;
}

bool screen_says(std::string_view sentence) {
    std::string all;
    for (const ScreenWords& words : read_screen()) all += without_blanks(words.text);
    return all.find(without_blanks(sentence)) != std::string::npos;
}

std::vector<std::string> find_text_faults(const ViewState& view) {
    constexpr float hair = 1.0F;  // pixel: letters may lean over their edge by antialiasing
    const std::vector<ScreenWords> words = read_screen();
    std::vector<std::string> faults;
    for (const ScreenWords& w : words) {
        const bool sideways = w.least.x < w.clip.x - hair || w.most.x > w.clip.z + hair;
        const bool upright = w.least.y < w.clip.y - hair || w.most.y > w.clip.w + hair;
        if (sideways || (upright && !w.scrolls)) faults.push_back("cut off: " + say_place(w));
    }
    for (std::size_t i = 0; i < words.size(); ++i) {
        for (std::size_t j = i + 1; j < words.size(); ++j) {
            if (words[i].panel == words[j].panel && lies_on(words[i], words[j]))
                faults.push_back("on each other: " + say_place(words[i]) + " and " + say_place(words[j]));
        }
    }
    for (const auto& [name, place] : view.places) {
        if (place.cut && place.frame == ImGui::GetFrameCount()) faults.push_back("cut off: the control \"" + name + "\"");
    }
    return faults;
}

bool scroll_to_top(std::string_view panel) {
    ImGuiWindow* const window = find_panel(panel);
    if (window == nullptr) return false;
    ImGui::SetScrollY(window, 0.0F);
    return true;
}

bool scroll_on(std::string_view panel) {
    ImGuiWindow* const window = find_panel(panel);
    if (window == nullptr || window->Scroll.y > window->ScrollMax.y - 1.0F) return false;  // it scrolls by whole pixels
    const float step = 0.8F * window->InnerClipRect.GetHeight();
    ImGui::SetScrollY(window, std::min(window->Scroll.y + step, window->ScrollMax.y));
    return true;
}

}  // namespace hitchwright::test
