#include "presets/setup_draft.h"

#include <fmt/format.h>

#include "geometry/setup_fields.h"
#include "presets/setup_draft_text.h"

namespace hitchwright {
namespace {

using Answers = std::map<std::string, std::string>;

/// Takes answered kinds, names and counts over into a set-up.
class SpecimenFiller {
public:
    SpecimenFiller(const Answers& answers, std::string key) : answers_(answers), key_(std::move(key)) {}

    void reading(const char* key, Reading& r, const FieldSpec&) {
        if (!find(key).empty()) r.known = true;
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& value, const ChoiceName<E> (&names)[N], const char*) {
        for (const ChoiceName<E>& name : names) {
            if (find(key) == name.word) value = name.value;
        }
    }
    void text(const char*, std::string&, const char*) {}
    void whole(const char*, int&, int, int, const char*) {}
    void whole_list(const char*, std::vector<int>&, int, int, const char*) {}
    void flag(const char*, bool&, const char*) {}
    template <class F>
    void table(const char* key, F&& visit_members) {
        SpecimenFiller inner(answers_, key_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char*) {
        const std::size_t typed = count_draft_items(answers_, key_ + key);
        if (typed == 0) return;
        items.assign(typed, T{});
        for (std::size_t i = 0; i < typed; ++i) {
            SpecimenFiller inner(answers_, fmt::format("{}{}[{}].", key_, key, i + 1));
            visit_item(items[i], inner);
        }
    }

private:
    std::string find(const char* key) const { return find_draft_answer(answers_, key_ + key); }

    const Answers& answers_;
    std::string key_;
};

}  // namespace

LoadedSetup load_setup_draft(const SetupDraft& draft, const Library& library, const std::string& folder) {
    PresetText text;
    text.text = format_setup_draft(draft);
    text.file = "new";
    text.folder = folder;
    return load_setup(text, library);
}

bool has_driven_implement(const SetupDraft& draft, const Library& library, const std::string& folder) {
    if (draft.implement.empty()) return draft.with_pto;
    // Without a table of the draft's own, which would give it an input whatever it is.
    SetupDraft bare = draft;
    bare.with_pto = bare.with_driveline = false;
    bare.answers.clear();
    return load_setup_draft(bare, library, folder).setup.implement.pic.fitted;
}

bool has_drawn_implement(const SetupDraft& draft, const Library& library, const std::string& folder) {
    if (draft.implement.empty()) return draft.drawn;
    return load_setup_draft(draft, library, folder).setup.implement.attachment == Attachment::drawn;
}

bool needs_pin_chosen(const SetupDraft& draft, const Library& library, const std::string& folder) {
    return draft.drawn && load_setup_draft(draft, library, folder).setup.tractor.drawbar_pins.size() > 1;
}

void set_attachment(SetupDraft& draft, bool drawn) {
    draft.drawn = drawn;
    draft.answers["implement.attachment"] = drawn ? "drawn" : "mounted";
}

Setup make_draft_specimen(const SetupDraft& draft, const LoadedSetup& loaded) {
    Setup setup = loaded.setup;
    setup.implement.pic.fitted = draft.with_pto;
    setup.has_driveline = draft.with_driveline;
    // What stands in the file of its own is filled in from the answers, items that are not complete included.
    if (draft.tractor.empty()) setup.tractor = Tractor{};
    if (draft.implement.empty()) {
        setup.implement = Implement{};
        setup.implement.pic.fitted = draft.with_pto;
    }
    if (draft.driveline.empty()) setup.driveline = Driveline{};
    if (draft.implement.empty()) setup.implement.drawn.steady_bearing.fitted = draft.with_steady_bearing;
    setup.choices = Choices{};
    // Something about a ditch makes the rest of it asked for as needed.
    setup.choices.drawn.ditch.crossing_angle.known = draft.with_ditch;
    visit_fields(setup.tractor, SpecimenFiller(draft.answers, "tractor."));
    visit_fields(setup.implement, SpecimenFiller(draft.answers, "implement."));
    visit_fields(setup.driveline, SpecimenFiller(draft.answers, "driveline."));
    visit_fields(setup.choices, SpecimenFiller(draft.answers, "choices."));
    setup.direct_readings.clear();
    setup.pose_readings.clear();
    setup.turn_readings.clear();
    visit_setup_own(setup.job, setup.direct_readings, setup.pose_readings, setup.turn_readings, SpecimenFiller(draft.answers, {}));
    return setup;
}

}  // namespace hitchwright
