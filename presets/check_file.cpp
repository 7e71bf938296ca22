// One file by kind.
#include "presets/check_file.h"

#include "presets/load_setup.h"
#include "presets/machine_reader.h"
#include "presets/rules_reader.h"
#include "presets/setup_checks.h"
#include "presets/specification_list.h"

namespace hitchwright {
namespace {

template <class T>
std::vector<Problem> check_machine(const PresetText& text) {
    T machine;
    Findings findings;
    read_machine_file(machine, text.text, text.file, text.origin(), {}, findings);
    check_contradictions(machine, {}, findings.notes, findings.problems);
    sort_problems(findings.problems);
    return findings.problems;
}

std::vector<Problem> check_rules(const PresetText& text, const Library& library) {
    std::vector<Problem> problems;
    const LoadedRules general = load_rules(general_rules, library);
    read_rules(general.rules, text.text, text.file, problems);
    return problems;
}

}  // namespace

std::vector<Problem> check_file(const PresetEntry& entry, const Library& library) {
    const PresetText text = library.read(entry);
    std::vector<Problem> problems = text.problems;
    if (!text.ok()) {
        return problems;
    }
    switch (entry.kind) {
        case FileKind::tractor: return check_machine<Tractor>(text);
        case FileKind::implement: return check_machine<Implement>(text);
        case FileKind::driveline: return check_machine<Driveline>(text);
        case FileKind::rules: return check_rules(text, library);
        case FileKind::setup: return load_setup(entry.embedded ? entry.key : entry.file, library).problems;
        case FileKind::specification_list: read_specification_list(text.text, text.file, problems, text.origin()); break;
    }
    return problems;
}

}  // namespace hitchwright
