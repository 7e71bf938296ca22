#include "gui/changes.h"

#include <algorithm>
#include <map>
#include <optional>

#include "cli/difference_output.h"
#include "geometry/visit_readings.h"
#include "report/fit_report.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 200;

LoadedSetup load_file(const AppState& app, const LoadOptions& options = {}) {
    return app.drafted ? load_setup(app.source, app.library, options) : load_setup(app.name, app.library, options);
}

/// What the window shows other than the file with the edits would give: the file was changed since it was read.
std::vector<std::string> list_unexplained(const AppState& app) {
    const LoadedSetup now = load_file(app, {app.now.edits.sets, app.now.edits.rules});
    if (!now.ok()) return {"The file cannot be read with the changes over it any more."};
    std::vector<std::string> lines;
    for (const ValueDifference& d : compare_values(now.setup, app.now.setup))
        lines.push_back(printable_text(d.key, most_shown) + ": " + describe_value_difference(d, app.view.units));
    return lines;
}

std::vector<std::string> list_edit_keys(const Edits& edits) {
    std::vector<std::string> keys;
    for (const std::string& set : edits.sets) {
        const std::string key(field_of(key_of(set)));
        const bool again = std::find(keys.begin(), keys.end(), key) != keys.end();
        if (!again && (key != "rules" || edits.rules.empty())) keys.push_back(key);
    }
    if (!edits.rules.empty()) keys.emplace_back("rules");
    return keys;
}

/// True when the edit is what changes the value: its own, one below it, or one that came with another machine or rule
/// set.
bool brings(const std::string& edit, const std::string& key) {
    std::string table = edit;
    if (table.ends_with(".use")) table.resize(table.size() - std::string_view(".use").size());
    return key == edit || key.starts_with(table + ".") || key.starts_with(table + "[");
}

std::optional<std::size_t> find_edit(const std::vector<std::string>& edits, const std::string& key) {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < edits.size(); ++i) {
        if (edits[i] == key) return i;
        if (brings(edits[i], key) && (!best || edits[i].size() > edits[*best].size())) best = i;
    }
    return best;
}

std::optional<SetupValue> find_value_of(const std::vector<SetupValue>& values, const std::string& key) {
    const auto found = std::find_if(values.begin(), values.end(), [&](const SetupValue& v) { return v.key == key; });
    return found == values.end() ? std::nullopt : std::optional(*found);
}

/// What each reading is, as the measuring card says it.
std::map<std::string, std::string> list_words(const Setup& setup) {
    const bool drawn = setup.implement.attachment == Attachment::drawn;
    Setup copy = setup;
    std::map<std::string, std::string> words;
    visit_readings(copy, [&](const std::string& key, const Reading&, const FieldSpec& spec) {
        words.emplace(key, spec.measure_for(drawn));
    });
    return words;
}

std::vector<ChangedValue> list_changed_values(const AppState& app, const Setup& file,
                                              const std::vector<ValueDifference>& differences) {
    const UnitSystem units = app.view.units;
    const std::vector<std::string> edits = list_edit_keys(app.now.edits);
    const std::vector<SetupValue> before = list_values(file), now = list_values(app.now.setup);
    const std::map<std::string, std::string> words = list_words(app.now.setup);
    std::vector<ChangedValue> values;
    for (const std::string& key : edits)
        values.push_back({key,
                          words.contains(key) ? words.at(key) : std::string{},
                          describe_value(find_value_of(before, key), units),
                          describe_value(find_value_of(now, key), units),
                          {}});
    for (const ValueDifference& d : differences) {
        const auto edit = find_edit(edits, d.key);
        if (edit && edits[*edit] != d.key)
            values[*edit].with_it.push_back(printable_text(d.key, most_shown) + ": " +
                                            describe_value_difference(d, units));
    }
    return values;
}

}  // namespace

ChangeList list_changes(const AppState& app) {
    ChangeList list;
    LoadedSetup file = load_file(app);
    if (!app.problems.empty() || !file.ok()) {
        list.message = "The file cannot be read as it is now, so that nothing can be compared with it.";
        return list;
    }
    SetupDifference d;
    d.old_judgement = judge(file, app.mark, app.view.units);
    d.new_judgement = {app.results.analysis,
                       format_verdict_sentence(app.now.setup, app.results.analysis, app.view.units)};
    d.values = compare_values(file.setup, app.now.setup);
    d.old_setup = std::move(file.setup);
    d.new_setup = app.now.setup;
    d.findings = compare_findings(d.old_judgement.analysis->findings, d.new_judgement.analysis->findings);
    list.verdict_before = d.old_judgement.sentence;
    list.verdict_now = d.new_judgement.sentence;
    list.values = list_changed_values(app, d.old_setup, d.values);
    list.unexplained = list_unexplained(app);
    std::size_t hidden = 0;
    for (const ShownDifference& shown : list_shown_differences(d, app.view.units, hidden))
        list.findings.push_back(describe_shown_difference(shown));
    return list;
}

const ChangeList& shown_changes(AppState& app) {
    KeptChangeList& kept = app.view.changes;
    if (kept.list == nullptr || kept.revision != app.results.revision || kept.units != app.view.units)
        kept = {app.results.revision, app.view.units, std::make_shared<const ChangeList>(list_changes(app))};
    return *kept.list;
}

std::vector<Problem> take_back(AppState& app, const std::string& key) {
    if (key == "driveline.use") return change_driveline(app, "");
    Edits edits = app.now.edits;
    if (key == "rules") edits.rules.clear();
    edits = without_field(std::move(edits), field_of(key));
    return change_edits(app, std::move(edits));
}

}  // namespace hitchwright
