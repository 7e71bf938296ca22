// All fields of a line of a specification list: key, range, usual error, and what it means. Visitors as in
// setup_fields.h; a set-up has them in [[specification]], a list in [[line]].
//
// Dimension and range of a figure are those of the line's `quantity`, which is visited before them. Usual errors of a
// reading: tape 1/16 in, angle finder 0.3 deg, hand gauge 1 psi (docs/references.md, "Measuring"); others state their
// own.
#pragma once

#include "geometry/field_spec.h"
#include "geometry/specification_line.h"

namespace hitchwright {

namespace field {
inline constexpr ChoiceName<Dimension> quantities[] = {
    {"length", Dimension::length},        {"angle", Dimension::angle},
    {"pressure", Dimension::pressure},    {"mass", Dimension::mass},
    {"torque", Dimension::torque},        {"force", Dimension::force},
    {"speed", Dimension::rotation_speed}, {"count", Dimension::count}};
inline constexpr ChoiceName<TurnSense> turn_senses[] = {{"unknown", TurnSense::unknown},
                                                        {"clockwise", TurnSense::clockwise},
                                                        {"counterclockwise", TurnSense::counterclockwise}};
inline constexpr ChoiceName<YesNo> answers[] = {{"unknown", YesNo::unknown}, {"yes", YesNo::yes}, {"no", YesNo::no}};
inline constexpr double psi = 6894.757293168361;

/// A figure of a line: what is possible, and the usual error of a reading of it.
constexpr FieldSpec figure(Dimension quantity, const char* measure) {
    FieldSpec spec{quantity, 0.0, 0.0, 0.0, Need::optional, measure};
    spec.by_quantity = true;
    switch (quantity) {
        case Dimension::angle:
            spec.least = -180 * degree, spec.most = 180 * degree, spec.tolerance = angle_error;
            break;
        case Dimension::pressure:
            spec.least = -1.0e5, spec.most = 1.0e8, spec.tolerance = psi;
            break;
        case Dimension::mass:
            spec.most = 50000.0;
            break;
        case Dimension::torque:
            spec.most = 1.0e5;
            break;
        case Dimension::force:
            spec.most = 1.0e6;
            break;
        case Dimension::rotation_speed:
            spec.most = 1100.0;
            break;
        case Dimension::count:
            spec.most = 10000.0;
            break;
        default:
            spec.least = -10.0, spec.most = 10.0, spec.tolerance = pin_error;
            break;
    }
    return spec;
}
/// The same where `+-` is what is permitted, or means nothing, and none is usual.
constexpr FieldSpec limit_figure(Dimension quantity, const char* measure) {
    FieldSpec spec = figure(quantity, measure);
    spec.tolerance = 0.0;
    return spec;
}
}  // namespace field

/// Hands the text of the figure before it to visitors that keep what was typed; others never hear of it.
template <class V>
void keep_typed(V& visitor, const char* key, std::string& text, Dimension dimension) {
    if constexpr (requires { visitor.keep_typed(key, text, dimension); }) visitor.keep_typed(key, text, dimension);
}

/// Visits all fields of a line.
template <class V>
void visit_line(SpecificationLine& l, V&& v) {
    using namespace field;
    const auto reading = [&](const char* key, Reading& r, std::string& text, const FieldSpec& spec) {
        v.reading(key, r, spec);
        keep_typed(v, key, text, spec.dimension);
    };
    v.text("name", l.name, "what is to be set or checked; each name once");
    v.text("specification", l.specification, "what is asked for in words, beside a figure or in its place");
    const Dimension before = l.quantity;
    v.choice("quantity", l.quantity, quantities, "what kind of figure; not needed where a unit tells");
    // Figures of another kind would be read as what they are not.
    if (l.quantity != before) l.nominal = l.at_least = l.at_most = l.measured = Reading{}, l.typed = TypedFigures{};
    reading("nominal", l.nominal, l.typed.nominal,
            limit_figure(l.quantity, "the figure; `+-` behind it is the permitted deviation"));
    reading("at_least", l.at_least, l.typed.at_least,
            limit_figure(l.quantity, "lower end of the band, itself allowed"));
    reading("at_most", l.at_most, l.typed.at_most, limit_figure(l.quantity, "upper end of the band, itself allowed"));
    reading("measured", l.measured, l.typed.measured,
            figure(l.quantity, "what was measured; `+-` behind it is the error of the reading"));
    v.choice("as_specified", l.as_specified, answers, "of words: whether it was found so; nobody looked: `unknown`");
    v.text("how", l.how, "from where to where it is measured");
    v.text("if_below", l.if_below, "what follows when it is too short, or too little");
    v.text("if_above", l.if_above, "what follows when it is too long, or too much");
    v.text("consequence", l.consequence, "what follows whichever way it is wrong");
    v.text("complaint", l.complaint, "how the user of the machine would complain about it; several with `;` between");
    v.text("adjuster", l.adjuster, "what to turn or to move, and from where it is seen");
    reading("advance_per_turn", l.advance_per_turn, l.typed.advance_per_turn,
            {Dimension::length_per_turn, 0.00005, 0.05, 0, Need::optional,
             "change of the length in one turn of the adjuster"});
    v.choice("lengthens", l.lengthens, turn_senses, "way of turning the adjuster that makes the length greater");
    reading("hole_spacing", l.hole_spacing, l.typed.hole_spacing,
            length(0.001, 1, 0, Need::optional, "of a length that goes by holes: hole to hole"));
    v.flag("stops_work", l.stops_work, "true: out of specification, the machine must not run");
    v.text("source", l.source, "where the figure is from");
    v.choice("grade", l.grade, grades, "how well the figure is known: A to D, or P for common practice");
}

/// Visits the lines of a set-up, or of a list, under `key`.
template <class V>
void visit_lines(const char* key, std::vector<SpecificationLine>& lines, V&& v) {
    v.list(
        key, lines, [](SpecificationLine& line, auto& i) { visit_line(line, i); },
        "lines measured against a specification");
}

}  // namespace hitchwright
