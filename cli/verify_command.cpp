// presets verify: does every sensible pair of tractor and implement close over the whole travel?
#include <algorithm>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "cli/preset_lookup.h"
#include "cli/records.h"
#include "presets/check_file.h"
#include "presets/load_machine.h"
#include "report/edge_units.h"
#include "report/pairing_text.h"

namespace hitchwright {
namespace {

std::vector<VerifiedPair> verify_pairs(const std::vector<Tractor>& tractors, const std::vector<Implement>& implements) {
    std::vector<VerifiedPair> pairs;
    for (const Tractor& t : tractors) {
        for (const Implement& i : implements) pairs.push_back({t.key, i.key, verify_pairing(t, i)});
    }
    return pairs;
}

/// One record for each combination of holes, one for a pair that is not tried.
std::vector<Record> make_records(const VerifiedPair& p, UnitSystem units, bool inches) {
    const std::string_view link_key = inches ? "upper_link_in" : "upper_link_mm";
    const double per_si = find_edge_unit(Dimension::length, inches ? UnitSystem::inch : UnitSystem::millimetre).per_si;
    const Pairing& pairing = p.check.pairing;
    if (!pairing.sensible()) {
        return {{{"tractor", p.tractor}, {"implement", p.implement}, {"tried", false},
                 {"not_tried", std::string(pairing_obstacle_word(pairing.obstacle))}, {"tractor_pin", {}}, {"mast_pin", {}}, {"lift_rod_hole", {}},
                 {"outcome", {}}, {"closes", {}}, {"link_reaches", {}}, {link_key, {}},
                 {"reason", format_pairing_obstacle(pairing, units)}}};
    }
    std::vector<Record> records;
    for (const HoleCheck& h : p.check.holes) {
        const bool closes = h.outcome == HoleOutcome::closes || h.outcome == HoleOutcome::link_out_of_reach;
        records.push_back({{"tractor", p.tractor}, {"implement", p.implement}, {"tried", true}, {"not_tried", {}},
                           {"tractor_pin", h.tractor_pin}, {"mast_pin", h.mast_pin}, {"lift_rod_hole", h.rod_hole.empty() ? RecordValue() : RecordValue(h.rod_hole)},
                           {"outcome", std::string(hole_outcome_word(h.outcome))}, {"closes", closes},
                           {"link_reaches", h.reach ? RecordValue(h.reach->within) : RecordValue()},
                           {link_key, closes ? RecordValue(h.upper_length * per_si) : RecordValue()},
                           {"reason", format_hole_obstacle(h, units)}});
    }
    return records;
}

/// What does not close weighs more than what is not known.
int find_code(const std::vector<VerifiedPair>& pairs) {
    const auto any = [&](const auto& test) {
        return std::any_of(pairs.begin(), pairs.end(), [&](const VerifiedPair& p) {
            return std::any_of(p.check.holes.begin(), p.check.holes.end(), [&](const HoleCheck& h) { return test(h.outcome); });
        });
    };
    if (any([](HoleOutcome o) { return o == HoleOutcome::does_not_close || o == HoleOutcome::link_out_of_reach; })) {
        return find_exit_code(Verdict::must_not_run);
    }
    return any([](HoleOutcome o) { return o == HoleOutcome::not_known; }) ? exit_code::not_decided : exit_code::fits;
}

std::vector<Problem> check_all_files(const Library& library) {
    std::vector<Problem> problems;
    for (const PresetEntry& entry : list_presets(library, std::nullopt)) {
        for (Problem& problem : check_file(entry, library)) problems.push_back(std::move(problem));
    }
    return problems;
}

}  // namespace

Outcome run_presets_verify(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json, Form::csv});
    const UnitSystem units = reader.units();
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = "a listed file has problems";
    failure.problems = check_all_files(context.library);
    if (!failure.problems.empty()) return failure;
    const auto tractors = load_machines<Tractor>(FileKind::tractor, context.library, failure.problems);
    const auto implements = load_machines<Implement>(FileKind::implement, context.library, failure.problems);
    if (!failure.problems.empty()) return failure;
    const std::vector<VerifiedPair> pairs = verify_pairs(tractors, implements);
    const int code = find_code(pairs);
    if (form == Form::text) return Answer{code, format_pairings(pairs, {units, page_width, context.colour})};
    std::vector<Record> records;
    const bool inches = form == Form::csv && units == UnitSystem::inch;
    for (const VerifiedPair& p : pairs) {
        for (Record& record : make_records(p, units, inches)) records.push_back(std::move(record));
    }
    return Answer{code, form == Form::csv ? format_csv(records) : format_json("pairings", "pairings", records)};
}

}  // namespace hitchwright
