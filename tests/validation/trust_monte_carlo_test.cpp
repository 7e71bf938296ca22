// Error bands of every finding of every built-in set-up against Monte Carlo.
//
// source: none needed; draws of every reading, normal with sigma = half its stated error, the model rebuilt at each. Numbers of
//   a mounted shaft and of rooms: extremes sampled anew (trust_numbers.h). All others: the whole analysis of readings said
//   to be exact. What counts is the middle of the sample that two standard deviations of a normal number hold (95.45 %), not
//   its standard deviation
// tolerance: width 3 % of the band, or three standard errors of the sample's own where these are more (four where few draws are
//   all there are, see below); each end by itself 5 %:
//   first order leaves up to 4 % to a shifted middle, 4000 draws know an end to 1 to 3 %. HITCHWRIGHT_LONG=1 asks for more
//   whole analyses and prints what docs/theory/errors.md has
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "geometry/analysis.h"
#include "geometry/finding_band.h"
#include "presets/load_setup.h"
#include "tests/validation/trust_draws.h"
#include "tests/validation/trust_numbers.h"

using namespace hitchwright;
using namespace validation;

namespace {

constexpr std::uint64_t seed = 20261101;
constexpr double agreement = 0.03, end_agreement = 0.05, standard_errors = 3.0;
/// Of some 400 numbers known from few draws one lies beyond three standard errors by chance: these have four.
constexpr double of_few_draws = 4.0;
/// A sampled number is the finding's own when it is this near to it (m, rad); else the whole analysis is asked.
constexpr double same_number = 1e-4;

/// A finding of a set-up and how far it is off in each draw.
struct Judged {
    Finding finding;
    bool sampled = false;  ///< by trust_numbers.h, else by the whole analysis
    std::vector<double> off;
};

/// What the sampled numbers are of: the value, of an overlap what it has beyond its need.
double find_base(const Finding& f) { return find_common_kind(f.kind) == FindingKind::overlap_at_longest || f.kind == FindingKind::overlap_in_work ? f.margin : f.value; }

/// The margin, turned to the way the value goes: a limit that was read has an error of its own.
double find_turned_margin(const Finding& f, LimitSide side) { return side == LimitSide::at_least ? f.margin : -f.margin; }

/// The finding of another analysis that is about the same thing.
const Finding* find_same(const std::vector<Finding>& findings, const Finding& like) {
    const Finding* same = nullptr;
    for (const Finding& f : findings) {
        if (find_common_kind(f.kind) != find_common_kind(like.kind)) continue;
        // Of the ground the lowest part is named, whichever it is.
        if (f.subject != like.subject && like.kind != FindingKind::ground_clearance) continue;
        if (f.other == like.other) return &f;
        if (same == nullptr) same = &f;
    }
    return same;
}

std::string find_name(const Finding& f) {
    return fmt::format("{} {} {}", finding_word(f.kind), f.subject, f.other);
}

/// Findings with a limit and a band of its own; `skipped` counts those whose band is not by the error model.
std::vector<Judged> list_judged(const Setup& setup, const Analysis& a, std::vector<std::string>& skipped) {
    const std::vector<Number> numbers = setup.implement.attachment == Attachment::mounted ? sample_numbers(setup) : std::vector<Number>{};
    std::vector<Judged> judged;
    for (const Finding& f : a.findings) {
        if (!f.has_limit || !(f.band > 0.0)) continue;
        if (f.error.slopes.empty()) {
            skipped.push_back(find_name(f));
            continue;
        }
        const Number* n = find_number(numbers, f);
        judged.push_back({f, n != nullptr && std::fabs(n->value - find_base(f)) < same_number, {}});
    }
    return judged;
}

void draw_sampled(const Setup& setup, int draws, std::vector<Judged>& judged) {
    std::mt19937_64 random(seed);
    Drawn drawn(setup);
    const std::vector<Number> base = sample_numbers(setup);
    for (int i = 0; i < draws; ++i) {
        const std::vector<Number> numbers = sample_numbers(drawn.draw(random));
        for (Judged& j : judged) {
            if (!j.sampled) continue;
            const Number* n = find_number(numbers, j.finding);
            if (n != nullptr) j.off.push_back(n->value - find_number(base, j.finding)->value);
        }
    }
}

void draw_analyses(const Setup& setup, int draws, std::vector<Judged>& judged) {
    std::mt19937_64 random(seed + 1);
    Drawn drawn(setup, true);
    for (int i = 0; i < draws; ++i) {
        const Analysis a = analyze_alone(drawn.draw(random), millimetre_mark, BandEffort::second_order);
        for (Judged& j : judged) {
            if (j.sampled) continue;
            const Finding* f = find_same(a.findings, j.finding);
            const LimitSide side = find_limit_side(j.finding);
            if (f != nullptr) j.off.push_back(find_turned_margin(*f, side) - find_turned_margin(j.finding, side));
        }
    }
}

/// Farthest disagreements of one set-up, as parts of a band.
struct Worst {
    std::string name;
    double part = 0.0;
    void take(const std::string& n, double p) {
        if (std::fabs(p) > std::fabs(part)) *this = {n, p};
    }
};

struct Summary {
    int sampled = 0, analysed = 0;
    Worst width, end, second_order;
};

/// A difference either way that is nothing as read can only grow; slopes give its errors both signs.
std::vector<double> unfold(std::vector<double> off, const ErrorBand& band) {
    const auto [least, most] = std::minmax_element(off.begin(), off.end());
    if (band.method != BandMethod::first_order || (*most > 1e-9 && *least < -1e-9)) return off;
    for (std::size_t i = 0; i < off.size(); i += 2) off[i] = -off[i];
    return off;
}

/// A band holds the number itself, also where nearly all draws lie to one side of it.
Middle hold_number(Middle m) {
    m.low = std::min(m.low, 0.0);
    m.high = std::max(m.high, 0.0);
    return m;
}

/// `quick`: the findings with bands by second order.
void compare(const std::string& key, const Judged& j, const std::vector<Finding>& quick, Summary& summary) {
    const ErrorBand& band = j.finding.error;
    const Middle m = hold_number(find_middle(unfold(j.off, band)));
    // Of the nearer of two limits, and of a difference allowed either way, only what lies towards the limit is that limit's own.
    // A stop of a turn that moves out of the way leaves the turn to the next one, which has a band of its own.
    constexpr std::array either_way{FindingKind::turn_limit, FindingKind::upper_link_reach, FindingKind::mast_match, FindingKind::span_match, FindingKind::drawbar_length,
                                    FindingKind::drawbar_height, FindingKind::drawbar_drop};
    const bool two_limits = std::find(either_way.begin(), either_way.end(), j.finding.kind) != either_way.end();
    const bool up = find_limit_side(j.finding) == LimitSide::at_least;
    const double half = m.half(), errors = j.sampled ? standard_errors : of_few_draws;
    const std::string name = find_name(j.finding);
    CAPTURE(key, name, j.sampled, j.off.size(), static_cast<int>(band.method), band.width, band.below, band.above, half, m.low, m.high, m.half_error);
    CHECK(j.finding.band == band.width);
    if (!two_limits) CHECK(std::fabs(band.width - half) <= std::max(agreement * half, errors * m.half_error));
    if (!two_limits || up) CHECK(std::fabs(band.below + m.low) <= std::max(end_agreement * half, errors * m.low_error));
    if (!two_limits || !up) CHECK(std::fabs(band.above - m.high) <= std::max(end_agreement * half, errors * m.high_error));
    ++(j.sampled ? summary.sampled : summary.analysed);
    if (two_limits) return;
    summary.width.take(name, (band.width - half) / half);
    summary.end.take(name, (band.below + m.low) / half);
    summary.end.take(name, (band.above - m.high) / half);
    // For answers within a frame: no promise.
    const Finding* rough = find_same(quick, j.finding);
    REQUIRE(rough != nullptr);
    summary.second_order.take(name, (rough->band - half) / half);
    if (is_long_run()) {
        fmt::print("  {:<46} {} {:9.5f} {:9.5f} {:+6.1f} %   below {:+6.1f} %  above {:+6.1f} %  (se {:.1f} %)\n", name,
                   band.method == BandMethod::first_order ? "1" : band.method == BandMethod::second_order ? "2" : "m", band.width, half,
                   100.0 * (band.width / half - 1.0), 100.0 * (band.below + m.low) / half, 100.0 * (band.above - m.high) / half,
                   100.0 * m.half_error / half);
    }
}

}  // namespace

TEST_CASE("trust: bands of all findings of all built-in set-ups against Monte Carlo", "[random][oracle]") {
    const int sampled_draws = 20000, analysed_draws = is_long_run() ? 800 : 260;
    const Library library;
    int compared = 0;
    for (const PresetEntry& entry : library.list(FileKind::setup)) {
        const LoadedSetup loaded = load_setup(entry.key, library);
        REQUIRE(loaded.ok());
        const Analysis a = analyze_alone(loaded.setup, millimetre_mark, BandEffort::draws);
        std::vector<std::string> skipped;
        std::vector<Judged> judged = list_judged(loaded.setup, a, skipped);
        const auto is_sampled = [](const Judged& j) { return j.sampled; };
        if (std::any_of(judged.begin(), judged.end(), is_sampled)) draw_sampled(loaded.setup, sampled_draws, judged);
        if (!std::all_of(judged.begin(), judged.end(), is_sampled)) draw_analyses(loaded.setup, analysed_draws, judged);
        Summary summary;
        if (is_long_run()) fmt::print("{}\n", entry.key);
        const Analysis quick = analyze_alone(loaded.setup, millimetre_mark, BandEffort::second_order);
        for (const Judged& j : judged) {
            // A finding that is not there in every draw (a part that is only named when it is low) has no sample of its own.
            const int draws = j.sampled ? sampled_draws : analysed_draws;
            if (static_cast<int>(j.off.size()) < draws * 95 / 100) {
                fmt::print("{}: not in every draw: {} ({} of {})\n", entry.key, find_name(j.finding), j.off.size(), draws);
                continue;
            }
            compare(entry.key, j, quick.findings, summary);
        }
        compared += summary.sampled + summary.analysed;
        if (is_long_run()) {
            const auto percent = [](const Worst& w) { return fmt::format("{:+.1f} % ({})", 100.0 * w.part, w.name); };
            fmt::print("| {} | {} | {} | {} | {} | {} |\n", entry.key, summary.sampled, summary.analysed, percent(summary.width), percent(summary.end),
                       percent(summary.second_order));
        }
        for (const std::string& name : skipped) fmt::print("{}: not by the error model yet: {}\n", entry.key, name);
    }
    CHECK(compared > 100);
}
