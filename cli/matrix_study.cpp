// See matrix_study.h.
#include "cli/matrix_study.h"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "cli/common_sets.h"
#include "geometry/drawbar_study.h"
#include "geometry/hole_study.h"
#include "geometry/pairing.h"
#include "presets/content_digest.h"
#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/pairing_text.h"

namespace hitchwright {
namespace {

bool is_drawn(const Implement& implement) { return implement.attachment == Attachment::drawn; }

/// Behind the last driveline stands the pair without one.
bool has_shaft(const MatrixInputs& inputs, const Combination& c) { return c.driveline && *c.driveline < inputs.drivelines.read.size(); }

std::string make_digest(const MatrixInputs& inputs, const Combination& c) {
    ContentDigest digest;
    for (const std::string& text : inputs.digests) digest.add(text);
    const auto& t = inputs.tractors.read[c.tractor];
    const auto& i = inputs.implements.read[c.implement];
    digest.add(t.use).add(t.text).add(i.use).add(i.text).add(c.driveline ? "tried" : not_tried_word);
    if (has_shaft(inputs, c)) digest.add(inputs.drivelines.read[*c.driveline].use).add(inputs.drivelines.read[*c.driveline].text);
    return digest.text();
}

/// Takes away what the SETUP says of machines that are not in the combination.
class Taker {
public:
    explicit Taker(const Setup& own) : own_(own) {}

    void take_of_tractor() {
        for (const char* key : {"choices.upper_link_pin", "choices.lift_rod_hole", "choices.drawbar_pin", "choices.tyre_set", "choices.left_lift_rod_length",
                                "choices.right_lift_rod_length", "choices.left_check_chain_length", "choices.right_check_chain_length"})
            take(key);
    }
    void take_of_implement() { take("choices.mast_pin"); }
    void take_of_pair() {
        take("choices.upper_link_length");
        take("choices.upper_link_length_now");
        take_items("pose_reading", own_.pose_readings);
    }
    void take_of_driveline() {
        take("choices.cut_tractor_half");
        take("choices.cut_implement_half");
    }
    void take_of_any() {
        take_items("direct_reading", own_.direct_readings);
        take_items("turn_reading", own_.turn_readings);
    }
    std::vector<std::string> sets;

private:
    void take(const std::string& key) { sets.push_back(key + "="); }
    /// From the back, where taking one away does not change the number of another.
    template <class List>
    void take_items(const std::string& list, const List& items) {
        for (std::size_t i = items.size(); i-- > 0;) take(fmt::format("{}[{}]", list, items[i].name.empty() ? std::to_string(i + 1) : items[i].name));
    }
    const Setup& own_;
};

std::vector<std::string> list_sets(const MatrixInputs& inputs, const std::string& tractor, const std::string& implement, const std::string& driveline) {
    std::vector<std::string> sets;
    if (inputs.own) {
        Taker taker(*inputs.own);
        if (!tractor.empty()) taker.take_of_tractor();
        if (!implement.empty()) taker.take_of_implement();
        if (!tractor.empty() || !implement.empty()) taker.take_of_pair();
        if (!driveline.empty()) taker.take_of_driveline();
        if (!tractor.empty() || !implement.empty() || !driveline.empty()) taker.take_of_any();
        sets = std::move(taker.sets);
    }
    if (!tractor.empty()) sets.push_back("tractor.use=" + tractor);
    if (!implement.empty()) sets.push_back("implement.use=" + implement);
    if (!driveline.empty()) sets.push_back("driveline.use=" + driveline);
    // What is set of a shaft is not about a pair without one.
    const bool shaft = driveline != "none";
    std::copy_if(inputs.common.sets.begin(), inputs.common.sets.end(), std::back_inserter(sets), [&](const std::string& set) { return shaft || !is_set_of(set, "driveline"); });
    return sets;
}

/// The two machines as --set leaves them. Where it does not serve them the rows of the pair say so, each for itself.
struct Pair {
    Tractor tractor;
    Implement implement;
    bool readable = true;
};

Pair load_pair(const MatrixInputs& inputs, const Combination& c, const Library& library) {
    const auto& tractor = inputs.tractors.read[c.tractor];
    const auto& implement = inputs.implements.read[c.implement];
    const bool changed = std::any_of(inputs.common.sets.begin(), inputs.common.sets.end(), [](const std::string& set) { return is_set_of(set, "tractor") || is_set_of(set, "implement"); });
    if (!changed) return {tractor.machine, implement.machine};
    LoadedSetup loaded = load_setup(inputs.base, library, {list_sets(inputs, tractor.use, implement.use, "none"), inputs.common.rules});
    if (!loaded.ok()) return {tractor.machine, implement.machine, false};
    return {std::move(loaded.setup.tractor), std::move(loaded.setup.implement)};
}

/// A drawn implement goes on the drawbar: what speaks against a mounted pair is not asked of it.
Pairing check_pair(const Pair& pair) { return is_drawn(pair.implement) ? Pairing{} : check_pairing(pair.tractor, pair.implement); }

bool serves(const std::string& wanted, const std::string& name) { return wanted.empty() || wanted == name; }

/// The set-up with the holes that the study puts first among those that are not chosen otherwise.
Setup choose_best_holes(const Setup& setup, const Mark& mark) {
    const Choices& c = setup.choices;
    std::size_t open = 0;
    for (const HoleCombination& h : list_hole_combinations(setup)) {
        const bool rod = setup.tractor.lift_rod_holes.empty() || serves(c.lift_rod_hole, setup.tractor.lift_rod_holes[h.rod_hole].name);
        open += rod && serves(c.upper_link_pin, setup.tractor.upper_link_pins[h.tractor_pin].name) && serves(c.mast_pin, setup.implement.mast_pins[h.mast_pin].name) ? 1U : 0U;
    }
    if (open < 2) return setup;
    for (const HoleResult& r : study_holes(setup, mark, HoleWish::general).results) {
        if (serves(c.upper_link_pin, r.numbers.tractor_pin) && serves(c.mast_pin, r.numbers.mast_pin) && serves(c.lift_rod_hole, r.numbers.rod_hole))
            return choose_holes(setup, r.numbers.holes);
    }
    return setup;
}

Setup choose_best(const Setup& setup, const Mark& mark) {
    if (!is_drawn(setup.implement)) return choose_best_holes(setup, mark);
    Setup chosen = setup;
    if (!setup.choices.drawn.drawbar_pin.empty() || setup.tractor.drawbar_pins.size() < 2) return chosen;
    const DrawbarStudy study = study_drawbar(setup, mark);
    if (!study.pins.empty()) chosen.choices.drawn.drawbar_pin = study.pins.front().name;
    return chosen;
}

void judge(PairRow& row, const Setup& setup, const CommonValues& common) {
    const Analysis analysis = analyze(setup, common.mark);
    row.answer = std::string(verdict_word(analysis.verdict));
    if (!analysis.findings.empty()) {
        const Finding& worst = analysis.findings.front();
        row.decided_by = std::string(finding_word(worst.kind));
        row.text = describe_finding(worst, make_finding_context(setup, analysis, common.units)).headline;
    }
    row.steps = list_steps(setup, analysis, common.units);
    for (const Caution caution : list_closing_cautions(analysis)) row.cautions += fmt::format("{}{}", row.cautions.empty() ? "" : " ", caution_word(caution));
    row.numbers = find_fit_numbers(setup, analysis);
    // A cut in a column of its own would be read as one that makes it fit.
    if (analysis.verdict == Verdict::must_not_run || analysis.verdict == Verdict::too_close_to_call) row.numbers.cut_tractor_half = row.numbers.cut_implement_half = std::nullopt;
    round_for_rows(row.numbers);
}

void say_problems(PairRow& row, const std::vector<Problem>& problems) {
    row.answer = std::string(not_read_word);
    if (problems.empty()) return;
    row.text = format_problem(problems.front());
    std::replace(row.text.begin(), row.text.end(), '\n', ' ');
    if (problems.size() > 1) row.text += fmt::format(" (and {} more)", problems.size() - 1);
}

}  // namespace

std::size_t count_combinations(const MatrixInputs& inputs) {
    return inputs.tractors.read.size() * inputs.implements.read.size() * std::max<std::size_t>(inputs.drivelines.read.size(), 1);
}

std::vector<Combination> list_combinations(const MatrixInputs& inputs, const Library& library) {
    std::vector<Combination> list;
    const auto add = [&](Combination c) {
        c.inputs = make_digest(inputs, c);
        list.push_back(std::move(c));
    };
    for (std::size_t t = 0; t < inputs.tractors.read.size(); ++t) {
        for (std::size_t i = 0; i < inputs.implements.read.size(); ++i) {
            Combination c{t, i, std::nullopt, {}};
            const Pair pair = load_pair(inputs, c, library);
            if (!inputs.all && pair.readable && !check_pair(pair).sensible()) {
                add(c);
                continue;
            }
            // Without a PTO input there is one row, and no shaft in it.
            const bool shaft = pair.implement.pic.fitted && !inputs.drivelines.read.empty();
            const std::size_t count = shaft ? inputs.drivelines.read.size() : 1;
            for (std::size_t d = 0; d < count; ++d) {
                c.driveline = shaft ? d : inputs.drivelines.read.size();
                add(c);
            }
        }
    }
    return list;
}

LoadedSetup load_combination(const MatrixInputs& inputs, const Combination& c, const Library& library) {
    const auto& tractor = inputs.tractors.read[c.tractor];
    const auto& implement = inputs.implements.read[c.implement];
    const std::string driveline = has_shaft(inputs, c) ? inputs.drivelines.read[*c.driveline].use : "none";
    LoadOptions options{list_sets(inputs, tractor.use, implement.use, driveline), inputs.common.rules};
    if (!inputs.own && options.rules.empty() && find_set_value(inputs.common, "rules").empty() && is_drawn(implement.machine)) options.rules = "drawn-machine";
    return load_setup(inputs.base, library, options);
}

PairRow make_pair_row(const MatrixInputs& inputs, const Combination& c, const Library& library) {
    PairRow row;
    row.tractor = inputs.tractors.read[c.tractor].label;
    row.implement = inputs.implements.read[c.implement].label;
    row.inputs = c.inputs;
    if (!c.driveline) {
        const Pairing pairing = check_pair(load_pair(inputs, c, library));
        row.answer = std::string(not_tried_word);
        row.decided_by = std::string(pairing_obstacle_word(pairing.obstacle));
        row.text = format_pairing_obstacle(pairing, inputs.common.units);
        return row;
    }
    if (has_shaft(inputs, c)) row.driveline = inputs.drivelines.read[*c.driveline].label;
    const LoadedSetup loaded = load_combination(inputs, c, library);
    if (loaded.ok()) judge(row, choose_best(loaded.setup, inputs.common.mark), inputs.common);
    else say_problems(row, loaded.problems);
    return row;
}

std::vector<PairRow> list_unread_rows(const MatrixInputs& inputs) {
    std::vector<PairRow> rows;
    const auto add = [&](const std::vector<UnreadMachine>& unread, std::string PairRow::* place) {
        for (const UnreadMachine& u : unread) {
            PairRow row;
            row.*place = u.label;
            say_problems(row, u.problems);
            rows.push_back(std::move(row));
        }
    };
    add(inputs.tractors.unread, &PairRow::tractor);
    add(inputs.implements.unread, &PairRow::implement);
    add(inputs.drivelines.unread, &PairRow::driveline);
    return rows;
}

}  // namespace hitchwright
