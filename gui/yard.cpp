#include "gui/yard.h"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "cli/judgement.h"
#include "cli/preset_copy.h"
#include "geometry/hole_study.h"
#include "geometry/pairing.h"
#include "gui/app_state.h"
#include "gui/open_setup.h"
#include "presets/defaults.h"
#include "presets/load_machine.h"
#include "presets/machine_text.h"
#include "presets/setup_draft.h"
#include "presets/setup_values.h"
#include "report/pairing_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_title = 80, most_key = 60;

std::vector<YardMachine> list_machines(const Library& library, FileKind kind) {
    std::vector<YardMachine> machines;
    for (const PresetEntry& entry : library.list(kind)) {
        if (entry.hidden) continue;
        const std::string title = peek_name(library.read(entry).text);
        machines.push_back({entry.key, title.empty() ? entry.key : escape_text(title, most_title), !entry.embedded});
    }
    std::stable_sort(machines.begin(), machines.end(),
                     [](const YardMachine& a, const YardMachine& b) { return a.own && !b.own; });
    return machines;
}

/// Loads the machine of that key; problems go into the words.
template <class T>
std::optional<T> find_machine(const Library& library, FileKind kind, const std::string& key,
                              std::vector<std::string>& words) {
    const auto entry = library.find(kind, key);
    if (!entry) {
        words.push_back(fmt::format("There is no {} of the name {} any more.", file_kind_name(kind), escape_text(key)));
        return std::nullopt;
    }
    LoadedMachine<T> loaded = load_machine<T>(*entry, library);
    for (const Problem& problem : loaded.problems) words.push_back(format_problem(problem));
    return loaded.ok() ? std::optional(std::move(loaded.machine)) : std::nullopt;
}

/// Is the pair worth trying, and in how many holes does it close.
void say_pairing(const Tractor& tractor, const Implement& implement, UnitSystem units,
                 std::vector<std::string>& words) {
    if (implement.attachment == Attachment::drawn) return;
    const PairingCheck check = verify_pairing(tractor, implement);
    if (!check.pairing.sensible()) {
        words.push_back("Not worth trying: " + format_pairing_obstacle(check.pairing, units) + ".");
        return;
    }
    const auto closes = [](const HoleCheck& h) { return h.outcome == HoleOutcome::closes; };
    const auto closing = static_cast<std::size_t>(std::count_if(check.holes.begin(), check.holes.end(), closes));
    words.push_back(fmt::format("The linkage closes in {} of {} of holes over the whole travel.", closing,
                                format_count(check.holes.size(), "combination")));
    for (const HoleCheck& h : check.holes) {
        if (!closes(h))
            words.push_back(fmt::format("Hole {} with mast hole {}: {}.", printable_text(h.tractor_pin, 16),
                                        printable_text(h.mast_pin, 16), format_hole_obstacle(h, units)));
    }
}

/// The holes that stand first, as answers of the draft.
void choose_best_holes(SetupDraft& draft, const Setup& setup, const Mark& mark, std::vector<std::string>& words) {
    if (setup.implement.attachment == Attachment::drawn) {
        if (!setup.tractor.drawbar_pins.empty())
            draft.answers["choices.drawbar_pin"] = setup.tractor.drawbar_pins.front().name;
        return;
    }
    const HoleStudy study = study_holes(setup, mark, HoleWish::general);
    if (study.results.empty()) return;
    const Choices chosen = choose_holes(setup, study.results.front().numbers.holes).choices;
    draft.answers["choices.upper_link_pin"] = chosen.upper_link_pin;
    draft.answers["choices.mast_pin"] = chosen.mast_pin;
    if (!chosen.lift_rod_hole.empty()) draft.answers["choices.lift_rod_hole"] = chosen.lift_rod_hole;
    words.push_back(fmt::format("Taken: hole {} on the tractor with hole {} on the mast, the first of {} by rank.",
                                printable_text(chosen.upper_link_pin, 16), printable_text(chosen.mast_pin, 16),
                                study.results.size()));
}

std::string title_of(const Tractor& tractor, const Implement& implement) {
    const auto name = [](const auto& machine) { return machine.name.empty() ? machine.key : machine.name; };
    return fmt::format("{} with {}", name(implement), name(tractor));
}

/// The machine of a set-up, by kind.
template <class F>
auto with_machine(const Setup& setup, FileKind kind, const F& use) {
    switch (kind) {
        case FileKind::implement:
            return use(setup.implement);
        case FileKind::driveline:
            return use(setup.driveline);
        default:
            return use(setup.tractor);
    }
}

std::string folder_of(const AppState& app, FileKind kind) {
    const std::string& root = app.library.user_folder();
    return root.empty() ? root : (fs::path(root) / file_kind_folders(kind).front()).string();
}

std::string refuse_key(const std::string& key) {
    const auto fine = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '_'; };
    if (key.empty() || key.size() > most_key || !std::all_of(key.begin(), key.end(), fine))
        return fmt::format("\"{}\": the name of a machine has small letters, digits, - and _ only.",
                           escape_text(key, most_key));
    return key == "none" || key == "measured" ? "This word means that there is none; take another name."
                                              : std::string{};
}

/// Values that are only assumed are filled in again by the reader.
std::function<bool(const std::string&)> leave_defaults_out(const AppState& app, std::string prefix) {
    const LoadOptions options{app.now.edits.sets, app.now.edits.rules};
    const LoadedSetup loaded =
        app.drafted ? load_setup(app.source, app.library, options) : load_setup(app.name, app.library, options);
    return [notes = loaded.notes, prefix = std::move(prefix)](const std::string& key) {
        const auto found = notes.find(prefix + key);
        return found != notes.end() && found->second.by_default;
    };
}

/// What the machine is not, when it is used from the yard in place of the set-up's own; empty: the same.
std::string check_same(const AppState& app, FileKind kind, const std::string& text) {
    const std::string table(file_kind_word(kind));
    Setup used = app.now.setup;
    // The text as a file of its own, by the reader that will read it.
    EmbeddedFile file{"tractors/yard.toml", text};
    const std::string below = std::string(file_kind_folders(kind).front()) + "/yard.toml";
    file.path = below;
    const Library library({}, {&file, 1});
    const PresetEntry entry{kind, "yard", std::string(embedded_mark) + below, below, true, false};
    std::vector<Problem> problems;
    const auto load = [&](auto& machine) {
        auto loaded = load_machine<std::decay_t<decltype(machine)>>(entry, library);
        problems = std::move(loaded.problems);
        loaded.machine.key = machine.key;
        machine = std::move(loaded.machine);
    };
    if (kind == FileKind::tractor)
        load(used.tractor);
    else if (kind == FileKind::implement)
        load(used.implement);
    else
        load(used.driveline);
    if (!problems.empty()) return format_problem(problems.front());
    FieldNotes notes;
    fill_defaults(used, notes);
    for (const ValueDifference& d : compare_values(app.now.setup, used)) {
        const bool computed = d.old_value && d.old_value->reading && d.old_value->reading->origin == Origin::computed;
        // A built-in file gives its values as examples; one's own says so value by value.
        const bool name = d.key == table + ".name" || d.key == table + ".note";
        if (!computed && !name) return d.key;
    }
    return {};
}

}  // namespace

YardLists list_yard(const Library& library) {
    return {list_machines(library, FileKind::tractor), list_machines(library, FileKind::implement),
            list_machines(library, FileKind::driveline)};
}

YardAnswer try_pairing(const Library& library, const YardChoice& choice, const Mark& mark, UnitSystem units) {
    YardAnswer answer;
    const auto tractor = find_machine<Tractor>(library, FileKind::tractor, choice.tractor, answer.words);
    const auto implement = find_machine<Implement>(library, FileKind::implement, choice.implement, answer.words);
    if (!tractor || !implement) return answer;
    say_pairing(*tractor, *implement, units, answer.words);
    SetupDraft draft;
    draft.unit = units == UnitSystem::inch ? "in" : "mm";
    draft.name = answer.title = title_of(*tractor, *implement);
    draft.tractor = choice.tractor;
    draft.implement = choice.implement;
    draft.driveline = choice.driveline;
    draft.with_pto = implement->pic.fitted;
    draft.with_driveline = !choice.driveline.empty();
    draft.drawn = implement->attachment == Attachment::drawn;
    LoadedSetup loaded = load_setup_draft(draft, library, {});
    if (loaded.ok()) {
        choose_best_holes(draft, loaded.setup, mark, answer.words);
        loaded = load_setup_draft(draft, library, {});
    }
    for (const Problem& problem : loaded.problems) answer.words.push_back(format_problem(problem));
    if (!loaded.ok()) return answer;
    answer.verdict = judge(loaded, mark, units).sentence;
    answer.text = format_setup_draft(draft);
    return answer;
}

void open_pairing(AppState& app, const YardAnswer& answer) { ask_to_open_text(app, answer.text, answer.title); }

std::string propose_yard_key(const AppState& app, FileKind kind) {
    std::string key = with_machine(app.now.setup, kind, [](const auto& machine) { return machine.key; });
    if (!refuse_key(key).empty()) key = "my-" + std::string(file_kind_word(kind));
    std::string free = key;
    for (int i = 2; app.library.find(kind, free) && i < 1000; ++i) free = fmt::format("{}-{}", key, i);
    return free;
}

std::string put_into_yard(AppState& app, FileKind kind, const std::string& key) {
    if (std::string wrong = refuse_key(key); !wrong.empty()) return wrong;
    const std::string folder = folder_of(app, kind);
    if (folder.empty())
        return "There is no folder of your own for machines, since neither HOME nor HITCHWRIGHT_PRESETS is set.";
    if (kind == FileKind::driveline && !app.now.setup.has_driveline) return "This set-up has no shaft.";
    const auto taken = app.library.find(kind, key);
    if (taken && taken->embedded)
        return fmt::format("A built-in {} has the name \"{}\": yours would take its place in every set-up. Take another name.",
                           file_kind_name(kind), key);
    MachineTextOptions options;
    options.unit = app.view.units == UnitSystem::inch ? "in" : "mm";
    options.left_out = leave_defaults_out(app, std::string(file_kind_word(kind)) + ".");
    const std::string text =
        with_machine(app.now.setup, kind, [&](const auto& machine) { return format_machine(machine, options); });
    if (const std::string other = check_same(app, kind, text); !other.empty())
        return "Not put there: as a file of its own it would not be the same machine (" + escape_text(other, 200) +
               ").";
    std::error_code error;
    fs::create_directories(folder, error);
    const std::string path = (fs::path(folder) / (key + ".toml")).string();
    const std::string failed = write_new_file(path, text, "take another name");
    if (!failed.empty()) return "Not put there: " + failed + ".";
    app.view.yard.lists.reset();
    if (kind == FileKind::driveline) list_choices(app);
    app.view.yard.message = fmt::format("Put into the yard: {}", escape_text(path, 300));
    return {};
}

}  // namespace hitchwright
