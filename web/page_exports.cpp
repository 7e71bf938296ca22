// See page_exports.h.
#include "web/page_exports.h"

#include <cstdio>
#include <fstream>
#include <vector>

#include "gui/export.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

/// The forms that are made without Cairo.
std::vector<std::string> list_endings(const ExportKind& kind) {
    std::vector<std::string> endings = kind.endings;
    std::erase_if(endings, [](const std::string& ending) { return ending == ".pdf" || ending == ".png"; });
    return endings;
}

/// A set-up that has no file yet stands in one while this lives: in the working folder, where the names of others in it begin. A file
/// of a person's has no name that begins with a stop (page/files.js).
class DraftFile {
public:
    explicit DraftFile(AppState& app) : app_(app), name_(app.name), drafted_(app.drafted) {
        if (!drafted_) return;
        std::ofstream(file, std::ios::binary) << app.source.text;
        app.name = file;
        app.drafted = false;
    }
    DraftFile(const DraftFile&) = delete;
    DraftFile& operator=(const DraftFile&) = delete;
    ~DraftFile() {
        if (drafted_) static_cast<void>(std::remove(file));  // one that stayed is written over
        app_.name = name_;
        app_.drafted = drafted_;
    }

private:
    static constexpr const char* file = "./.draft.toml";
    AppState& app_;
    std::string name_;
    bool drafted_;
};

RenderResult make(AppState& app) {
    const DraftFile draft(app);
    return make_export(app);
}

}  // namespace

std::string format_exports(const AppState& app) {
    JsonArray kinds;
    JsonObject window;
    for (const ExportKind& kind : export_kinds()) {
        if (kind.command.empty()) window.add("word", kind.word).add("hint", kind.hint).add("file", find_export_stem(app) + "-" + kind.name + ".png");
        const std::vector<std::string> endings = list_endings(kind);
        if (!is_there(app, kind) || endings.empty()) continue;
        JsonObject o;
        o.add("name", kind.name).add("word", kind.word).add("hint", kind.hint);
        o.add("endings", JsonArray(endings.begin(), endings.end()));
        kinds.push_back(o.build());
    }
    JsonObject all;
    all.add("a4", app.view.units == UnitSystem::millimetre).add("answer", find_export_stem(app) + "-answer.txt").add("kinds", std::move(kinds)).add("window", window.build());
    return format_json_value(all.build());
}

std::string make_page_export(AppState& app, const std::string& kind, const std::string& ending, bool a4) {
    ExportQuestion& q = app.view.take;
    q.kind = kind;
    q.ending = ending;
    q.a4 = a4;
    JsonObject o;
    const bool there = chosen_export(app).name == kind && chosen_ending(app) == ending && !chosen_export(app).command.empty();
    const RenderResult made = there ? make(app) : RenderResult{{}, "There is no such file of this set-up."};
    o.add("name", propose_export_name(app)).add("text", made.bytes).add("error", made.error);
    return format_json_value(o.build());
}

}  // namespace hitchwright
