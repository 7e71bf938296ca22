// Draws taken on demand give the judgements of draws taken in any case, on inputs where second order alone would not.
#include <catch2/catch.hpp>

#include <algorithm>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "geometry/analysis.h"
#include "presets/library.h"
#include "presets/load_setup.h"

using namespace hitchwright;

namespace {

constexpr Mark mark = millimetre_mark;

Setup load_with(const std::string& name, const std::vector<std::string>& sets) {
    LoadOptions options;
    options.sets = sets;
    LoadedSetup loaded = load_setup(name, Library(), options);
    REQUIRE(loaded.ok());
    return loaded.setup;
}

/// What each finding comes to, and the verdict.
std::vector<std::string> list_judgements(const Analysis& a) {
    std::vector<std::string> all{std::string(verdict_word(a.verdict))};
    for (const Finding& f : a.findings) {
        std::string line = std::string(finding_word(f.kind)) + " " + f.subject + " " + f.other + " " + std::to_string(static_cast<int>(f.severity));
        for (const Remedy& r : f.remedies) {
            const bool height = r.kind == RemedyKind::pto_off_above || r.kind == RemedyKind::lift_stop || r.kind == RemedyKind::lower_stop;
            if (height) line += " " + std::to_string(r.value);
        }
        all.push_back(std::move(line));
    }
    std::sort(all.begin() + 1, all.end());
    return all;
}

void check_judgements(const std::string& name, const std::vector<std::string>& sets) {
    const Setup s = load_with(name, sets);
    CAPTURE(name, sets);
    CHECK(list_judgements(analyze_alone(s, mark, BandEffort::draws_where_close)) == list_judgements(analyze_alone(s, mark, BandEffort::draws)));
}

using Figures = std::vector<std::tuple<std::string, int, double, double, double>>;

Figures list_figures(const std::vector<NextReading>& next) {
    Figures figures;
    for (const NextReading& n : next) figures.emplace_back(n.key + n.point, static_cast<int>(n.kind), n.ball_height + n.turn, n.band_now, n.band_after);
    return figures;
}

Figures list_figures(const std::optional<SpaceStudy>& space) {
    if (!space || !space->levelling) return {};
    const Levelling& l = *space->levelling;
    return {{l.measured_at, l.after_turn.has_value(), l.difference.value(), l.band.width, l.measured_width}};
}

}  // namespace

TEST_CASE("effort: a joint near its stop over the travel is judged as by draws", "[metamorphic]") {
    for (const char* slope : {"6.59", "6.7", "6.8", "6.88"}) check_judgements("compact-flail-angle", {std::string("tractor.pto.stub_slope=") + slope + " deg"});
}

TEST_CASE("effort: a joint near its limit in work, a point near the cab, a cut that hardly works, as by draws", "[metamorphic]") {
    check_judgements("compact-flail-angle", {"choices.working_band_low=30 in", "choices.working_band_high=32.9 in", "tractor.pto.stub_slope=18 deg",
                                             "implement.pic.slope=6.95 deg"});
    for (const char* top : {"1476", "1478", "1480"}) {
        check_judgements("compact-flail-angle", {"tractor.cab_line[roll bar foot].x=1402 mm", std::string("tractor.cab_line[roll bar top].x=") + top + " mm"});
    }
    check_judgements("compact-tiller-bottoms-out", {"driveline.shaft.longest_usable=", "driveline.shaft.tractor_tube=248.037 mm",
                                                    "driveline.shaft.implement_tube=248.037 mm"});
}

TEST_CASE("effort: the built-in set-ups as by draws", "[metamorphic]") {
    for (const char* name : {"compact-box-blade", "compact-flail-angle", "utility-cutter-fits", "utility-cutter-wrong-hole", "utility-drawn-cutter-short"})
        check_judgements(name, {});
}

TEST_CASE("effort: a lift known at the balls with a wide error has its part in the band", "[metamorphic]") {
    const Setup s = load_with("utility-cutter-fits", {"tractor.lift_test.mast_height=19 in", "tractor.mass.lift_at_balls=1820 lbf +- 400 lbf"});
    const Analysis a = analyze_alone(s, mark, BandEffort::second_order);
    const auto lift = std::find_if(a.findings.begin(), a.findings.end(), [](const Finding& f) { return f.kind == FindingKind::lift_capacity; });
    REQUIRE(lift != a.findings.end());
    const auto& widest = lift->error;
    CHECK((widest.widest.reading == "tractor.mass.lift_at_balls" || widest.second.reading == "tractor.mass.lift_at_balls"));
}

TEST_CASE("effort: two threads give the answer of one", "[metamorphic]") {
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        const Setup s = load_with(entry.key, {});
        const Analysis one = analyze(s, mark), two = analyze(s, mark, BandEffort::draws_where_close, 2);
        CAPTURE(entry.key);
        CHECK(one.verdict == two.verdict);
        CHECK(one.findings == two.findings);
        CHECK(one.evaluations == two.evaluations);
        CHECK(one.decided_by == two.decided_by);
        CHECK(list_figures(one.next) == list_figures(two.next));
        CHECK(list_figures(one.space) == list_figures(two.space));
        CHECK(one.drawn.has_value() == two.drawn.has_value());
        if (!one.drawn || !one.drawn->ditch || !one.drawn->ditch->study) continue;
        const DitchStudy &a = *one.drawn->ditch->study, &b = *two.drawn->ditch->study;
        CHECK(a.passes == b.passes);
        CHECK(a.depth.value == b.depth.value);
        CHECK(a.angle.value == b.angle.value);
        CHECK(std::tuple(a.depth.any, a.depth.monotone, a.angle.any, a.angle.monotone) ==
              std::tuple(b.depth.any, b.depth.monotone, b.angle.any, b.angle.monotone));
        CHECK(one.drawn->ditch->pins_that_pass == two.drawn->ditch->pins_that_pass);
    }
}
