// The inputs in walking order round the machine: tractor, upper link, mast, implement at work, shaft, rules.
#include "geometry/shaft_cut.h"
#include "gui/entry_field.h"
#include "gui/field_edits.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/quantity_field.h"
#include "report/caution_text.h"
#include "report/cut_words.h"
#include "report/finding_text.h"

namespace hitchwright {
namespace {

void say(AppState& app, const std::vector<Problem>& problems) {
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

std::optional<std::string> show_labelled_choice(Screen& screen, const char* label, const std::string& now, const std::vector<NamedPreset>& all) {
    show_text(label);
    return show_choice(screen, label, now, all);
}

template <class Pin>
std::vector<NamedPreset> list_pins(const std::vector<Pin>& pins) {
    std::vector<NamedPreset> named;
    named.reserve(pins.size());
    for (const Pin& pin : pins) named.push_back({pin.name, escape_text(pin.name, 40)});
    return named;
}

/// Switches to the pair of holes of the table that has this hole and keeps the other one.
template <class Pick>
void switch_hole(AppState& app, const Pick& is_wanted) {
    for (const HoleCombination& holes : list_hole_combinations(app.now.setup)) {
        if (is_wanted(holes)) return say(app, change_holes(app, holes));
    }
}

/// The combination in use; the first of all when none is chosen yet.
HoleCombination find_present(const Setup& setup) {
    for (const HoleCombination& holes : list_hole_combinations(setup)) {
        if (is_chosen(setup, holes)) return holes;
    }
    return {0, 0, find_rod_holes(setup).chosen};
}

/// The hole of the lift rods and their length, where the travel comes from them.
void show_lift_rods(Screen& screen) {
    AppState& app = screen.app;
    const Setup& s = app.now.setup;
    const Tractor& t = s.tractor;
    const bool listed = !t.lift_rod_holes.empty();
    if (listed) {
        const RodHoles holes = find_rod_holes(s);
        const std::string now = holes.status == RodHoles::Status::ok ? t.lift_rod_holes[holes.chosen].name : std::string();
        if (const auto hole = show_labelled_choice(screen, "Lift-rod hole in the lower links", now, list_pins(t.lift_rod_holes)))
            say(app, change_value(app, "choices.lift_rod_hole", *hole));
    }
    if (!t.lift_arm.length.known || !t.lift_rod.length.known) return;
    const bool open = show_fold_heading(screen, "Lift rods");
    remember_place(screen, "Lift rods");
    if (!open) return;
    if (!listed)
        show_quantity_field(screen, {"tractor.lift_rod.pin_along_link", "Lift-rod hole: link pivot to hole", Dimension::length, "not given"},
                        t.lift_rod.pin_along_link);
    show_quantity_field(screen, {"tractor.lift_rod.length", "Lift rod, pin to pin", Dimension::length, "not given"}, t.lift_rod.length);
}

/// The tyres the tractor stands on, where it has others.
void show_tyres(Screen& screen) {
    AppState& app = screen.app;
    const Setup& s = app.now.setup;
    if (s.tractor.tyre_sets.empty()) return;
    std::vector<NamedPreset> all = list_pins(s.tractor.tyre_sets);
    const std::string own = "those it was measured on";
    all.insert(all.begin(), {"", own});
    const std::string now = s.choices.tyre_set.empty() ? own : s.choices.tyre_set;
    if (const auto set = show_labelled_choice(screen, "Tyres", now, all)) say(app, change_value(app, "choices.tyre_set", *set));
}

void show_tractor(Screen& screen) {
    AppState& app = screen.app;
    const Setup& s = app.now.setup;
    show_heading(screen, "1 Tractor");
    if (const auto pin = show_labelled_choice(screen, "Upper-link hole on the tractor", s.choices.upper_link_pin,
                                     list_pins(s.tractor.upper_link_pins))) {
        const HoleCombination now = find_present(s);
        switch_hole(app, [&](const HoleCombination& c) {
            return s.tractor.upper_link_pins[c.tractor_pin].name == *pin && c.mast_pin == now.mast_pin && c.rod_hole == now.rod_hole;
        });
    }
    show_quantity_field(screen, {"choices.lift_stop", "Lift stop, ball height", Dimension::length, "no stop"},
                        s.choices.lift_stop);
    show_quantity_field(screen, {"choices.lower_stop", "Lower stop, ball height", Dimension::length, "no stop"},
                        s.choices.lower_stop);
    show_lift_rods(screen);
    show_tyres(screen);
}

/// The link as set: typed, or the length that gives the working pitch.
void show_upper_link(Screen& screen) {
    AppState& app = screen.app;
    const Reading& typed = app.now.setup.choices.upper_link_length;
    show_heading(screen, "2 Upper link");
    const bool for_pitch = !typed.known;
    bool chosen = ImGui::RadioButton("##for pitch", for_pitch);
    remember_place(screen, "link for pitch");
    ImGui::SameLine();
    show_text("for the working pitch");  // wrapped, as the button's own words are not
    chosen = ImGui::IsItemClicked() || chosen;
    if (chosen && !for_pitch) say(app, change_value(app, "choices.upper_link_length", ""));
    if (for_pitch && app.results.analysis.linkage) {
        const double length = app.results.analysis.linkage->model.linkage.upper_length;
        show_text("gives " + format_length(length, app.view.units) + ", pin to pin", screen.fonts.bold, palette().ink);
    }
    show_quantity_field(screen,
                        {"choices.upper_link_length", "or set to, pin centre to pin centre", Dimension::length,
                         "from the pitch"},
                        typed);
}

void show_implement(Screen& screen) {
    AppState& app = screen.app;
    const Setup& s = app.now.setup;
    show_heading(screen, "3 Implement");
    if (const auto pin = show_labelled_choice(screen, "Hole on the mast", s.choices.mast_pin, list_pins(s.implement.mast_pins))) {
        const HoleCombination now = find_present(s);
        switch_hole(app, [&](const HoleCombination& c) {
            return s.implement.mast_pins[c.mast_pin].name == *pin && c.tractor_pin == now.tractor_pin && c.rod_hole == now.rod_hole;
        });
    }
    const bool own_height = !s.choices.working_ball_height.known;
    show_quantity_field(screen,
                        {"choices.working_ball_height", "Working ball height, floor to ball centre", Dimension::length,
                         "not given"},
                        own_height ? s.implement.work.ball_height : s.choices.working_ball_height);
    const bool own_pitch = !s.choices.working_pitch.known;
    show_quantity_field(screen,
                        {"choices.working_pitch", "Working pitch, rear up is +", Dimension::angle, "level"},
                        own_pitch ? s.implement.work.pitch : s.choices.working_pitch);
}

/// Pin and the attitudes that are judged; empty fields hold what the rule set says.
void show_drawbar(Screen& screen) {
    AppState& app = screen.app;
    const Setup& s = app.now.setup;
    const DrawnChoices& c = s.choices.drawn;
    show_heading(screen, "1 Drawbar");
    if (const auto pin = show_labelled_choice(screen, "Position of the pin", c.drawbar_pin, list_pins(s.tractor.drawbar_pins)))
        say(app, change_value(app, "choices.drawbar_pin", *pin));
    show_tyres(screen);
    show_heading(screen, "2 Turns and dips");
    constexpr const char* rules = "the rule set's";
    show_quantity_field(screen, {"choices.turn_left_most", "Sharpest turn to the left", Dimension::angle, rules}, c.turn_left_most);
    show_quantity_field(screen, {"choices.turn_right_most", "Sharpest turn to the right", Dimension::angle, rules}, c.turn_right_most);
    show_quantity_field(screen, {"choices.pitch_up_most", "Rear up against the tractor, most", Dimension::angle, rules}, c.pitch_up_most);
    show_quantity_field(screen, {"choices.pitch_down_most", "Rear down, most", Dimension::angle, rules}, c.pitch_down_most);
    show_quantity_field(screen, {"choices.roll_most", "Roll either way, most", Dimension::angle, "10 deg, assumed"}, c.roll_most);
}

void show_ditch(Screen& screen) {
    const DitchReadings& d = screen.app.now.setup.choices.drawn.ditch;
    show_heading(screen, "3 Ditch");
    show_quantity_field(screen, {"choices.ditch.depth", "Depth; a ridge is negative", Dimension::length, "none"}, d.depth);
    show_quantity_field(screen, {"choices.ditch.bottom_width", "Width of the bottom", Dimension::length, "none"}, d.bottom_width);
    show_quantity_field(screen, {"choices.ditch.side_slope", "Slope of the sides", Dimension::angle, "none"}, d.side_slope);
    show_quantity_field(screen, {"choices.ditch.crossing_angle", "Crossing angle; square is 90", Dimension::angle, "square"}, d.crossing_angle);
}

/// Offers the cut of the analysis, for halves that have none yet.
void show_proposed_cut(Screen& screen) {
    AppState& app = screen.app;
    const FindingContext context = make_finding_context(app.now.setup, app.results.analysis, app.view.units);
    const Choices& c = app.now.setup.choices;
    if (!context.cut || c.cut_tractor_half.known || c.cut_implement_half.known) return;
    const CutPlan& plan = context.cut->plan;
    const bool cuts = plan.answer == CutAnswer::cut_to_aim || plan.answer == CutAnswer::cut_short_of_aim;
    if (!cuts) return;
    show_text("Proposed: cut " + format_cut(plan.recommended, plan.recommended_step, app.view.units) + ".");
    if (ImGui::Button("Try this cut")) {
        const auto text = [&](double cut) { return format_cut_length(cut, plan.recommended_step, app.view.units); };
        Edits edits = with_field(app.now.edits, "choices.cut_tractor_half", text(plan.recommended.a));
        say(app, change_edits(app, with_field(std::move(edits), "choices.cut_implement_half", text(plan.recommended.b))));
    }
    remember_place(screen, "Try this cut");
    show_warning(caution_sentence(Caution::measure_before_cutting));
}

void show_shaft(Screen& screen) {
    AppState& app = screen.app;
    const Setup& s = app.now.setup;
    if (!s.implement.pic.fitted) return;
    ImGui::Separator();
    show_heading(screen, "4 Shaft");
    std::vector<NamedPreset> all{{"", "the file's own"}};
    all.insert(all.end(), app.drivelines.begin(), app.drivelines.end());
    const std::string now = s.has_driveline ? (s.driveline.name.empty() ? s.driveline.key : s.driveline.name) : "none";
    if (const auto key = show_labelled_choice(screen, "Shaft", now, all)) say(app, change_driveline(app, *key));
    if (!s.has_driveline) return;
    show_proposed_cut(screen);
    show_quantity_field(screen, {"choices.cut_tractor_half", "Cut off the tractor half", Dimension::length, "whole"},
                        s.choices.cut_tractor_half);
    show_quantity_field(screen, {"choices.cut_implement_half", "Cut off the implement half", Dimension::length, "whole"},
                        s.choices.cut_implement_half);
}

}  // namespace

void show_inputs(Screen& screen) {
    AppState& app = screen.app;
    if (show_find(screen)) return;
    const int revision = app.results.revision;
    if (app.now.setup.implement.attachment == Attachment::drawn) {
        show_drawbar(screen);
        ImGui::Separator();
        show_ditch(screen);
    } else {
        show_tractor(screen);
        ImGui::Separator();
        show_upper_link(screen);
        ImGui::Separator();
        show_implement(screen);
        if (has_parts(app.now.setup)) {
            ImGui::Separator();
            show_parts(screen);
        }
    }
    show_shaft(screen);
    ImGui::Separator();
    show_heading(screen, "5 Rules");
    const RuleSet& rules = app.now.setup.rules;
    if (const auto key = show_labelled_choice(screen, "Judged by", rules.name.empty() ? rules.key : rules.name, app.rule_sets)) {
        Edits edits = app.now.edits;
        edits.rules = *key;
        say(app, change_edits(app, std::move(edits)));
    }
    if (app.results.revision == revision) show_all_readings(screen);
}

}  // namespace hitchwright
