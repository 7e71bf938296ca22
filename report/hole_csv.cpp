// The hole study as CSV; see hole_report.h.
#include <fmt/format.h>

#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/hole_report.h"
#include "report/hole_words.h"

namespace hitchwright {
namespace {

/// Cells of one line, each with the name of its column.
class Line {
public:
    explicit Line(UnitSystem units)
        : suffix_(units == UnitSystem::inch ? "_in" : "_mm"), per_metre_(find_edge_unit(Dimension::length, units).per_si) {}

    void text(const char* name, std::string_view value) { add(name, format_csv_text(value)); }
    void count(const char* name, double value) { add(name, format_csv_number(value)); }
    void plain(const char* name, const std::optional<double>& value) { add(name, value ? format_csv_number(*value) : ""); }
    void length(const std::string& name, const std::optional<double>& metres) {
        add(name + suffix_, metres ? format_csv_number(*metres * per_metre_) : "");
    }
    void angle(const std::string& name, const std::optional<double>& radians) {
        add(name + "_deg", radians ? format_csv_number(*radians * find_edge_unit(Dimension::angle).per_si) : "");
    }
    const std::vector<std::string>& names() const { return names_; }
    const std::vector<std::string>& cells() const { return cells_; }

private:
    void add(std::string name, std::string cell) {
        names_.push_back(std::move(name));
        cells_.push_back(std::move(cell));
    }
    std::string suffix_;
    double per_metre_;
    std::vector<std::string> names_, cells_;
};

using Value = std::optional<double>;

Value when(bool there, double value) { return there ? Value(value) : std::nullopt; }

void add_link(Line& line, const HoleNumbers& n) {
    const bool has = n.has_numbers, reach = n.reach && n.reach->within;
    line.length("upper_link_length", when(has, n.upper_length));
    line.plain("turns", n.turns);
    line.length("thread_left_to_shorten", when(reach, reach ? n.reach->thread_left_to_shorten : 0.0));
    line.length("thread_left_to_lengthen", when(reach, reach ? n.reach->thread_left_to_lengthen : 0.0));
    line.length("travel_low", when(has, n.travel.low));
    line.length("travel_high", when(has, n.travel.high));
    line.plain("lift_share_low", when(n.rod_lift_share.low > 0.0, n.rod_lift_share.low));
    line.plain("lift_share_top", when(n.rod_lift_share.high > 0.0, n.rod_lift_share.high));
    line.angle("pitch_low", when(has, n.pitch_low));
    line.angle("pitch_working", n.pitch_working);
    line.angle("pitch_top", when(has, n.pitch_top));
    line.angle("transport_pitch", n.transport_pitch);
    line.plain("inverse_hitch_distance_per_m", n.inverse_hitch_distance);
}

void add_raised(Line& line, const HoleNumbers& n) {
    line.length("tail_height_top", n.tail ? Value(n.tail->height) : std::nullopt);
    line.length("ground_clearance_top", n.lowest ? Value(n.lowest->height) : std::nullopt);
    line.plain("lift_ratio_least", n.lift.worst());
    line.length("lift_ratio_least_at", when(n.lift.known, n.lift.rise_most.height));
    line.text("load_rises", !n.lift.known ? "" : n.lift.load_stops() ? "no" : "yes");
    line.angle("off_dead_centre", when(n.has_numbers, n.dead_centre.angle));
    line.length("dead_centre_beyond", n.has_numbers ? n.dead_centre.beyond : std::nullopt);
}

void add_shaft(Line& line, const HoleResult& r) {
    const HoleNumbers& n = r.numbers;
    const HoleShaft none, &s = n.shaft ? *n.shaft : none;
    const bool has = n.shaft.has_value(), plan = has && s.has_plan;
    const bool cut = plan && s.plan.answer != CutAnswer::no_cut_works;
    line.length("shaft_shortest", when(has, s.shortest.bound));
    line.length("shaft_longest", when(has, s.longest.bound));
    line.length("gap", when(plan, s.plan.uncut.gap));
    line.length("overlap", when(plan, s.plan.uncut.overlap));
    line.length("cut_tractor_half", when(cut, s.plan.recommended.a));
    line.length("cut_implement_half", when(cut, s.plan.recommended.b));
    line.angle("joint_angle_work", when(has, s.work_angle.bound));
    line.angle("joint_angle_travel", when(has, s.travel_angle.bound));
    const bool work = has && !r.work_heights.empty(), pto = has && !r.pto_heights.empty();
    line.length("work_from", when(work, work ? r.work_heights.front().low : 0.0));
    line.length("work_up_to", when(work, work ? r.work_heights.back().high : 0.0));
    line.length("pto_from", when(pto, pto ? r.pto_heights.front().low : 0.0));
    line.length("pto_up_to", when(pto, pto ? r.pto_heights.back().high : 0.0));
    line.count("work_ranges", static_cast<double>(r.work_heights.size()));
    line.count("pto_ranges", static_cast<double>(r.pto_heights.size()));
}

}  // namespace

std::string format_hole_csv(const Setup& setup, const HoleStudy& study, UnitSystem units) {
    std::string text;
    for (const HoleResult& r : study.results) {
        Line line(units);
        line.count("place", static_cast<double>(r.place));
        line.text("tractor_hole", r.numbers.tractor_pin);
        line.text("mast_hole", r.numbers.mast_pin);
        line.text("lift_rod_hole", r.numbers.rod_hole);
        line.text("present", r.numbers.is_present ? "yes" : "no");
        line.text("verdict", verdict_word(r.analysis.verdict));
        line.text("standing", hole_standing_word(r.standing));
        line.count("changes", r.changes);
        line.count("conditions", r.conditions);
        add_link(line, r.numbers);
        add_raised(line, r.numbers);
        add_shaft(line, r);
        line.text("why", r.standing < HoleStanding::not_decided ? say_why_behind(setup, study, r, units)
                                                                : say_obstacles(setup, r, units, 2));
        if (text.empty()) text = format_csv_line(line.names());
        text += format_csv_line(line.cells());
    }
    return text;
}

}  // namespace hitchwright
