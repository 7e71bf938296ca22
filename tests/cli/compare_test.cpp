// compare: against fits of the same set-ups, switches by every way in, verdicts that variants flip, and tractors on other tyres.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "geometry/drawbar_study.h"
#include "geometry/hole_study.h"
#include "geometry/setup_lines.h"
#include "geometry/standing_tractor.h"
#include "geometry/visit_readings.h"
#include "presets/load_setup.h"
#include "presets/variant_sets.h"
#include "report/ditch_report.h"
#include "report/drawbar_report.h"
#include "report/drawn_view.h"
#include "report/envelope_report.h"
#include "report/finding_csv.h"
#include "report/hole_report.h"
#include "report/lines_report.h"
#include "report/load_report.h"
#include "report/mounted_plan_view.h"
#include "report/picture_points.h"
#include "report/side_view.h"
#include "report/side_view_scene.h"
#include "report/sweep_table.h"
#include "report/variant_text.h"
#include "tests/cli/run.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Json parse(std::vector<std::string> args, int code) {
    args.insert(args.end(), {"--format", "json"});
    const Run result = run(args);
    CAPTURE(show(args), result.err);
    REQUIRE(result.code == code);
    return Json::parse(result.out);
}

std::string verdict_of(std::vector<std::string> args) {
    args.insert(args.begin(), "fit");
    args.insert(args.end(), {"--format", "json"});
    return Json::parse(run(args).out).at("verdict");
}

Setup load(const std::string& name, const std::vector<std::string>& sets = {}) {
    const LoadedSetup loaded = load_setup(name, Library(), {sets, ""});
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(format_problem(p));
    REQUIRE(loaded.ok());
    return loaded.setup;
}

const Json* find_variant(const Json& list, const std::string& word) {
    for (const Json& v : list) {
        if (v.at("switch") == word) return &v;
    }
    return nullptr;
}

/// Add-on parts with their measures, switched off, for any demo.
const std::vector<std::string> parts = {"coupler.fitted=false",         "coupler.set_back=6in",      "coupler.hook_height=18in", "coupler.pin_height=18in",
                                        "link_extender.fitted=false",   "link_extender.length=4in",  "overrunning_clutch.fitted=false",
                                        "overrunning_clutch.added_length=3.5in", "spline_extender.fitted=false", "spline_extender.added_length=3in"};

std::vector<std::string> with_sets(std::vector<std::string> args, const std::vector<std::string>& sets) {
    for (const std::string& set : sets) args.insert(args.end(), {"--set", set});
    return args;
}

}  // namespace

TEST_CASE("compare: a set-up and itself have the same findings, every one in the table, code 0", "[cli]") {
    for (const std::string& demo : demo_setups()) {
        CAPTURE(demo);
        const Json json = parse({"compare", demo, demo}, 0);
        const Json fit = Json::parse(run({"fit", demo, "--format", "json"}).out);
        CHECK(json["differs"] == false);
        REQUIRE(json["findings"].size() == fit["findings"].size());
        for (const Json& row : json["findings"]) CHECK(row["change"] == "same");
        const Run text = run({"compare", demo, demo});
        CHECK(text.code == 0);
        CHECK(contains(text.out, "Nothing that decides flips."));
        CHECK(contains(text.out, "Cautions\n"));
        for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
    }
}

TEST_CASE("compare: the table has every finding of both fits, with mark and number", "[cli]") {
    const std::vector<std::string> demos = demo_setups();
    for (std::size_t i = 0; i + 1 < demos.size(); ++i) {
        const std::string &a = demos[i], &b = demos[i + 1];
        CAPTURE(a, b);
        const Json fit_a = Json::parse(run({"fit", a, "--format", "json"}).out), fit_b = Json::parse(run({"fit", b, "--format", "json"}).out);
        const Json json = parse({"compare", a, b}, 1);
        std::size_t in_a = 0, in_b = 0;
        for (const Json& row : json["findings"]) {
            in_a += !row["a"].is_null();
            in_b += !row["b"].is_null();
        }
        CHECK(in_a == fit_a["findings"].size());
        CHECK(in_b == fit_b["findings"].size());
        CHECK(json["a"]["verdict"] == fit_a["verdict"]);
        CHECK(json["b"]["text"] == fit_b["text"]);
        // What diff names is what is not the same here.
        const Json diff = Json::parse(run({"diff", a, b, "--format", "json"}).out);
        const auto other = std::count_if(json["findings"].begin(), json["findings"].end(), [](const Json& r) { return r["change"] != "same"; });
        CHECK(static_cast<std::size_t>(other) == diff["findings"].size());
        const Run csv = run({"compare", a, b, "--format", "csv"});
        CHECK(split_lines(csv.out).size() == json["findings"].size() + 2);
    }
}

TEST_CASE("compare: a switch is the same by --switch and by --set, for every variant of every demo", "[cli][oracle]") {
    for (const std::string& demo : demo_setups()) {
        const Setup setup = load(demo, parts);
        const std::vector<Variant> variants = list_variants(setup);
        CHECK(variants.size() >= 3);
        for (const Variant& v : variants) {
            CAPTURE(demo, format_switch(v));
            std::vector<std::string> sets = parts;
            for (const auto& [key, value] : list_variant_sets(setup, v)) sets.push_back(key + "=" + value);
            // A part that is on gets the usual values of what nobody measured when it is loaded: the answers are compared there.
            const Setup loaded = load(demo, sets), switched = apply_variant(setup, v);
            if (!is_part(v.kind)) {
                CHECK(loaded == switched);
                continue;
            }
            // Bands apart: those values have errors of their own.
            const Analysis a = analyze_alone(loaded, millimetre_mark), b = analyze_alone(switched, millimetre_mark);
            REQUIRE(a.findings.size() == b.findings.size());
            for (std::size_t i = 0; i < a.findings.size(); ++i) {
                CHECK(a.findings[i].kind == b.findings[i].kind);
                CHECK(a.findings[i].subject == b.findings[i].subject);
                CHECK(a.findings[i].value == Approx(b.findings[i].value).epsilon(0).margin(1e-9));
            }
        }
    }
}

TEST_CASE("compare: the verdict of every variant is that of a fit with the switch set", "[cli][oracle]") {
    for (const std::string demo : {"utility-cutter-wrong-hole", "compact-flail-separates", "utility-drawn-cutter-fits"}) {
        const Setup setup = load(demo, parts);
        const Json json = parse(with_sets({"compare", demo}, parts), 1);
        CHECK(json["b"].is_null());
        for (const Json& v : json["variants"]) {
            CAPTURE(demo, v["switch"]);
            std::vector<std::string> sets = parts;
            VariantKind kind{};
            REQUIRE(find_variant_kind(v["what"].get<std::string>(), kind));
            Variant variant{kind, v["fitted"].is_null() ? false : v["fitted"].get<bool>(), v["from"].get<std::string>(), v["to"].get<std::string>(), {}};
            for (const auto& [key, value] : list_variant_sets(setup, variant)) sets.push_back(key + "=" + value);
            CHECK(v["verdict"] == verdict_of(with_sets({demo}, sets)));
            CHECK(v["changes_verdict"] == (v["verdict"] != v["verdict_before"]));
        }
    }
}

// No built-in tractor lists several holes for its lift rods: that kind flips in tests/geometry/variant_test.cpp only.
TEST_CASE("compare: variants flip the verdict of demos, each kind that they have at least once", "[cli]") {
    struct Flip {
        std::string demo;
        std::vector<std::string> sets;
        std::string word, from, to;
    };
    const std::vector<Flip> flips = {
        {"compact-tiller-bottoms-out", parts, "coupler", "fits_after_change", "fits"},
        {"compact-tiller-bottoms-out", parts, "link_extender", "fits_after_change", "fits"},
        {"utility-cutter-fits", parts, "overrunning_clutch", "fits", "fits_after_change"},
        {"utility-cutter-fits", parts, "spline_extender", "fits", "fits_after_change"},
        {"utility-cutter-fits", {}, "tyres=narrow", "fits", "fits_after_change"},
        {"utility-flail-no-cut", {}, "tyres=narrow", "must_not_run", "fits_after_change"},
        {"compact-tiller-bottoms-out", {}, "tyres=turf", "fits_after_change", "must_not_run"},
        {"utility-cutter-wrong-hole", {}, "upper_link_pin=2", "must_not_run", "fits"},
        {"utility-cutter-wrong-hole", {}, "mast_pin=2", "must_not_run", "too_close_to_call"},
        {"utility-auger-separates", {}, "drawbar_pin=middle", "must_not_run", "fits"},
        {"compact-flail-separates", {}, "driveline=shaft-28", "must_not_run", "fits"},
    };
    for (const Flip& f : flips) {
        CAPTURE(f.demo, f.word);
        const Json json = parse(with_sets({"compare", f.demo}, f.sets), 1);
        const Json* v = find_variant(json["variants"], f.word);
        REQUIRE(v != nullptr);
        CHECK((*v)["verdict_before"] == f.from);
        CHECK((*v)["verdict"] == f.to);
        CHECK_FALSE((*v)["flips"].empty());
        const Run text = run(with_sets({"compare", f.demo}, f.sets));
        CHECK(contains(text.out, f.word));
    }
}

TEST_CASE("compare: several switches make one other set-up", "[cli]") {
    const std::string demo = "utility-cutter-fits";
    const Json json = parse(with_sets({"compare", demo, "--switch", "coupler", "--switch", "upper_link_pin=3"}, parts), 1);
    std::vector<std::string> sets = parts;
    sets.insert(sets.end(), {"coupler.fitted=true", "choices.upper_link_pin=3"});
    CHECK(json["b"]["verdict"] == verdict_of(with_sets({demo}, sets)));
    CHECK(json["variants"].is_null());
}

TEST_CASE("compare: another shaft by name is that of driveline.use, uncut", "[cli]") {
    const std::string demo = "compact-tiller-bottoms-out";
    const Json json = parse({"compare", demo, "--switch", "driveline=shaft-28"}, 1);
    CHECK(json["b"]["verdict"] == verdict_of({demo, "--set", "driveline.use=shaft-28"}));
    const Json listed = parse({"compare", demo}, 1);
    REQUIRE(find_variant(listed["variants"], "driveline=shaft-28") != nullptr);
    CHECK((*find_variant(listed["variants"], "driveline=shaft-28"))["verdict"] == json["b"]["verdict"]);
    CHECK(find_variant(listed["variants"], "driveline=shaft-31") == nullptr);
}

TEST_CASE("compare: wrong words are named all at once, with what is allowed", "[cli]") {
    const Run wrong = run({"compare", "utility-cutter-fits", "--switch", "wheels", "--switch", "coupler=on", "--switch", "upper_link_pin=9", "--switch", "mast_pin"});
    CHECK(wrong.code == 2);
    const std::string err = unwrap(wrong.err);
    CHECK(contains(err, "\"wheels\": no such switch"));
    CHECK(contains(err, "\"coupler=on\""));
    CHECK(contains(err, "\"upper_link_pin=9\""));
    CHECK(contains(err, "\"mast_pin\": it wants a name behind ="));
    CHECK(contains(err, "allowed here: "));
    CHECK(contains(err, "driveline=NAME"));
    CHECK(run({"compare", "utility-cutter-fits", "utility-cutter-fits", "--switch", "coupler"}).code == 2);
    CHECK(run({"compare"}).code == 2);
    CHECK(run({"compare", "no-such-setup"}).code == 3);
    CHECK(run({"compare", "utility-cutter-fits", "no-such-setup"}).code == 3);
    CHECK(run({"compare", "utility-cutter-fits", "--switch", "driveline=no-such-shaft"}).code == 3);
    CHECK(contains(unwrap(run(with_sets({"compare", "utility-cutter-fits", "--switch", "coupler", "--switch", "coupler"}, parts)).err), "switched twice"));
}

TEST_CASE("compare: every key of both answers is documented and every documented key is written", "[cli]") {
    Json two = parse({"compare", "utility-cutter-wrong-hole", "utility-cutter-fits"}, 1);
    const Json one = parse(with_sets({"compare", "utility-cutter-fits"}, parts), 1);
    two["variants"] = one["variants"];
    check_documented(two.dump(), "hitchwright.compare");
}

TEST_CASE("fit --variants: the variants of its own files, the rest as without", "[cli]") {
    for (const std::string demo : {"utility-cutter-fits", "utility-drawn-cutter-short", "compact-box-blade"}) {
        const Json plain = Json::parse(run({"fit", demo, "--format", "json"}).out);
        Json with = Json::parse(run({"fit", demo, "--variants", "--format", "json"}).out);
        CHECK(plain["variants"].is_null());
        const Json listed = Json::parse(run({"compare", demo, "--format", "json"}).out);
        std::size_t own = 0;
        for (const Json& v : listed["variants"]) {
            if (v["what"] == "driveline") continue;
            REQUIRE(own < with["variants"].size());
            CHECK(with["variants"][own++] == v);
        }
        CHECK(own == with["variants"].size());
        with["variants"] = nullptr;
        CHECK(with == plain);
        const Run text = run({"fit", demo, "--variants"});
        CHECK(contains(text.out, "Before and after: what one switch changes"));
        for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
    }
    CHECK(run({"fit", "utility-cutter-fits", "--variants", "--format", "csv"}).code == 2);
}

TEST_CASE("other tyres: a name that is not listed is a problem of the file", "[cli]") {
    const Run wrong = run({"fit", "utility-cutter-fits", "--set", "choices.tyre_set=wide"});
    CHECK(wrong.code == 3);
    CHECK(contains(unwrap(wrong.err), "the tractor has no tyres of that name"));
    const Run none = run({"fit", "sub-compact-cutter-front-light", "--set", "choices.tyre_set=wide"});
    CHECK(none.code == 3);
    const Run far = run({"fit", "utility-cutter-fits", "--set", "tractor.tyre_set[+tall].rear_radius=1500mm", "--set", "tractor.tyre_set[tall].front_radius=60mm", "--set",
                         "tractor.mass.wheelbase=1400mm"});
    CHECK(far.code == 3);
    CHECK(contains(unwrap(far.err), "no tractor stands on these"));
}

// Every answer of the program for a chosen set is that of the same set-up measured on it: nothing reads the tractor past the
// place where it is put on its tyres. Without errors, which a set-up measured anew has of its own.
TEST_CASE("other tyres: every answer follows, to the letter", "[cli][metamorphic]") {
    for (const std::string& demo : demo_setups()) {
        const std::vector<std::string> sets = {"tractor.tyre_set[+test].rear_radius=700mm", "tractor.tyre_set[test].front_radius=400mm",
                                               "tractor.tyre_set[test].rear_width=520mm",   "tractor.tyre_set[test].rear_track=1700mm",
                                               "choices.tyre_set=test"};
        Setup chosen = load(demo, sets);
        visit_readings(chosen, [](const std::string&, Reading& r, const FieldSpec&) { r.tolerance = 0.0; });
        chosen.choices.lift_stop = chosen.choices.lower_stop = Reading{};  // these are said to want setting again
        const Setup standing = stand_on_tyres(chosen);
        CAPTURE(demo);
        CHECK(standing.choices.tyre_set.empty());
        Analysis a = analyze(chosen, millimetre_mark), b = analyze(standing, millimetre_mark);
        std::erase_if(a.findings, [](const Finding& f) { return f.kind == FindingKind::other_tyres; });
        const UnitSystem mm = UnitSystem::millimetre;
        const TextStyle style{mm, 80, false};
        CHECK(format_finding_csv(chosen, a, mm) == format_finding_csv(standing, b, mm));
        CHECK(format_lines_csv(check_lines(chosen), mm) == format_lines_csv(check_lines(standing), mm));
        if (chosen.implement.attachment == Attachment::drawn) {
            REQUIRE(a.drawn);
            REQUIRE(b.drawn);
            const Attitude turned{0.05, 0.02, 0.4};
            CHECK((draw_plan_view(chosen, *a.drawn, turned, mm) == draw_plan_view(standing, *b.drawn, turned, mm)));
            CHECK((draw_drawn_side_view(chosen, *a.drawn, turned, mm) == draw_drawn_side_view(standing, *b.drawn, turned, mm)));
            CHECK(a.drawn->ditch.has_value() == b.drawn->ditch.has_value());
            if (a.drawn->ditch && b.drawn->ditch) CHECK(format_ditch_report(chosen, a, style) == format_ditch_report(standing, b, style));
            CHECK(format_drawbar_report(chosen, study_drawbar(chosen, millimetre_mark), style) ==
                  format_drawbar_report(standing, study_drawbar(standing, millimetre_mark), style));
            continue;
        }
        const SweepContents contents = find_sweep_contents(chosen);
        CHECK(format_sweep_csv(sweep_travel(chosen, 9), contents, mm) == format_sweep_csv(sweep_travel(standing, 9), contents, mm));
        CHECK(format_hole_csv(chosen, study_holes(chosen, millimetre_mark, HoleWish::general), mm) ==
              format_hole_csv(standing, study_holes(standing, millimetre_mark, HoleWish::general), mm));
        if (!a.linkage) continue;
        CHECK(format_load_csv(make_load_answer(chosen, a, 5), mm) == format_load_csv(make_load_answer(standing, b, 5), mm));
        for (const double height : {0.3, 0.6}) {
            CHECK((draw_side_view(make_pose_scene(chosen, a, height, mm)) == draw_side_view(make_pose_scene(standing, b, height, mm))));
            CHECK((draw_mounted_plan(chosen, a, height, mm).drawing == draw_mounted_plan(standing, b, height, mm).drawing));
            const std::vector<PicturePoint> p = list_side_points(chosen, a, height), q = list_side_points(standing, b, height);
            REQUIRE(p.size() == q.size());
            for (std::size_t i = 0; i < p.size(); ++i) {
                CHECK(p[i].name == q[i].name);
                CHECK(std::hypot(p[i].at.x - q[i].at.x, p[i].at.z - q[i].at.z) < 1e-9);
            }
        }
    }
}
