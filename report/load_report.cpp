// See load_report.h.
#include "report/load_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/load_findings.h"
#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/finding_sentences.h"
#include "report/fit_report.h"
#include "report/load_words.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr Caution cautions[] = {Caution::weigh_before_relying, Caution::never_under_raised, Caution::nobody_between,
                                Caution::rops_and_belt, Caution::manual_rules};

std::string say_load(const LiftStudy& l, const Setup& s, const SafeWords& w) {
    if (!l.mass_known) return "What the implement weighs is not known.";
    std::string text =
        fmt::format("Implement {} ({})", format_mass(l.mass, w.units), origin_word(s.implement.mass.mass.origin));
    if (l.point == LoadPoint::behind_610) return text + "; where its centre of gravity lies is not known.";
    text += fmt::format(", centre of gravity {} behind the balls", w.place(l.load_at.x()));
    text += l.point == LoadPoint::centre_of_gravity ? fmt::format(" and {} {} them.", w.place(std::fabs(l.load_at.y())),
                                                                  l.load_at.y() < 0.0 ? "below" : "above")
                                                    : ", its height taken level with them.";
    if (l.coupler_mass > 0.0) text += fmt::format(" Coupler {}, counted.", format_mass(l.coupler_mass, w.units));
    if (l.coupler_mass_missing)
        text += " A coupler is fitted; its own mass is not known and not counted: give coupler.mass.";
    return text;
}

std::string say_force(const LiftStudy& l, const SafeWords& w) {
    const BallForce& f = l.force;
    switch (f.source) {
        case BallForceSource::none:
            return "What the tractor lifts is not known.";
        case BallForceSource::curve:
            return fmt::format(
                "Force at the balls: from the lift curve, {} points.{}", f.curve.size(),
                l.whole_travel ? "" : " It does not cover the whole travel; outside it nothing is said.");
        case BallForceSource::cylinder:
            return fmt::format("Force at the balls: from a thrust of {} (friction taken off) by crank, arm and rod.",
                               format_force(f.cylinder.thrust, w.units, Rounding::down));
        case BallForceSource::cylinder_ideal:
            return fmt::format(
                "Force at the balls: from a thrust of {} by crank, arm and rod. Friction is not known: an upper bound "
                "only.",
                format_force(f.cylinder.thrust, w.units, Rounding::down));
        case BallForceSource::published_least:
            break;
    }
    std::string text =
        "Force at the balls: the least published lift, a lower bound at every height; the tractor may lift more.";
    if (f.least_at_610 > 0.0 && f.rigs.empty())
        text +=
            " The figure 610 mm (24 in) behind does not help: the test's mast or pin is not known, or does not close.";
    else if (f.least_at_610 > 0.0 && !f.rigs_count)
        text +=
            " The figure 610 mm (24 in) behind counts for nothing: the mast of the test is not stated "
            "(tractor.lift_test.mast_height), or a pin it may have had does not close.";
    else if (f.least_at_610 > 0.0)
        text += fmt::format(" Where the figure 610 mm (24 in) behind proves more, that counts; test frame: mast {}{}.",
                            w.place(f.rigs.front().mast_pin.y()),
                            f.rig_pin_stated    ? ""
                            : f.rigs.size() > 1 ? ", least over the tractor's pins"
                                                : "");
    return text;
}

std::string say_pair(const LiftStudy& l, UnitSystem u) {
    if (!l.pair) return {};
    const PublishedPair& p = *l.pair;
    std::string text = fmt::format(
        "Published: {} at the balls, {} at 610 mm (24 in) behind: {}. By the linkage as read it is {} to {}",
        format_force(l.force.least_at_balls, u), format_force(l.force.least_at_610, u), format_percent(p.ratio),
        format_percent(p.least), format_percent(p.most));
    if (p.beyond == 0.0) return text + ": the two agree.";
    return text + fmt::format(
                      ": {} {}. The two were not found on this linkage, with these holes and that mast; both are used "
                      "as lower bounds, neither is fitted.",
                      format_percent(std::fabs(p.beyond)), p.beyond < 0.0 ? "less" : "more");
}

std::vector<std::vector<std::string>> list_rows(const LoadAnswer& a, const SafeWords& w) {
    const LiftStudy& l = *a.analysis.lift;
    std::vector<std::vector<std::string>> rows{
        {"height", "load rises", "at the balls", "needed there", "carries", "to spare"}};
    for (const LiftRow& r : a.rows) {
        const bool spare = r.capacity && l.mass_known;
        rows.push_back({w.place(r.height), format_ratio(r.rise, 3),
                        r.at_balls ? format_force(*r.at_balls, w.units, Rounding::down) : "-",
                        r.needed ? format_force(*r.needed, w.units, Rounding::up) : "-",
                        r.capacity ? format_mass(std::max(0.0, *r.capacity), w.units, Rounding::down) : "-",
                        spare ? format_mass(*r.capacity - l.mass, w.units, Rounding::down) : "-"});
    }
    return rows;
}

std::string say_lifted(const LiftStudy& l, bool close, const SafeWords& w) {
    switch (l.answer) {
        case LiftAnswer::not_known:
            return l.strap_held ? "NOT KNOWN whether it lifts: a swing strap between stops is not reckoned."
                                : "NOT KNOWN whether it lifts.";
        case LiftAnswer::lifts:
            return close ? "TOO CLOSE TO CALL whether it lifts." : "IT LIFTS from the working height to the top.";
        case LiftAnswer::lifts_not:
            return "IT DOES NOT LIFT from the lowest height.";
        case LiftAnswer::stalls:
            return fmt::format("IT STALLS at ball height {}.", w.at_most(*l.stall));
        case LiftAnswer::not_assured:
            if (l.force.meaning() == ForceMeaning::at_most) return "NOT ASSURED: friction is not known.";
            return l.lifted.empty()
                       ? "NOT ASSURED at any height."
                       : fmt::format("ASSURED for ball heights {} only; elsewhere the tractor may lift it or not.",
                                     format_heights(l.lifted, w));
        case LiftAnswer::load_stops:
            return l.rising.empty()
                       ? "THE LOAD RISES AT NO HEIGHT."
                       : fmt::format("THE LOAD RISES at ball heights {} only.", format_heights(l.rising, w));
    }
    return {};
}

void add_lift(AnswerBuilder& out, const LoadAnswer& a) {
    const LiftStudy& l = *a.analysis.lift;
    const UnitSystem units = out.style().units;
    const SafeWords w{units};
    out.heading("Lift");
    const bool close = std::any_of(a.analysis.findings.begin(), a.analysis.findings.end(), [](const Finding& f) {
        return f.kind == FindingKind::lift_capacity && f.severity == Severity::unknown;
    });
    for (const std::string& line : {say_lifted(l, close, w), say_load(l, a.setup, w), say_force(l, w), say_pair(l, units)}) {
        if (!line.empty()) out.words(line, 2, 4);
    }
    if (l.least_capacity && l.mass_known)
        out.words(
            fmt::format("Least: {} at its centre of gravity, at ball height {}; {} needed.{}",
                        format_mass(std::max(0.0, l.least_capacity->value), units, Rounding::down),
                        w.place(l.least_capacity->height), format_mass(l.mass, units, Rounding::up),
                        l.band.width > 0.0 ? fmt::format(" The readings may move what is to spare by {} (95 %), most of it {}.",
                                                   format_mass(l.band.width, units, Rounding::up), printable_text(l.band.widest.reading, 60))
                                     : ""),
            2, 4);
    for (const std::string& key : l.missing) out.words(fmt::format("Missing: {}.", key), 2, 4);
    if (a.rows.empty()) return;
    out.gap();
    out.table(list_rows(a, w));
    out.words("Load rises: its centre of gravity against the balls. Carries: at that centre.", 2, 4);
}

void add_holes(AnswerBuilder& out, const LoadAnswer& a) {
    const UnitSystem units = out.style().units;
    const SafeWords w{units};
    const bool known = std::any_of(a.holes.begin(), a.holes.end(),
                                   [](const LiftHole& h) { return h.lift.least_capacity.has_value(); });
    if (a.holes.size() < 2 || !known) return;
    const bool rods =
        std::any_of(a.holes.begin(), a.holes.end(), [](const LiftHole& h) { return !h.rod_hole.empty(); });
    std::vector<std::vector<std::string>> rows{{"tractor hole", "mast hole"}};
    if (rods) rows.front().emplace_back("rod hole");
    for (const char* head : {"carries least", "at height", "lifted"}) rows.front().emplace_back(head);
    for (const LiftHole& h : a.holes) {
        std::vector<std::string> row{printable_text(h.tractor_pin, 12) + (h.is_present ? " *" : ""),
                                     printable_text(h.mast_pin, 12)};
        if (rods) row.push_back(printable_text(h.rod_hole, 10));
        if (!h.closes || !h.lift.least_capacity) {
            row.push_back(!h.closes                                 ? "does not close"
                          : h.lift.answer == LiftAnswer::load_stops ? "load stops rising"
                                                                    : "not known");
        } else {
            row.push_back(format_mass(std::max(0.0, h.lift.least_capacity->value), units, Rounding::down));
            row.push_back(w.place(h.lift.least_capacity->height));
            const bool all = h.lift.answer == LiftAnswer::lifts;
            row.push_back(!h.lift.mass_known      ? "-"
                          : all                   ? "throughout"
                          : h.lift.lifted.empty() ? "nowhere"
                                                  : format_heights(h.lift.lifted, w));
        }
        rows.push_back(std::move(row));
    }
    out.gap();
    out.heading("In each hole, most first");
    out.table(std::move(rows));
    out.words("*: the set-up's own. The link is set for the working attitude in each.", 2, 2);
}

std::string say_share(const FrontShare& f, const AxleStudy& x, UnitSystem u) {
    std::string text =
        fmt::format("{} {} ({}); {} wanted", format_percent(f.share, Rounding::down),
                    say_load_base(load_base_word(f.base)), format_mass(f.base_mass, u), format_percent(f.wanted));
    if (!f.ballast) return text + ": no front ballast there can keep it";
    if (*f.ballast == 0.0) return text + ": needs no front ballast";
    const std::string place = std::fabs(x.front_ahead) < 1e-9
                                  ? "at the front axle"
                                  : fmt::format("{} {} it", format_length(std::fabs(x.front_ahead), u),
                                                x.front_ahead > 0.0 ? "ahead of" : "behind");
    const double more = *f.ballast - x.front_ballast;
    return text + fmt::format(": {} in front altogether, {}{}", format_mass(*f.ballast, u, Rounding::up), place,
                              x.front_ballast > 0.0 && more > 0.0
                                  ? fmt::format(", {} more than now", format_mass(more, u, Rounding::up))
                                  : "");
}

void add_axle_table(AnswerBuilder& out, const AxleStudy& x) {
    const UnitSystem u = out.style().units;
    std::vector<std::vector<std::string>> rows{{"", "front", "rear", "total"}};
    for (const AxleState& s : x.states) {
        rows.push_back({say_load_state(load_state_word(s.state)), format_mass(s.loads.front, u),
                        format_mass(s.loads.rear, u), format_mass(s.loads.total(), u)});
    }
    out.table(std::move(rows));
    if (x.front_ballast > 0.0 || x.rear_ballast > 0.0)
        out.words(fmt::format("Ballast counted: {} in front, {} at the rear.", format_mass(x.front_ballast, u),
                              format_mass(x.rear_ballast, u)),
                  2, 4);
}

void add_front_axle(AnswerBuilder& out, const AxleStudy& x) {
    const UnitSystem u = out.style().units;
    out.gap();
    out.heading("Front axle, where it is lightest:", 2);
    for (const FrontShare& f : x.shares) out.item(f.base == x.binding ? "* " : "  ", say_share(f, x, u) + ".", 2, 4);
    out.words("*: the one that binds (choices.ballast.base); makers differ, the manual of the tractor decides.", 4, 4);
    if (x.coupler_mass_missing) out.words("The coupler was not weighed and is not counted: give coupler.mass.", 4, 4);
    if (x.cg_height_assumed)
        out.words("The height of the implement's centre of gravity is not known: taken level with the lower pins.", 4, 4);
    if (x.front_place_assumed)
        out.words("Nobody said where front weights hang: reckoned at the front axle, where they do least.", 4, 4);
    out.words(fmt::format("The readings may move the front load by {} (95 %), most of it {}.",
                          format_mass(x.front_band.width, u, Rounding::up), printable_text(x.front_band.widest.reading, 60)),
              4, 4);
}

void add_axles(AnswerBuilder& out, const LoadAnswer& a) {
    const AxleStudy& x = *a.analysis.axles;
    out.gap();
    out.heading("Axles, standing on level ground");
    for (const std::string& key : x.missing) out.words(fmt::format("Missing: {}.", key), 2, 4);
    if (!x.known) return;
    add_axle_table(out, x);
    add_front_axle(out, x);
    out.words(fmt::format("Rear axle at least {} of the empty mass; {} wanted{}.",
                          format_percent(x.rear_share, Rounding::down), format_percent(x.rear_wanted),
                          x.rear_ballast_least && *x.rear_ballast_least > 0.0
                              ? fmt::format(": {} of rear ballast altogether",
                                            format_mass(*x.rear_ballast_least, out.style().units, Rounding::up))
                              : ""),
              2, 4);
    if (x.carried.empty())
        out.words("Limits of axles and tyres are not known: tractor.mass.front_axle_most and others.", 2, 4);
}

}  // namespace

std::vector<const Finding*> list_load_findings(const Analysis& analysis) {
    std::vector<const Finding*> list;
    for (const Finding& f : analysis.findings) {
        switch (f.kind) {
            case FindingKind::lift_capacity:
            case FindingKind::load_rise:
            case FindingKind::front_axle_share:
            case FindingKind::rear_axle_share:
            case FindingKind::carried_load:
            case FindingKind::drawbar_load:
                list.push_back(&f);
                break;
            default:
                break;
        }
    }
    return list;
}

LoadAnswer make_load_answer(const Setup& setup, const Analysis& analysis, int count) {
    LoadAnswer a{setup, analysis, {}, {}};
    if (!analysis.linkage) return a;
    const MountedModel& m = analysis.linkage->model;
    a.holes = study_lift_holes(setup);
    for (int i = 0; i < count; ++i) {
        const double h =
            i + 1 == count ? m.travel.high : m.travel.low + (m.travel.high - m.travel.low) * i / (count - 1);
        a.rows.push_back(find_lift_row(*analysis.lift, m, h));
    }
    return a;
}

std::vector<AnswerBlock> make_load_blocks(const LoadAnswer& a, const TextStyle& style) {
    AnswerBuilder out(style);
    out.machines(a.setup);
    out.gap();
    const std::vector<const Finding*> findings = list_load_findings(a.analysis);
    const FindingContext context = make_finding_context(a.setup, a.analysis, style.units);
    for (const Finding* f : findings) out.finding(*f, context);
    if (findings.empty()) out.answer("NOT KNOWN. What is missing stands below.");
    out.gap();
    if (a.analysis.lift) {
        add_lift(out, a);
        add_holes(out, a);
    }
    if (a.analysis.axles) add_axles(out, a);
    out.cautions({std::begin(cautions), std::end(cautions)});
    return out.take();
}

std::string format_load_report(const LoadAnswer& a, const TextStyle& style) {
    return format_blocks(make_load_blocks(a, style), style);
}

std::string format_load_csv(const LoadAnswer& a, UnitSystem units) {
    const std::string u = units == UnitSystem::inch ? "_in" : "_mm";
    const double unit = find_edge_unit(Dimension::length, units).per_si;
    std::string text = format_csv_line(
        {"ball_height" + u, "load_rise", "force_at_balls_N", "needed_at_balls_N", "carries_kg", "to_spare_kg"});
    for (const LiftRow& r : a.rows) {
        const auto number = [](const std::optional<double>& v) { return v ? format_csv_number(*v) : std::string(); };
        const bool spare = r.capacity && a.analysis.lift->mass_known;
        text += format_csv_line({format_csv_number(r.height * unit), format_csv_number(r.rise), number(r.at_balls),
                                 number(r.needed), number(r.capacity),
                                 spare ? format_csv_number(*r.capacity - a.analysis.lift->mass) : ""});
    }
    return text;
}

}  // namespace hitchwright
