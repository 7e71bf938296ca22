// See variant_text.h.
#include "report/variant_text.h"

#include <fmt/format.h>

#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_name = 24;

std::string name_of(const std::string& name) { return printable_text(name, most_name); }

/// "the coupler hooks", "the coupler".
std::string say_part(std::string_view what, const std::string& name) {
    return fmt::format("the {}{}", what, name.empty() ? "" : " (" + name_of(name) + ")");
}

std::string_view part_words(VariantKind kind) {
    switch (kind) {
        case VariantKind::link_extender: return "link extender";
        case VariantKind::coupler: return "coupler";
        case VariantKind::overrunning_clutch: return "overrunning clutch";
        default: return "spline extender";
    }
}

/// What is left, or by how much it lacks.
std::string say_left(double v, const SafeWords& w) { return v < 0.0 ? w.need(-v) + " short" : w.have(v); }

/// Changes of figures, those alone that the words tell apart.
class FigureWords {
public:
    explicit FigureWords(UnitSystem units) : words{units} {}

    template <class Say>
    void add(const char* what, const std::optional<double>& before, const std::optional<double>& after, const Say& say) {
        if (!before && !after) return;
        const std::string was = before ? say(*before) : "not computed", is = after ? say(*after) : "not computed";
        if (was != is) text += fmt::format("{}{} {} -> {}", text.empty() ? "" : ", ", what, was, is);
    }

    void shaft(const std::optional<ShaftFigures>& before, const std::optional<ShaftFigures>& after) {
        const auto take = [](const std::optional<ShaftFigures>& f, auto member) {
            return f ? std::optional<double>((*f).*member) : std::nullopt;
        };
        const auto left = [](const std::optional<ShaftFigures>& f, auto member) { return f ? (*f).*member : std::nullopt; };
        const auto room = [this](double v) { return say_left(v, words); };
        const auto angle = [](double v) { return format_angle(v, Rounding::up); };
        add("gap", left(before, &ShaftFigures::gap), left(after, &ShaftFigures::gap), room);
        add("overlap", left(before, &ShaftFigures::overlap), left(after, &ShaftFigures::overlap), room);
        add("joint in work", take(before, &ShaftFigures::angle_in_work), take(after, &ShaftFigures::angle_in_work), angle);
        add("joint over the travel", take(before, &ShaftFigures::angle_over_travel), take(after, &ShaftFigures::angle_over_travel), angle);
    }

    std::string text;
    SafeWords words;
};

std::string say_what_flips(const std::vector<FindingDifference>& flips, const FindingContext& before, const FindingContext& after,
                           std::size_t most) {
    std::string text;
    for (std::size_t i = 0; i < flips.size() && i < most; ++i) text += say_flip(flips[i], before, after) + ". ";
    if (flips.size() > most) text += fmt::format("And {} more.", flips.size() - most);
    if (!text.empty() && text.back() == ' ') text.pop_back();
    return text;
}

void add_variant(AnswerBuilder& out, const VariantStudy& s, const VariantAnswer& a, std::size_t most_flips) {
    const UnitSystem units = out.style().units;
    const FindingContext before = make_finding_context(s.setup, s.analysis, units), after = make_finding_context(a.setup, a.analysis, units);
    const std::vector<FindingDifference> flips = find_flips(s.analysis.findings, a.analysis.findings);
    out.gap();
    AnswerBlock& head = out.item(printable_text(format_switch(a.variant), 40) + "  ",
                                 fmt::format("{}: {}", say_variant(a.variant), say_verdict_change(s.analysis.verdict, a.analysis.verdict)), 2, 4);
    head.key = format_switch(a.variant);
    const std::string flipped = say_what_flips(flips, before, after, most_flips);
    out.words(flipped.empty() ? "Nothing flips." : flipped, 4, 4);
    const std::string figures = say_figure_changes(summarize(s.analysis), summarize(a.analysis), units);
    if (!figures.empty()) out.words("Numbers: " + figures + ".", 4, 4);
    const std::string terms = say_variant_terms(s.setup, a.variant);
    if (!terms.empty()) out.words(terms, 4, 4);
}

}  // namespace

std::string say_variant(const Variant& v) {
    if (is_part(v.kind)) return (v.fitted ? "with " : "without ") + say_part(part_words(v.kind), v.to);
    const std::string to = name_of(v.to);
    switch (v.kind) {
        case VariantKind::tyres: return v.to.empty() ? "on the tyres it was measured on" : "on tyres " + to;
        case VariantKind::upper_link_pin: return "the upper link in hole " + to + " of the tractor";
        case VariantKind::lift_rod_hole: return "the lift rods in hole " + to;
        case VariantKind::mast_pin: return "the upper link in mast hole " + to;
        case VariantKind::drawbar_pin: return "the drawbar's pin in position " + to;
        default: return "with shaft " + to;
    }
}

std::string say_verdict_change(Verdict before, Verdict after) {
    const std::string_view was = verdict_headline(before), is = verdict_headline(after);
    return before == after ? fmt::format("{}, as before", is) : fmt::format("{} -> {}", was, is);
}

std::string say_variant_terms(const Setup& setup, const Variant& v) {
    std::string text;
    if (sets_link_anew(setup, v)) text = "The upper link is set anew for the working pitch.";
    if (v.kind != VariantKind::driveline && setup.implement.attachment == Attachment::mounted && setup.choices.upper_link_length.known)
        text = "The upper link stays at the length typed; set anew it may do.";
    if (drops_distances(setup, v)) text += std::string(text.empty() ? "" : " ") + "Distances taped on the machine as it is do not count here.";
    if (v.kind == VariantKind::driveline) text += std::string(text.empty() ? "" : " ") + "The shaft as it comes, uncut.";
    return text;
}

std::string say_figure_changes(const PartFigures& before, const PartFigures& after, UnitSystem units) {
    FigureWords f(units);
    const auto place = [&f](double v) { return f.words.place(v); };
    f.shaft(before.shaft, after.shaft);
    f.add("upper link", before.upper_link_length, after.upper_link_length, place);
    f.add("balls raised to", before.height_at_top, after.height_at_top, place);
    f.add("pitch at the top", before.pitch_at_top, after.pitch_at_top, [](double v) { return format_angle(v); });
    if (before.upper_link_length && after.upper_link_length)
        f.add("lift at the balls, of that with the own links", before.lift_share, after.lift_share, [](double v) { return format_percent(v, Rounding::down); });
    return f.text;
}

std::string say_flip(const FindingDifference& d, const FindingContext& before, const FindingContext& after) {
    if (d.new_finding == nullptr) return fmt::format("No longer {}: {}", finding_mark(*d.old_finding), describe_finding(*d.old_finding, before).headline);
    const std::string was = d.old_finding ? fmt::format("was {}", finding_mark(*d.old_finding)) : std::string("new");
    return fmt::format("{} ({}): {}", finding_mark(*d.new_finding), was, describe_finding(*d.new_finding, after).headline);
}

void add_variants(AnswerBuilder& out, const VariantStudy& study, std::size_t most_flips) {
    out.heading("Before and after: what one switch changes");
    if (study.answers.empty()) {
        out.words("Nothing to switch: no add-on part with its measures, no other tyres, holes or positions are in these files.", 2, 2);
        return;
    }
    for (const VariantAnswer& a : study.answers) add_variant(out, study, a, most_flips);
}

}  // namespace hitchwright
