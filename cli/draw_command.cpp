// draw: a view of the set-up as SVG, PDF, PNG or HTML, by the ending of the file's name.
#include <cmath>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/page_output.h"
#include "cli/picture_words.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "report/atomic_file.h"
#include "report/cairo_writer.h"
#include "report/ditch_view.h"
#include "report/drawn_view.h"
#include "report/envelope_chart.h"
#include "report/mounted_pages.h"
#include "report/side_view_scene.h"
#include "report/svg_writer.h"
#include "report/text_clean.h"
#include "report/text_layout.h"
#include "report/text_measure.h"
#include "report/travel_chart.h"

namespace hitchwright {
namespace {

enum class View { side, travel, plan, rear, envelope, ditch };

/// Characters of a caption that still leave room for the picture.
constexpr std::size_t most_caption = 300;

/// A ball height the hitch does not reach cannot be drawn.
std::optional<UsageProblem> check_height(const Analysis& analysis, double height, UnitSystem units) {
    if (!analysis.linkage) return std::nullopt;  // the page says that there is no position
    const HeightRange& travel = analysis.linkage->model.travel;
    if (travel.contains(height)) return std::nullopt;
    return UsageProblem{"--height",
                        fmt::format("{} was read; the travel goes from {} to {}", format_length(height, units),
                                    format_length(travel.low, units, Rounding::up),
                                    format_length(travel.high, units, Rounding::down)),
                        {}};
}

/// A sway that the set-up does not let the hitch have cannot be drawn; nor one of a set-up that says nothing of it.
std::optional<UsageProblem> check_sway(const Analysis& analysis, HitchView at, UnitSystem units) {
    if (!analysis.linkage || at.sway == 0.0) return std::nullopt;
    const MountedModel& m = analysis.linkage->model;
    const std::string read = format_length(at.sway, units) + " was read; ";
    if (m.space.sway_source == SwaySource::none)
        return UsageProblem{"--sway", read + "nobody measured how far the hitch sways; give it: --set tractor.sway.total_at_ball=1in", {}};
    if (std::fabs(bring_inside(m, at).sway - at.sway) < rounding_slack) return std::nullopt;
    const SwayLimits ends = find_sway_ends(m.space, at.ball_height);
    const auto end = [&](const std::optional<double>& limit, Rounding rounding) { return limit ? format_length(*limit, units, rounding) : std::string("no limit"); };
    return UsageProblem{"--sway", read + fmt::format("at that height the balls go from {} to {}", end(ends.left, Rounding::up), end(ends.right, Rounding::down)), {}};
}

bool is_picture(std::string_view ending) { return ending == ".svg" || ending == ".pdf" || ending == ".png" || ending == ".html"; }

RenderResult render(const PagePicture& composed, std::string_view ending) {
    if (ending == ".svg") return {write_svg(composed), {}};
    return ending == ".png" ? render_png(composed) : render_pages({composed}, ending);
}

Failure make_output_failure(std::string message) {
    Failure failure;
    failure.message = std::move(message);
    return failure;
}

PagePicture compose_travel(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, const PageSetup& page, const TextMeasure& measure) {
    const CurveBands bands = find_curve_bands(setup, analysis);
    return compose_travel_chart(scene, make_travel_panels(setup, analysis, scene.units, &bands), page, measure);
}

}  // namespace

Outcome run_draw(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json});
    const PageSetup usual = common.units == UnitSystem::inch ? letter_landscape : a4_landscape;
    const PageSetup page =
        reader.choice<PageSetup>("--paper", {{"a4", a4_landscape}, {"letter", letter_landscape}}, usual);
    const View view = reader.choice<View>("--view", {{"side", View::side}, {"travel", View::travel}, {"plan", View::plan}, {"rear", View::rear}, {"envelope", View::envelope}, {"ditch", View::ditch}}, View::side);
    const std::optional<double> height = reader.length("--height", common.units, {-0.5, 3.0});
    const bool has_height = view == View::side || view == View::rear || view == View::plan;
    if (height && !has_height) reader.add_problem({"--height", "belongs to --view side, plan or rear", {}});
    const std::optional<double> sway = reader.length("--sway", common.units, {-0.5, 0.5});
    if (sway && view != View::rear) reader.add_problem({"--sway", "belongs to --view rear", {}});
    const std::string caption = context.arguments.value("--caption");
    if (caption.size() > most_caption) {
        reader.add_problem({"--caption", fmt::format("{} characters were read; allowed: {}", caption.size(), most_caption), {}});
    }
    const std::string path = context.arguments.value("--output");
    const std::string ending = find_ending(path);
    if (!context.arguments.has("--output")) {
        reader.add_problem({"--output", "the file to write is missing: -o FILE, ending in .svg, .pdf, .png or .html", {}});
    } else if (!is_picture(ending)) {
        reader.add_problem(
            {"--output",
             fmt::format("\"{}\" was read; allowed: a name ending in .svg, .pdf, .png or .html", escape_text(path, 80)),
             {}});
    }
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    const Analysis analysis = analyze(setup, common.mark);
    if (height) {
        if (const auto problem = check_height(analysis, *height, common.units)) return make_failure({*problem}, context.arguments.command);
    }
    HitchView place = find_usual_place(analysis);
    if (height) place.ball_height = *height;
    if (sway) {
        place.sway = *sway;
        if (const auto problem = check_sway(analysis, place, common.units)) return make_failure({*problem}, context.arguments.command);
    }
    SideViewWords words = make_picture_words(setup, analysis, common.units);
    words.caption = printable_text(caption, most_caption);
    words.drawn_height = height;
    const SideViewScene scene = make_side_view_scene(setup, analysis, words, common.units);
    // The same widths for all three forms and on every machine, so that the pictures are the same.
    const BuiltInTextMeasure measure;
    const bool drawn = setup.implement.attachment == Attachment::drawn;
    if (drawn && view == View::rear)
        return make_usage_failure("draw", {"--view", "a drawn implement hangs on no lift rods, so there is nothing to level from side to side; allowed: --view side, plan, envelope or ditch", {}});
    if (drawn && (view == View::travel || height)) {
        return make_usage_failure("draw", {height ? "--height" : "--view", "a drawn implement has no travel of the lift; allowed: --view side, plan, envelope or ditch", {}});
    }
    if (!drawn && (view == View::envelope || view == View::ditch))
        return make_usage_failure("draw", {"--view", "the implement is mounted; allowed: --view side, plan, rear or travel", {}});
    if (view == View::ditch && !has_ditch(setup)) {
        return make_usage_failure("draw", {"--view", "the set-up names no ditch; name one: --set choices.ditch.depth=14in --set choices.ditch.bottom_width=24in --set choices.ditch.side_slope=25", {}});
    }
    const auto compose = [&]() -> PagePicture {
        if (view == View::envelope) return compose_envelope_chart(scene, setup, analysis, page, measure);
        if (view == View::ditch) return compose_ditch_view(scene, setup, analysis, page, measure);
        if (drawn) return compose_drawn_view(scene, setup, analysis, view == View::plan ? DrawnView::plan : DrawnView::side, page, measure);
        if (view == View::rear || view == View::plan)
            return compose_mounted_view(scene, setup, analysis, view == View::rear ? MountedView::rear : MountedView::plan, place, page, measure);
        return view == View::side ? compose_side_view(scene, page, measure)
                                  : compose_travel(scene, setup, analysis, page, measure);
    };
    const PagePicture composed = compose();
    const RenderResult rendered = render(composed, ending);
    if (!rendered.ok()) return make_output_failure(rendered.error);
    if (const auto failed = write_file_atomically(path, rendered.bytes)) return make_output_failure(failed->message);
    if (common.form == Form::json) return Answer{exit_code::fits, format_json("written", {{"file", path}})};
    return Answer{exit_code::fits, fmt::format("Written: {}\n", escape_text(path, 4096))};
}

}  // namespace hitchwright
