// See mounted_pages.h.
#include "report/mounted_pages.h"

#include <fmt/format.h>

#include <cmath>

#include "report/mounted_plan_view.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/rear_view.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr TextFace note_face{2.6, false};
constexpr double block_gap_mm = 2.0;

std::string say_place_of_hitch(const MountedModel& m, const HitchView& at, const SafeWords& w) {
    const HitchView inside = bring_inside(m, at);
    std::string text = fmt::format("Ball height {}", w.place(inside.ball_height));
    if (m.has_working_height && std::fabs(inside.ball_height - m.working_height) < rounding_slack) text += ", the working height";
    if (w.place(std::fabs(inside.sway)) != w.place(0.0)) text += fmt::format(", balls {} to the {}", w.place(std::fabs(inside.sway)), inside.sway > 0.0 ? "right" : "left");
    return text + ".";
}

std::string join(const std::vector<std::string>& sentences) {
    std::string all;
    for (const std::string& s : sentences) all += " " + s;
    return all;
}

}  // namespace

HitchView find_usual_place(const Analysis& analysis) {
    if (!analysis.linkage) return {};
    const MountedModel& m = analysis.linkage->model;
    return bring_inside(m, {m.has_working_height ? m.working_height : m.travel.low, 0.0});
}

PagePicture compose_mounted_view(const SideViewScene& scene, const Setup& s, const Analysis& analysis, MountedView view, const HitchView& at,
                                 const PageSetup& paper, const TextMeasure& measure) {
    PageRect area;
    PagePicture page = start_page(scene, paper, measure, area);
    const bool above = view == MountedView::plan;
    page.description += above ? " View from above." : " View from behind.";
    std::string words = "No picture: a reading of the linkage is missing, or the linkage cannot close; \"fit\" names it.";
    Drawing drawing;
    if (analysis.linkage) {
        const HitchView shown = above ? HitchView{at.ball_height, 0.0} : at;
        words = say_place_of_hitch(analysis.linkage->model, shown, SafeWords{scene.units});
        if (above) {
            MountedPlan plan = draw_mounted_plan(s, analysis, at.ball_height, scene.units);
            words = "From above; upwards is the tractor's right. " + words + " Points, widths and tyres are the readings, other lines are sketched." + join(plan.not_known);
            drawing = std::move(plan.drawing);
        } else {
            RearView rear = draw_rear_view(s, analysis, shown, scene.units);
            words = "From behind, looking forward: the tractor's right is on the right. " + words + " Points, widths and tyres are the readings, other lines are sketched." + join(rear.not_known);
            drawing = std::move(rear.drawing);
        }
    }
    area.top = add_text_block(page, make_text_block(words, note_face, area.width(), measure), {area.left, area.top}, Role::legend, measure) + block_gap_mm;
    add_fitted_drawing(page, drawing, area, scene.units, measure);
    return page;
}

}  // namespace hitchwright
