// The room "Level": lift rods, wanted roll, sway and check chains to set, and what they come to, in the words of `fit`.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gui/block_view.h"
#include "gui/field_edits.h"
#include "gui/level_room.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/quantity_field.h"
#include "gui/rod_edits.h"
#include "report/caution_text.h"

namespace hitchwright {
namespace {

void say(AppState& app, const std::vector<Problem>& problems) {
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

/// A button of a row that goes on in a new line where the panel ends.
bool show_step(Screen& screen, const char* word, const std::string& place, const std::string& hint) {
    start_in_row(word);
    ImGui::PushID(place.c_str());
    const bool pressed = ImGui::Button(word);
    ImGui::PopID();
    remember_place(screen, place);
    if (ImGui::IsItemHovered()) show_hint(screen, hint);
    ImGui::SameLine();
    return pressed;
}

void show_rod(Screen& screen, TractorSide side) {
    AppState& app = screen.app;
    const bool right = side == TractorSide::right;
    const Choices& c = app.now.setup.choices;
    const Reading& own = right ? c.right_lift_rod_length : c.left_lift_rod_length;
    show_quantity_field(screen, {rod_key(side), right ? "Right lift rod as set, pin to pin" : "Left lift rod as set, pin to pin", Dimension::length, "not given"},
                        own.known ? own : app.now.setup.tractor.lift_rod.length);
    if (!find_rod_as_set(app, side)) return;
    const RodStep step = find_rod_step(app, side);
    const std::string word = right ? "right" : "left";
    const std::string hint = step.turn ? fmt::format("One turn of the levelling screw: {}", format_length(step.length, app.view.units, Rounding::nearest, MillimetrePlaces::tenth))
                                       : fmt::format("By {}; what a turn of a screw moves this rod is not known", format_length(step.length, app.view.units));
    int steps = 0;
    if (show_step(screen, step.turn ? "A turn shorter" : "Shorter", word + " rod shorter", hint)) steps = -1;
    if (show_step(screen, step.turn ? "A turn longer" : "Longer", word + " rod longer", hint)) steps = 1;
    ImGui::NewLine();
    if (steps != 0) say(app, turn_rod(app, side, steps));
}

/// Sets the rods as the wanted roll asks, with the cautions of that step beside it.
void show_wanted_rods(Screen& screen) {
    AppState& app = screen.app;
    const std::optional<Edits> wanted = find_wanted_rods(app);
    if (!wanted) return;
    const bool typed = app.now.setup.choices.working_roll.known;
    if (show_step(screen, typed ? "Set the rods for this roll" : "Set the rods level", "set the rods", "The lengths that stand below, to whole marks")) say(app, change_edits(app, *wanted));
    ImGui::NewLine();
    for (const Caution caution : {Caution::never_under_raised, Caution::nobody_between}) show_warning(caution_sentence(caution));
}

/// The hitch of the picture from behind, between the ends of its sway.
void show_sway_slider(Screen& screen) {
    AppState& app = screen.app;
    if (!app.results.analysis.linkage) return;
    const SwayLimits ends = find_sway_ends(app.results.analysis.linkage->model.space, shown_ball_height(app));
    if (!ends.left || !ends.right || *ends.right <= *ends.left) return;
    float sway = static_cast<float>(shown_place(app).sway);
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
    if (ImGui::SliderFloat("##sway", &sway, static_cast<float>(*ends.left), static_cast<float>(*ends.right), " ")) app.view.act.sway = static_cast<double>(sway);
    remember_place(screen, "sway of the hitch", FingerMove::across);
    if (ImGui::IsItemHovered()) show_hint(screen, "Swings the hitch in the picture from behind");
    show_text("In the picture: " + say_sway(app));
}

void show_sway(Screen& screen) {
    const Setup& s = screen.app.now.setup;
    const CheckChainReadings& chain = s.tractor.check_chain;
    show_heading(screen, "Sway");
    const bool chains = screen.app.results.analysis.linkage && screen.app.results.analysis.linkage->model.space.sway_source == SwaySource::chains;
    if (!chains) show_quantity_field(screen, {"tractor.sway.total_at_ball", "Sway at the balls, from one side to the other", Dimension::length, "not measured"}, s.tractor.sway.total_at_ball);
    if (chains || chain.length.known) {
        const Choices& c = s.choices;
        show_quantity_field(screen, {"choices.left_check_chain_length", "Left check chain, taut", Dimension::length, "not given"}, c.left_check_chain_length.known ? c.left_check_chain_length : chain.length);
        show_quantity_field(screen, {"choices.right_check_chain_length", "Right check chain, taut", Dimension::length, "not given"}, c.right_check_chain_length.known ? c.right_check_chain_length : chain.length);
    }
    show_sway_slider(screen);
}

}  // namespace

bool has_level(const AppState& app) { return app.now.setup.implement.attachment == Attachment::mounted; }

void show_level(Screen& screen) {
    AppState& app = screen.app;
    const int revision = app.results.revision;
    const Setup& s = app.now.setup;
    show_heading(screen, "Level from side to side");
    const bool behind = app.view.act.switches.mounted == MountedPicture::rear;
    if (show_step(screen, behind ? "Show it from the side###behind" : "Show it from behind###behind", "show from behind", "The picture of the machine, at the height of the slider")) {
        app.view.act.switches.mounted = behind ? MountedPicture::side : MountedPicture::rear;
        leave_mounted_picture(app);
    }
    ImGui::NewLine();
    show_quantity_field(screen, {"choices.working_roll", "Wanted roll at work, right side up is +", Dimension::angle, "none asked for"}, s.choices.working_roll);
    show_rod(screen, TractorSide::left);
    if (app.results.revision == revision) show_rod(screen, TractorSide::right);
    if (app.results.revision == revision) show_wanted_rods(screen);
    ImGui::Separator();
    show_blocks(screen, make_level_blocks(app));
    ImGui::Separator();
    if (app.results.revision == revision) show_sway(screen);
}

}  // namespace hitchwright
