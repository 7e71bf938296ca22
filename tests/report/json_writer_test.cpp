// JSON: parses, holds what the analysis holds in mm and deg, and every key is in docs/json.md and nowhere else.
#include "report/json_writer.h"
#include "report/variant_text.h"
#include "report/ditch_report.h"
#include "geometry/setup_lines.h"
#include "report/drawbar_report.h"
#include "report/lines_report.h"
#include "report/trace_report.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"
#include "report/shaft_choice_text.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "report/finding_text.h"
#include "report/fit_report.h"
#include "sample_analysis.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::sample;
using hitchwright::test::check_documented;
using Json = nlohmann::json;

namespace {

std::vector<Remedy> some_ways_out() {
    return {{RemedyKind::order_shaft, 0.7, 1.0, ""}, {RemedyKind::lift_stop, 0.5, 0.0, ""}};
}

}  // namespace

TEST_CASE("json: every key of a fit is documented and every documented key is written", "[analytic]") {
    // A mounted analysis with what only a drawn one has put beside it.
    Analysis a = full_analysis();
    const CutCase cut = *make_cut_case(tiller_setup(), a);
    a.drawn = analyze(hitchwright::test::make_drawn_setup(), millimetre_mark).drawn;
    REQUIRE(a.drawn);
    a.drawn->plan = a.shaft->plan;
    a.findings.front().has_attitude = true;
    const std::vector<ReadingRoom> rooms(1);
    const Setup s = tiller_setup();
    std::vector<VariantAnswer> answers(2);
    answers[0].variant = {VariantKind::coupler, true, "", "hooks", {}};
    answers[1].variant = {VariantKind::mast_pin, false, "1", "2", {}};
    for (VariantAnswer& answer : answers) {
        answer.setup = s;
        answer.analysis = a;
        answer.analysis.findings.clear();
    }
    const VariantStudy variants{s, a, answers};
    check_documented(format_fit_json(s, a, UnitSystem::inch, &rooms, &variants), "hitchwright.fit");
    CHECK(cut.plan == full_analysis().shaft->plan);
}

TEST_CASE("json: every key of lines is documented and every documented key is written", "[analytic]") {
    Setup s;
    SpecificationLine l;
    l.name = "rod";
    l.nominal = make_reading(0.1, Origin::manual, 0.001);
    l.measured = make_reading(0.11, Origin::measured, 0.001);
    l.advance_per_turn = make_reading(0.001);
    l.hole_spacing = make_reading(0.01);
    s.specification = {l};
    SpecificationLine words;
    words.name = "words", words.specification = std::string("so");
    s.specification.push_back(words);
    check_documented(format_lines_json(s, check_lines(s), UnitSystem::inch), "hitchwright.lines");
}

TEST_CASE("json: every key of drawbar and ditch is documented and every documented key is written", "[analytic]") {
    Setup s = hitchwright::test::make_drawn_setup();
    s.choices.drawn.ditch = {hitchwright::test::known(0.4), hitchwright::test::known(0.3), hitchwright::test::known(0.5), {}, {}};
    check_documented(format_drawbar_json(s, study_drawbar(s, millimetre_mark), UnitSystem::inch), "hitchwright.drawbar");
    Analysis a = analyze(s, millimetre_mark);
    for (Finding& f : a.findings) {
        if (f.kind != FindingKind::ditch_crossing) continue;
        f.has_attitude = true;
        f.band = 0.01;
        f.error = uneven_band();
        f.heights = {{0.1, 0.2}};
        f.remedies = some_ways_out();
    }
    REQUIRE((a.drawn && a.drawn->ditch && a.drawn->ditch->study));
    check_documented(format_ditch_json(s, a, UnitSystem::inch), "hitchwright.ditch");
}

TEST_CASE("json: every key of a trace is documented and every documented key is written", "[analytic]") {
    Setup s = hitchwright::test::make_setup_a();
    s.implement.points = {{"tail", hitchwright::test::known(1.4), hitchwright::test::known(-0.1), Reading{}, false}};
    Seen tail, lift, stated;
    tail.kind = SeenKind::tail_height;
    tail.place = SeenPlace::at_height;
    tail.height = 0.4;
    tail.against_setup = true;
    tail.value = 0.08;
    tail.error = usual_seen_error(tail.kind);
    lift.kind = SeenKind::will_not_lift;
    stated.kind = SeenKind::stated;
    stated.words = "clutch drags";
    const TraceStudy study = trace(s, {tail, lift, stated}, {{"clutch drags", "clutch free play", "3/16 in"}});
    REQUIRE(study.next);
    check_documented(format_trace_json(s, study, UnitSystem::inch), "hitchwright.trace");
}

TEST_CASE("json: every key of cut and sweep is documented and every documented key is written", "[analytic]") {
    CutCase c = *make_cut_case(tiller_setup(), full_analysis());
    check_documented(format_cut_json(c, "title", some_ways_out(), UnitSystem::inch), "hitchwright.cut");
    const LinkageAnalysis l = *full_analysis().linkage;
    check_documented(format_sweep_json(tiller_setup(), {l.low, l.high}, {true, true, true}), "hitchwright.sweep");
}

TEST_CASE("json: every key of holes is documented and every documented key is written", "[analytic]") {
    using hitchwright::test::known;
    Setup s = hitchwright::test::make_setup_a();
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(1.000)});
    s.tractor.hitch.category = Category::cat2;
    s.tractor.upper_link = {known(0.5), known(0.75), known(0.008)};
    s.tractor.travel.ball_height_high = known(0.800);
    s.choices.upper_link_length_now = known(0.65);
    s.implement.ground_contacts = {{"wheel", known(1.5), known(0.0), known(0.15)}};
    s.implement.mass.cg_x = known(0.7);
    s.driveline.closed_length = known(0.950);
    const HoleStudy study = study_holes(s, millimetre_mark, HoleWish::most_lift);
    REQUIRE(study.results.size() == 2);
    HoleStudy shown = study;
    Finding& first = shown.results[0].analysis.findings.front();
    first.has_attitude = true;
    first.band = 0.01;
    first.error = uneven_band();
    check_documented(format_holes_json(s, shown, UnitSystem::inch), "hitchwright.holes");
    const Json json = Json::parse(format_holes_json(s, study, UnitSystem::millimetre));
    CHECK(json["combinations"][0]["numbers"]["upper_link"]["length_mm"].get<double>() ==
          Approx(study.results[0].numbers.upper_length * 1e3).margin(1e-9));
    CHECK(json["combinations"][0]["numbers"]["lift"]["least_ratio"].get<double>() ==
          Approx(study.results[0].numbers.lift.worst().value()).margin(1e-9));
    s.implement.attachment = Attachment::drawn;
    const Json none = Json::parse(format_holes_json(s, study_holes(s, millimetre_mark, HoleWish::general), UnitSystem::inch));
    CHECK((none["combinations"].empty() && none.contains("combinations_reason")));
}

TEST_CASE("json: every key of shafts is documented and every documented key is written", "[analytic]") {
    ShaftStudy study;
    ShaftChoice choice;
    choice.key = "shaft-31";
    choice.has_plan = true;
    choice.suits = ShaftSuits::after_cut;
    choice.plan = full_analysis().shaft->plan;
    choice.reasons = full_analysis().findings;
    choice.reasons.front().has_attitude = true;
    study.others = choice.reasons;
    study.choices = {choice};
    study.order = {true, 0.7, 1.0, "shaft-31"};
    check_documented(format_shaft_choices_json(tiller_setup(), study, UnitSystem::inch), "hitchwright.shafts");
    const Json json = Json::parse(format_shaft_choices_json(tiller_setup(), study, UnitSystem::inch));
    CHECK(json["order"]["closed_at_most_mm"].get<double>() == Approx(700.0).margin(1e-9));
    CHECK(json["shafts"][0]["cut_tractor_half_mm"].get<double>() == Approx(88.9).margin(1e-9));
    study.order = {};
    CHECK(Json::parse(format_shaft_choices_json(tiller_setup(), study, UnitSystem::inch))["order"].is_null());
}

TEST_CASE("json: numbers are those of the analysis in mm and deg, whatever the reader's unit", "[analytic]") {
    const Analysis a = full_analysis();
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        const Json json = Json::parse(format_fit_json(tiller_setup(), a, units));
        CHECK(json["verdict"] == "fits_after_change");
        REQUIRE(json["findings"].size() == a.findings.size());
        const Json& gap = json["findings"][0];
        CHECK(gap["unit"] == "mm");
        CHECK(gap["value"].get<double>() == Approx(-50.8).margin(1e-9));
        CHECK(gap["margin"].get<double>() == Approx(-76.2).margin(1e-9));
        CHECK(gap["ball_height_mm"].get<double>() == Approx(203.2).margin(1e-9));
        const Json& joint = json["findings"][2];
        CHECK(joint["unit"] == "deg");
        CHECK(joint["value"].get<double>() == Approx(31.0).margin(1e-9));
        CHECK(joint["remedies"][0]["unit"] == "mm");
        CHECK(joint["remedies"][0]["value"].get<double>() == Approx(24.3 * 25.4).margin(1e-9));
        CHECK(json["cut"]["recommended"]["tractor_half_mm"].get<double>() == Approx(88.9).margin(1e-9));
        CHECK(json["linkage"]["upper_link"]["turns"] == -1.5);
        CHECK(json["shaft"]["travel"]["shortest"]["value_mm"].get<double>() == Approx(29 * 25.4).margin(1e-9));
        CHECK(json["inputs"][0]["origin"] == "measured");
        CHECK(json["text"] == format_verdict_sentence(tiller_setup(), a, units));
    }
}

TEST_CASE("json: numbers read back to 12 digits, without binary dust", "[analytic]") {
    for (const double v : {0.1, 1.0 / 3.0, 736.2547617233193, -4e-9, 1e300}) {
        const double read = Json::parse(format_json_value(JsonObject().number("x", v).build()))["x"].get<double>();
        CHECK(std::fabs(read - v) <= 5e-12 * std::fabs(v));
    }
    CHECK(Json::parse(format_json_value(JsonObject().number("x", -1e-300).build()))["x"].get<double>() == 0.0);
    CHECK(format_json_value(JsonObject().number("x", 25.400000000000002).build()).find("25.4\n") != std::string::npos);
    CHECK(format_json_value(JsonObject().number("x", -0.0).build()).find('-') == std::string::npos);
}

TEST_CASE("json: what is no number is null with a reason", "[analytic]") {
    for (const double v : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
        const Json json = Json::parse(format_json_value(JsonObject().length("gap", v).build()));
        CHECK(json["gap_mm"].is_null());
        CHECK(json["gap_mm_reason"] == "not a finite number");
        CHECK(format_json_value(JsonValue(v)) == "null\n");
    }
    Analysis a = full_analysis();
    for (Finding& f : a.findings) f.value = f.limit = f.margin = f.height = std::nan("");
    a.shaft->travel.turns = false;
    a.linkage->high.non_uniformity = HUGE_VAL;
    const Json json = Json::parse(format_fit_json(tiller_setup(), a, UnitSystem::inch));
    CHECK(json["findings"][0]["value"].is_null());
    CHECK(json["findings"][0]["value_reason"].is_string());
    CHECK(json["shaft"]["travel"]["non_uniformity"].is_null());
    CHECK(json["shaft"]["travel"]["non_uniformity_reason"].is_string());
    CHECK(json["linkage"]["poses"]["highest"]["non_uniformity_reason"].is_string());
}

TEST_CASE("json: parts that were not computed are null with a reason, cautions stay", "[analytic]") {
    const Json json = Json::parse(format_fit_json(tiller_setup(), Analysis{}, UnitSystem::inch));
    for (const char* key : {"linkage", "shaft", "cut"}) {
        CHECK(json[key].is_null());
        CHECK(json[std::string(key) + "_reason"].is_string());
    }
    CHECK(json["verdict"] == "not_known");
    CHECK(json["cautions"].size() >= 5);
}

TEST_CASE("json: every finding, remedy and caution word parses back, none is lost", "[analytic]") {
    Analysis a;
    for (const FindingKind kind : all_finding_kinds()) a.findings.push_back(make_finding(kind, Severity::watch));
    const Json json = Json::parse(format_fit_json(tiller_setup(), a, UnitSystem::millimetre));
    REQUIRE(json["findings"].size() == all_finding_kinds().size());
    for (std::size_t i = 0; i < a.findings.size(); ++i) {
        CHECK(json["findings"][i]["kind"] == std::string(finding_word(a.findings[i].kind)));
        CHECK(json["findings"][i]["remedies"].size() == all_remedy_kinds().size());
        CHECK_FALSE(json["findings"][i]["text"].get<std::string>().empty());
    }
}

TEST_CASE("json: names survive with their characters, the output itself is printable ASCII", "[analytic]") {
    Setup setup = tiller_setup();
    setup.name = "T\xC3\xBC\x1b[31m\"\\\n\xE2\x80\xAE";
    setup.tractor.name = "broken \xFF";
    const std::string text = format_fit_json(setup, full_analysis(), UnitSystem::inch);
    for (const char c : text) REQUIRE((c == '\n' || (c >= 0x20 && c < 0x7F)));
    const Json json = Json::parse(text);
    CHECK(json["setup"]["name"] == setup.name);
    CHECK(json["setup"]["tractor"] == "broken \xEF\xBF\xBD");
}
