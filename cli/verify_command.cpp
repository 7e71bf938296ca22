// presets verify: does every sensible pair of tractor and implement close over the whole travel?
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "cli/preset_lookup.h"
#include "cli/records.h"
#include "geometry/pairing.h"
#include "presets/check_file.h"
#include "presets/load_machine.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

struct VerifiedPair {
    std::string tractor, implement;
    PairingCheck check;
};

std::vector<VerifiedPair> verify_pairs(const std::vector<Tractor>& tractors, const std::vector<Implement>& implements) {
    std::vector<VerifiedPair> pairs;
    for (const Tractor& t : tractors) {
        for (const Implement& i : implements) {
            if (find_pairing_obstacle(t, i) != PairingObstacle::none) continue;
            for (PairingCheck& check : check_pairing(t, i)) pairs.push_back({t.key, i.key, std::move(check)});
        }
    }
    return pairs;
}

Record make_record(const VerifiedPair& p) {
    const PairingCheck& c = p.check;
    return {{"tractor", p.tractor}, {"implement", p.implement}, {"tractor_pin", c.tractor_pin}, {"mast_pin", c.mast_pin},
            {"closes", c.closes}, {"link_reaches", c.link_reaches},
            {"upper_link_mm", c.closes ? RecordValue(c.upper_length * 1e3) : RecordValue()},
            {"part", c.part}, {"ball_height_mm", c.height > 0.0 ? RecordValue(c.height * 1e3) : RecordValue()}};
}

std::string format_pairs(const std::vector<VerifiedPair>& pairs) {
    std::string text, last;
    int closing = 0, reaching = 0;
    for (const VerifiedPair& p : pairs) {
        closing += p.check.closes ? 1 : 0;
        reaching += p.check.closes && p.check.link_reaches ? 1 : 0;
        const std::string pair = p.tractor + " and " + p.implement;
        if (pair != last) text += printable_text(pair, 76) + "\n";
        last = pair;
        const std::string what = !p.check.closes ? fmt::format("does not close: {}", printable_text(p.check.part))
                                 : !p.check.link_reaches ? "closes; the tractor's upper link does not reach"
                                                         : "closes over the whole travel";
        text += fmt::format("  hole {}, mast hole {}: {}\n", printable_text(p.check.tractor_pin, 16), printable_text(p.check.mast_pin, 16), what);
    }
    return text + fmt::format("{} of {} combinations close over the whole travel; in {} the tractor's own link reaches.\n",
                              closing, pairs.size(), reaching);
}

}  // namespace

Outcome run_presets_verify(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = "a listed file has problems";
    for (const PresetEntry& entry : list_presets(context.library, std::nullopt)) {
        const std::vector<Problem> problems = check_file(entry, context.library);
        failure.problems.insert(failure.problems.end(), problems.begin(), problems.end());
    }
    if (!failure.problems.empty()) return failure;
    const std::vector<VerifiedPair> pairs = verify_pairs(load_machines<Tractor>(FileKind::tractor, context.library, failure.problems),
                                                         load_machines<Implement>(FileKind::implement, context.library, failure.problems));
    bool all = true;
    std::vector<Record> records;
    for (const VerifiedPair& p : pairs) {
        all = all && p.check.closes;
        records.push_back(make_record(p));
    }
    const int code = all ? exit_code::fits : find_exit_code(Verdict::must_not_run);
    if (form == Form::csv) return Answer{code, format_csv(records)};
    if (form == Form::json) return Answer{code, format_json("pairings", "pairings", records)};
    return Answer{code, format_pairs(pairs)};
}

}  // namespace hitchwright
