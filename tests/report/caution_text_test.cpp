// Cautions: each has its sentence, and no report goes without the general ones.
#include "report/caution_text.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

#include "report/cut_report.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/measure_hint.h"
#include "report/sweep_table.h"
#include "sample_analysis.h"

using namespace hitchwright;

namespace {

bool contains(const std::vector<Caution>& list, Caution c) {
    return std::find(list.begin(), list.end(), c) != list.end();
}

/// The text without line breaks and indents, so that a wrapped sentence is found.
std::string flatten(const std::string& text) {
    std::string flat;
    for (const char c : text) {
        const char plain = c == '\n' ? ' ' : c;
        if (plain != ' ' || flat.empty() || flat.back() != ' ') flat += plain;
    }
    return flat;
}

}  // namespace

TEST_CASE("caution: every one has a word of its own and a sentence", "[analytic]") {
    std::set<std::string_view> words, sentences;
    for (int k = 0; k <= static_cast<int>(Caution::safety_chains); ++k) {
        const auto c = static_cast<Caution>(k);
        CAPTURE(k);
        CHECK(contains(all_cautions(), c));
        CHECK(caution_sentence(c).size() > 10);
        CHECK(caution_sentence(c).back() == '.');
        words.insert(caution_word(c));
        sentences.insert(caution_sentence(c));
    }
    CHECK(words.size() == all_cautions().size());
    CHECK(sentences.size() == all_cautions().size());
}

TEST_CASE("caution: the general ones close every fit, the shaft's only where a shaft is in question", "[analytic]") {
    Analysis blade;
    blade.linkage = LinkageAnalysis{};
    for (const Analysis& a : {blade, Analysis{}, sample::tiller_analysis()}) {
        const std::vector<Caution> list = list_closing_cautions(a);
        for (const Caution c : {Caution::stop_before_touching, Caution::nobody_between, Caution::never_under_raised,
                                Caution::manual_rules, Caution::rops_and_belt}) {
            CHECK(contains(list, c));
        }
    }
    CHECK_FALSE(contains(list_closing_cautions(blade), Caution::keep_from_turning_shaft));
    const std::vector<Caution> shaft = list_closing_cautions(sample::tiller_analysis());
    for (const Caution c : {Caution::keep_from_turning_shaft, Caution::guards_complete, Caution::tug_both_ends,
                            Caution::parts_or_breaks, Caution::measure_before_cutting}) {
        CHECK(contains(shaft, c));
    }
}

TEST_CASE("caution: a missing shaft reading still brings the shaft's cautions", "[analytic]") {
    Analysis a;
    Finding f;
    f.kind = FindingKind::missing_reading;
    f.subject = "tractor.pto.stub_x";
    a.findings = {f};
    CHECK(contains(list_closing_cautions(a), Caution::keep_from_turning_shaft));
}

TEST_CASE("caution: all that apply stand in the text of fit, cut and sweep, in colour and without", "[analytic]") {
    const Setup setup = sample::tiller_setup();
    const Analysis analysis = sample::tiller_analysis();
    for (const bool colour : {false, true}) {
        const TextStyle style{UnitSystem::inch, 80, colour};
        const std::string fit = flatten(format_fit_report(setup, analysis, style));
        for (const Caution c : list_closing_cautions(analysis))
            CHECK(fit.find(caution_sentence(c)) != std::string::npos);
        for (const Finding& f : analysis.findings) {
            const std::string text =
                flatten(format_finding(f, make_finding_context(setup, analysis, style.units), style));
            for (const Caution c : f.cautions) CHECK(text.find(caution_sentence(c)) != std::string::npos);
        }
        const std::string cut = flatten(format_cut_report(*make_cut_case(setup, analysis), "", {}, style));
        for (const Caution c : list_cutting_cautions()) CHECK(cut.find(caution_sentence(c)) != std::string::npos);
        const std::string sweep = flatten(format_sweep_table({analysis.linkage->low}, {true, true, false}, style));
        for (const Caution c : list_sweep_cautions(true)) CHECK(sweep.find(caution_sentence(c)) != std::string::npos);
    }
}

TEST_CASE("measure hint: a key gets the words of the one list of fields, whatever the name in brackets", "[analytic]") {
    CHECK(find_measure_hint("tractor.pto.stub_x").find("stub") != std::string::npos);
    CHECK_FALSE(find_measure_hint("tractor.upper_link_pin[top].z").empty());
    CHECK(find_measure_hint("tractor.upper_link_pin[top].z") == find_measure_hint("tractor.upper_link_pin[2].z"));
    CHECK_FALSE(find_measure_hint("driveline.shaft.closed_length").empty());
    CHECK(find_measure_hint("tractor.no_such_key").empty());
    // Of a drawn implement from the points it has, and its own keys.
    CHECK(find_measure_hint("implement.pic.x").find("lower pins") != std::string::npos);
    CHECK(find_measure_hint("implement.pic.x", true).find("hitch pin") != std::string::npos);
    CHECK(find_measure_hint("implement.pic.x", true).find("lower pins") == std::string::npos);
    CHECK(find_measure_hint("tractor.pto.stub_x", true) == find_measure_hint("tractor.pto.stub_x"));
    for (const char* key : {"tractor.drawbar_pin[short].length", "implement.tongue_bar[frame].width", "implement.steady_bearing.x", "choices.ditch_point[1].z"}) {
        CAPTURE(key);
        CHECK_FALSE(find_measure_hint(key, true).empty());
    }
}
