// cut, from a set-up or from numbers.
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/cut_numbers.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "geometry/ways_out.h"
#include "presets/quantity.h"
#include "presets/rules_reader.h"
#include "report/caution_text.h"
#include "report/cut_report.h"
#include "report/finding_text.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

/// What is said about a cut.
struct CutSubject {
    CutCase cut;
    std::string title;
    std::vector<Remedy> ways_out;
};

// One row for a spreadsheet; lengths in the reader's unit.
Record make_record(const CutCase& c, UnitSystem units) {
    const double unit = units == UnitSystem::inch ? metres_per_inch : 1e-3;
    const auto length = [unit](double metres) { return RecordValue(metres / unit); };
    const bool works = c.plan.answer != CutAnswer::no_cut_works;
    const auto when = [&](bool known, double metres) { return known ? length(metres) : RecordValue(); };
    return {{"answer", std::string(cut_answer_word(c.plan.answer))},
            {"unit", std::string(units == UnitSystem::inch ? "in" : "mm")},
            {"cut_tractor_half", when(works, c.plan.recommended.a)},
            {"cut_implement_half", when(works, c.plan.recommended.b)},
            {"equal_least", when(c.plan.equal_possible, c.plan.equal_least)},
            {"equal_most", when(c.plan.equal_possible, c.plan.equal_most)},
            {"closed_length", length(c.plan.uncut.closed_length)},
            {"shortest", length(c.travel.shortest)},
            {"longest", length(c.travel.longest)},
            {"closed_length_after", length(c.plan.after.closed_length)},
            {"gap_after", length(c.plan.after.gap)},
            {"gap_required", length(c.limits.gap_required)},
            {"overlap_after", length(c.plan.after.overlap)},
            {"overlap_needed", length(c.plan.after.overlap_needed)},
            {"closed_at_most", length(c.plan.closed_at_most)},
            {"extended_at_least", length(c.plan.extended_at_least)},
            {"note", c.note.empty() ? RecordValue() : RecordValue(c.note)}};
}

Answer make_answer(const CutSubject& subject, const CommonValues& common, bool colour) {
    const int code = subject.cut.contradicted || is_too_close(subject.cut) ? exit_code::not_decided : find_exit_code(subject.cut.plan.answer);
    switch (common.form) {
        case Form::json:
            return {code, format_cut_json(subject.cut, subject.title, subject.ways_out, common.units)};
        case Form::csv:
            return {code, format_csv({make_record(subject.cut, common.units)})};
        case Form::text:
            break;
    }
    return {code, format_cut_report(subject.cut, subject.title, subject.ways_out, {common.units, page_width, colour})};
}

// No plan for a cut: there is no shaft, or something needed for it is missing or does not close.
Answer make_answer_without_plan(const Setup& setup, const Analysis& analysis, const std::string& title,
                                const CommonValues& common, bool colour) {
    const bool no_shaft = !setup.implement.pic.fitted;
    const int code = no_shaft ? exit_code::fits : exit_code::not_decided;
    const std::string sentence = no_shaft ? "NO SHAFT TO CUT: the implement has no PTO input"
                                          : "NOT KNOWN: no shaft length can be computed from these readings";
    const Record record = {{"answer", std::string(no_shaft ? "no_shaft" : "not_known")}, {"reason", sentence}};
    if (common.form == Form::json) return {code, format_json("cut", record)};
    if (common.form == Form::csv) return {code, format_csv({record})};
    std::string text = fmt::format("{}\n{}.\n", format_paragraph(printable_text(title), page_width, 0, 0), sentence);
    const FindingContext context = make_finding_context(setup, analysis, common.units);
    for (const Finding& finding : analysis.findings) {
        const bool reason = finding.kind == FindingKind::missing_reading ||
                            finding.kind == FindingKind::linkage_cannot_close ||
                            finding.kind == FindingKind::direct_travel || finding.kind == FindingKind::hidden_pins || finding.kind == FindingKind::joint_model;
        if (!no_shaft && reason && finding.severity <= Severity::unknown)
            text.append("\n").append(format_finding(finding, context, {common.units, page_width, colour}));
    }
    if (!no_shaft) {
        text += "\nCautions\n";
        for (const Caution caution : list_cutting_cautions())
            text += format_paragraph(fmt::format("! {}", caution_sentence(caution)), page_width, 2, 4);
    }
    return {code, text};
}

Outcome cut_from_setup(const CommandContext& context, const CommonValues& common) {
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    const Analysis analysis = analyze(setup, common.mark);
    const std::optional<CutCase> cut = make_cut_case(setup, analysis);
    const std::string title = find_title(setup, context.arguments);
    if (!cut) return make_answer_without_plan(setup, analysis, title, common, context.colour);
    CutSubject subject{*cut, title, {}};
    if (is_too_close(*cut) && !cut->contradicted) {
        subject.cut.note =
            "Too close to call: the errors of the readings reach across a limit for the shaft as it is. Before you "
            "cut or run it, measure directly, shaft to shaft, and put in what you read.";
    }
    if (cut->plan.answer == CutAnswer::no_cut_works && analysis.linkage && analysis.shaft)
        subject.ways_out = find_ways_out(setup, *analysis.linkage, *analysis.shaft, common.mark);
    return make_answer(subject, common, context.colour);
}

Outcome cut_from_numbers(const CommandContext& context, const CommonValues& common, OptionReader& reader) {
    const CutNumbers numbers = read_cut_numbers(reader, context.arguments, common.units);
    if (!common.sets.empty())
        reader.add_problem({"--set", "this changes a value of a set-up, and no SETUP was given", {}});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const LoadedRules rules = load_rules(common.rules.empty() ? general_rules : common.rules, context.library);
    if (!rules.ok()) {
        Failure failure;
        failure.code = exit_code::bad_file;
        failure.message = "the rule set cannot be used";
        failure.problems = rules.problems;
        return failure;
    }
    CutSubject subject{make_cut_case(numbers, rules.rules, common.mark), {}, {}};
    subject.cut.note = format_reference_note(numbers);
    return make_answer(subject, common, context.colour);
}

// "--shortest 38 7/8in" without quotes leaves the fraction as a name.
UsageProblem refuse_both(const std::string& name) {
    if (parse_quantity(name, Dimension::length, "in").ok()) {
        return {{},
                fmt::format(
                    "\"{}\" stands alone; a length with a blank in it needs quotes or a dash: \"38 7/8in\" or 38-7/8in",
                    escape_text(name, 80)),
                {}};
    }
    return {{},
            fmt::format("both a SETUP, \"{}\", and lengths were given; either one is allowed", escape_text(name, 80)),
            {}};
}

}  // namespace

Outcome run_cut(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const bool numbers = has_cut_numbers(context.arguments);
    const bool named = !context.arguments.names.empty();
    if (numbers && named) reader.add_problem(refuse_both(context.arguments.name(0)));
    if (!numbers && !named) {
        reader.add_problem({{},
                            "what to cut is missing; allowed: a SETUP, or --closed, --shortest, --longest with the "
                            "two tubes or --overlap",
                            {}});
    }
    if (numbers && !named) return cut_from_numbers(context, common, reader);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    return cut_from_setup(context, common);
}

}  // namespace hitchwright
