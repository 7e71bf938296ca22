// A file of any kind: tractor, implement, driveline, rule set, specification list, set-up. The word behind `kind =` says
// which; without one the length of the text does, so that files of another kind and of none are read as well.
//
// Every problem has its place; read again the file says the same; what has no problem holds finite numbers only, and a
// machine written out and read back is the same machine.
#include <cmath>
#include <memory>

#include "geometry/visit_readings.h"
#include "presets/field_forms.h"
#include "presets/load_setup.h"
#include "presets/machine_reader.h"
#include "presets/machine_text.h"
#include "presets/rule_fields.h"
#include "presets/rules_reader.h"
#include "presets/setup_checks.h"
#include "presets/setup_values.h"
#include "presets/specification_list.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;

namespace {

const std::string file_name = "file.toml";

FileKind find_kind(std::string_view text) {
    constexpr std::string_view mark = "kind = \"";
    const std::size_t at = text.find(mark);
    if (at != std::string_view::npos) {
        const std::string_view rest = text.substr(at + mark.size());
        if (const auto kind = find_file_kind(rest.substr(0, rest.find('"')))) return *kind;
    }
    return file_kinds[text.size() % file_kinds.size()];
}

void check_problems(const std::vector<Problem>& problems, std::string_view text) {
    // A problem of a file that this one uses is told of that file.
    for (const Problem& problem : problems) fuzz::require_sound(problem, text, problem.file == file_name);
}

void check_setup_readings(Setup setup, std::string_view text) {
    visit_readings(setup, [text](const std::string&, const Reading& r, const FieldSpec& spec) {
        if (!r.known) return;
        require(std::isfinite(r.value) && std::isfinite(r.tolerance) && r.tolerance >= 0.0, "a reading is finite", text);
        require(r.value >= spec.least && r.value <= spec.most, "a reading is in its range", text);
    });
}

Tractor& part_of(Setup& setup, const Tractor&) { return setup.tractor; }
Implement& part_of(Setup& setup, const Implement&) { return setup.implement; }
Driveline& part_of(Setup& setup, const Driveline&) { return setup.driveline; }

template <class T>
Setup make_setup_around(const T& machine) {
    Setup setup;
    setup.has_driveline = std::is_same_v<T, Driveline>;
    part_of(setup, machine) = machine;
    return setup;
}

template <class T>
Findings read_machine(T& machine, std::string_view text) {
    Findings findings;
    read_machine_file(machine, text, file_name, Origin::measured, {}, findings);
    check_contradictions(machine, {}, findings.notes, findings.problems);
    return findings;
}

template <class T>
void check_machine(std::string_view text) {
    T machine, again;
    const Findings findings = read_machine(machine, text);
    check_problems(findings.problems, text);
    require(read_machine(again, text).problems == findings.problems, "read again a file has the same problems", text);
    if (!findings.problems.empty()) return;
    check_setup_readings(make_setup_around(machine), text);
    for (const char* unit : {"in", "mm"}) {
        MachineTextOptions options;
        options.unit = unit;
        const std::string written = format_machine(machine, options);
        T back;
        const Findings read = read_machine(back, written);
        if (!read.problems.empty()) require(false, format_problem(read.problems.front()).c_str(), written);
        require(compare_values(make_setup_around(machine), make_setup_around(back)).empty(), "a machine written and read back is the same", written);
    }
}

/// Looks at the limits of a rule set.
struct LimitLooker {
    std::string_view of;
    void text(const char*, std::string&, const char*) {}
    void limit(const char*, Limit& l, const FieldSpec& spec) {
        if (l.set) require(l.value >= spec.least && l.value <= spec.most, "a limit is in its range", of);
    }
};

void check_rules(std::string_view text, const RuleSet& general) {
    std::vector<Problem> problems, again;
    RuleSet rules = read_rules(general, text, file_name, problems);
    check_problems(problems, text);
    read_rules(general, text, file_name, again);
    require(again == problems, "read again a file has the same problems", text);
    if (problems.empty()) visit_fields(rules, LimitLooker{text});
}

void check_list(std::string_view text) {
    std::vector<Problem> problems, again;
    const SpecificationList list = read_specification_list(text, file_name, problems);
    check_problems(problems, text);
    const SpecificationList second = read_specification_list(text, file_name, again);
    require(again == problems && (!problems.empty() || second == list), "read again a file says the same", text);
}

void check_setup(std::string_view text, const Library& library) {
    PresetText place;
    place.text = text;
    place.file = file_name;
    place.key = "file";
    place.folder = "/nowhere/";
    const LoadedSetup loaded = load_setup(place, library);
    check_problems(loaded.problems, text);
    const LoadedSetup again = load_setup(place, library);
    require(again.problems == loaded.problems, "read again a file has the same problems", text);
    if (!loaded.ok()) return;
    require(compare_values(loaded.setup, again.setup).empty(), "read again it is the same set-up", text);
    check_setup_readings(loaded.setup, text);
}

}  // namespace

HITCHWRIGHT_FUZZ_LINES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Library library{std::string()};
    static const RuleSet general = load_rules(general_rules, library).rules;
    const std::string_view text = fuzz::as_text(data, size);
    if (!fuzz::is_file_text(text)) return -1;
    switch (find_kind(text)) {
        case FileKind::tractor: check_machine<Tractor>(text); break;
        case FileKind::implement: check_machine<Implement>(text); break;
        case FileKind::driveline: check_machine<Driveline>(text); break;
        case FileKind::rules: check_rules(text, general); break;
        case FileKind::setup: check_setup(text, library); break;
        case FileKind::specification_list: check_list(text); break;
    }
    return 0;
}
