#include "geometry/analysis.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/category.h"
#include "geometry/compatibility.h"
#include "geometry/do_both.h"
#include "geometry/error_band.h"
#include "geometry/fit_findings.h"
#include "geometry/held_strap.h"
#include "geometry/joint_findings.h"
#include "geometry/load_findings.h"
#include "geometry/lower_link.h"
#include "geometry/mounted_findings.h"
#include "geometry/mounted_margins.h"
#include "geometry/moved_models.h"
#include "geometry/next_reading.h"
#include "geometry/pose_report.h"
#include "geometry/setup_lines.h"
#include "geometry/sound_readings.h"
#include "geometry/tyre_findings.h"
#include "geometry/ways_out.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(LinkageAnalysis);
HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(ShaftAnalysis);
HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(Analysis);

namespace {

void append(std::vector<Finding>& to, std::vector<Finding> from) {
    for (Finding& f : from) to.push_back(std::move(f));
}

void set_upper_link_facts(const Setup& s, LinkageAnalysis& a) {
    const UpperLinkReadings& u = s.tractor.upper_link;
    const double e = a.model.linkage.upper_length;
    if (u.length_least.known && u.length_most.known) a.reach = check_upper_link_reach(e, u.length_least.value, u.length_most.value);
    if (s.choices.upper_link_length_now.known && u.advance_per_turn.known) {
        a.turns = find_turns(e, s.choices.upper_link_length_now.value, u.advance_per_turn.value);
    }
    if (!a.working.pose.closes || !u.advance_per_turn.known) return;
    PlanarLinkage k = a.model.linkage;
    k.upper_length = a.working.upper_length;
    a.pitch_per_turn = find_pitch_per_turn(find_link_points(k, a.working.pose), u.advance_per_turn.value);
}

void set_transport(const Setup& s, LinkageAnalysis& a) {
    const Figure height = find_transport_height(s.tractor.hitch.category, s.choices.transport_ball_height);
    a.transport_height = height.value;
    a.transport_grade = height.grade;
    if (a.transport_height > 0.0) a.transport = solve_transport_pitch(a.model.linkage, a.transport_height);
}

void set_convergence(const Setup& s, LinkageAnalysis& a) {
    a.inverse_vertical_convergence = find_inverse_vertical_convergence(a.model.linkage);
    const LowerLinkReadings& l = s.tractor.lower_link;
    a.inverse_horizontal_convergence = find_inverse_horizontal_convergence(
        l.half_spread_at_pivot.value, l.half_spread_at_ball.value, a.model.linkage.lower_length);
}

void set_float(const Setup& s, LinkageAnalysis& a) {
    if (a.model.float_kind == UpperLinkKind::rigid || !a.working.pose.closes) return;
    a.working_band_of_pitch = find_float_band(a.model, a.model.working_height);
    a.working_float = find_float_pose(s, a.model, a.model.working_height);
}

LinkageAnalysis analyze_linkage(const Setup& s, const MountedModel& model) {
    LinkageAnalysis a;
    a.model = model;
    a.box = make_travel_box(model);
    a.pitch = model.strap_has_stops ? find_strap_pitch_extremes(model, a.box.heights) : find_pitch_extremes(model, a.box);
    const HeightRange typed{model.travel_bounds.low.height, model.travel_bounds.high.height};
    const HeightRange wide{model.lower_stop_binds ? model.travel.low : std::min(typed.low, model.travel.low),
                           model.lift_stop_binds ? model.travel.high : std::max(typed.high, model.travel.high)};
    a.dead_centres = find_dead_centres(model.linkage, wide);
    a.low = make_pose_report(s, model, model.travel.low);
    a.high = make_pose_report(s, model, model.travel.high);
    const bool inside = model.has_working_height && model.travel.contains(model.working_height);
    if (inside) a.working = make_pose_report(s, model, model.working_height);
    set_upper_link_facts(s, a);
    set_transport(s, a);
    set_convergence(s, a);
    set_float(s, a);
    return a;
}

void set_height_ranges(const Setup& s, const LinkageAnalysis& l, ShaftAnalysis& a) {
    const auto ranges = [&](JointEnd joint, const LimitView& limit) {
        if (!limit.set) return std::vector<HeightRange>{l.box.heights};
        return find_heights_within_angle(l.model, l.box, joint, limit.value);
    };
    const JointLimits t = find_joint_limits(s, JointEnd::tractor), i = find_joint_limits(s, JointEnd::implement);
    a.tractor_free = ranges(JointEnd::tractor, t.free);
    a.tractor_on = ranges(JointEnd::tractor, t.pto_off);
    a.tractor_reach = ranges(JointEnd::tractor, t.stop);
    a.implement_free = ranges(JointEnd::implement, i.free);
    a.implement_on = ranges(JointEnd::implement, i.pto_off);
    a.implement_reach = ranges(JointEnd::implement, i.stop);
}

ShaftAnalysis analyze_shaft(const Setup& s, const LinkageAnalysis& l, const Mark& mark) {
    ShaftAnalysis a;
    const MountedModel& m = l.model;
    a.travel = find_shaft_extremes(m, l.box);
    TravelBox band = l.box;
    band.heights = m.working_band;
    a.work = find_shaft_extremes(m, band);
    set_height_ranges(s, l, a);
    if (!m.has_halves) return a;
    a.limits = make_cut_limits(s.rules);
    const ShaftTravel bounds{a.travel.shortest.bound, a.travel.longest.bound, std::min(a.work.longest.bound, a.travel.longest.bound)};
    a.plan = plan_cut(m.halves, bounds, a.limits, mark);
    a.has_plan = is_answered(a.plan);
    const ShaftTravel attained{a.travel.shortest.value, a.travel.longest.value, std::min(a.work.longest.value, a.travel.longest.value)};
    a.plan_error = find_plan_error(a.plan, m.halves, bounds, attained, a.limits, mark);
    if (m.has_guard) {
        a.guard = check_guard_tubes(m.halves, m.guard, a.travel.shortest.bound, a.travel.longest.bound);
        a.has_guard = true;
    }
    return a;
}

int count_evaluations(const Analysis& a) {
    int n = 0;
    if (a.linkage) n += a.linkage->pitch.least.evaluations + a.linkage->pitch.greatest.evaluations;
    if (a.shaft) {
        for (const ShaftExtremes* e : {&a.shaft->travel, &a.shaft->work}) {
            n += e->shortest.evaluations + e->longest.evaluations + e->tractor_angle.evaluations +
                 e->implement_angle.evaluations + e->non_uniformity.evaluations;
        }
    }
    for (const Clearance& c : a.clearances) n += c.least.evaluations;
    if (a.drawn) n += count_evaluations(a.drawn->whole) + count_evaluations(a.drawn->turn);
    return n;
}

/// Why gap, overlap and cut are not told of a shaft: its lengths contradict each other, the rule set asks for no overlap, or no length can be
/// shown somewhere in the travel (the other joint comes into its wide-angle joint), be its tubes known or not. `plan`: where they are.
template <class Extreme>
void add_no_plan(const CutPlan* plan, const Extreme& shortest, const Extreme& longest, std::vector<Finding>& out) {
    const auto add = [&out](const char* subject, const char* other) {
        Finding f;
        f.kind = FindingKind::missing_reading;
        f.severity = Severity::unknown;
        f.subject = subject;
        f.other = other;
        out.push_back(f);
    };
    const bool has_length = shortest.bound > 0.0 && std::isfinite(longest.bound);
    if (!has_length) add("driveline.shaft", "no_length");
    if (!plan || is_answered(*plan)) return;
    if (plan->answer == CutAnswer::limits_invalid) add("rules.overlap_least", "missing");
    else if (has_length) add("driveline.shaft", "contradiction");
}

/// A reading whose error alone makes linkage or shaft impossible: no margin is certain then. Nameless: no error could be carried.
Finding report_broken_by(const std::string& reading, double share, Dimension dimension) {
    Finding f;
    f.kind = FindingKind::linkage_cannot_close;
    f.severity = Severity::unknown;
    f.subject = reading;
    f.other = "within_error";
    f.dimension = dimension;
    f.value = f.band = share;
    f.rule = Limit{0.0, true, Grade::D, "closure of the linkage"};
    if (!reading.empty()) f.remedies = {{RemedyKind::measure, 0.0, 0.0, reading}};
    f.cautions = {Caution::stop_before_touching};
    return f;
}

/// What was read directly, stub to input shaft; what is missing for it and was named before is not named twice.
void add_direct(const Setup& s, const MountedModelResult& mounted, const Mark& mark, Analysis& a) {
    if (s.direct_readings.empty() || !s.implement.pic.fitted) return;
    a.direct = analyze_direct(s, mounted, a.fit, mark);
    for (Finding& f : check_direct(s, *a.direct)) {
        const auto same = [&](const Finding& other) { return other.kind == f.kind && other.subject == f.subject && other.other == f.other; };
        if (std::none_of(a.findings.begin(), a.findings.end(), same)) a.findings.push_back(std::move(f));
    }
}

void add_hidden_pins(const Setup& s, Analysis& a) {
    if (s.tractor.ball_readings.empty()) return;
    const RodHoles holes = find_rod_holes(s);
    const Tractor read = holes.status == RodHoles::Status::ok ? put_rod_in_hole(s.tractor, holes.taped) : s.tractor;
    a.pins = find_hidden_pins(read);
    find_rod_errors(read, a.pins);
    append(a.findings, check_hidden_pins(s, a.pins));
}

/// The lift has its figures and still no answer: why not.
void add_open_lift(Analysis& a) {
    const LiftStudy& lift = *a.lift;
    constexpr const char* question = "whether the tractor lifts it";
    const bool asked = std::any_of(a.unjudged.begin(), a.unjudged.end(), [&](const Unjudged& u) { return u.question == question; });
    if (asked || !lift.mass_known || lift.answer != LiftAnswer::not_known) return;
    std::vector<std::string> readings = lift.missing;
    if (lift.strap_held) readings = {"implement.upper_link_float (a swing strap between stops is not reckoned)"};
    else if (readings.empty()) readings = {"tractor.lift_point (for the heights of this travel)"};
    a.unjudged.push_back({question, readings});
}

/// What would narrow the deciding number most.
void add_next_readings(const ErrorModel& errors, const std::vector<CandidateReading>& candidates, Analysis& a) {
    constexpr std::size_t most = 5;
    const Finding* decisive = find_decisive(a.findings);
    if (decisive == nullptr) return;
    a.decided_by = std::string(finding_word(decisive->kind)) + (decisive->subject.empty() ? "" : " " + decisive->subject);
    a.next = list_next_readings(errors, candidates, decisive->error.slopes, most);
}

/// The set-up that is judged: fitted to what was read directly, or as it was read. The fit goes into the analysis; where it is not
/// used it narrows nothing.
Setup take_fit(const Setup& given, Analysis& a) {
    std::optional<FittedSetup> fitted = fit_model(given);
    if (!fitted) return given;
    a.fit = std::move(fitted->fit);
    if (!a.fit->used) return given;
    return std::move(fitted->setup);
}

/// Findings judged by one number each, with their bands.
std::vector<Finding> find_mounted_margins(const ErrorModel& errors, const LinkageAnalysis& linkage, const std::vector<GroundClearance>& ground) {
    std::vector<Finding> found = check_parts(errors.setup(), linkage.model);
    append(found, check_linkage(errors.setup(), linkage));
    append(found, check_ground(linkage.model, ground));
    carry_mounted_margins(errors, linkage, found);
    return found;
}

/// What is judged of a mounted set-up beside its linkage, in the order it is reported.
struct MountedFindings {
    std::vector<Finding> linkage, shaft, floating, clearances, ground, space, lift, axles;
    std::vector<CandidateReading> candidates;  ///< none where nothing is to be read next
};

void judge_linkage(const ErrorModel& errors, const Analysis& a, MountedFindings& f) {
    f.linkage = find_mounted_margins(errors, *a.linkage, a.ground);
    const auto ground = std::stable_partition(f.linkage.begin(), f.linkage.end(), [](const Finding& x) { return x.kind != FindingKind::ground_clearance; });
    f.ground.assign(std::make_move_iterator(ground), std::make_move_iterator(f.linkage.end()));
    f.linkage.erase(ground, f.linkage.end());
}

void judge_shaft(const ErrorModel& errors, const MountedModel& model, const Mark& mark, Analysis& a, MountedFindings& f) {
    if (!model.has_shaft) return;
    a.shaft = analyze_shaft(errors.setup(), *a.linkage, mark);
    const ErrorBands bands = a.shaft->has_plan ? find_error_bands(errors, *a.linkage, *a.shaft) : ErrorBands{};
    f.shaft = check_shaft(errors.setup(), *a.linkage, *a.shaft, errors, bands);
    add_no_plan(model.has_halves ? &a.shaft->plan : nullptr, a.shaft->travel.shortest, a.shaft->travel.longest, f.shaft);
    if (a.shaft->has_plan && !bands.known) f.shaft.push_back(report_broken_by(bands.broken_by.reading, bands.broken_by.share, bands.broken_by_dimension));
}

/// The parts of an analysis that do not ask each other, at once where there is a thread for it, which then moves readings of an
/// `ErrorModel` of its own; `s`: those of `errors`. `finish`: what makes `model` whole, whose sway and tilt may take as long as all the
/// rest, and the linkage of `a`. Returns true when draws could turn a judgement.
bool judge_mounted(const Setup& s, const ErrorModel& errors, const MountedModel& model, const std::function<void()>& finish, const Mark& mark,
                   int threads, Analysis& a, MountedFindings& f) {
    std::optional<ErrorModel> own;
    const auto errors_of = [&](int by) -> const ErrorModel& {
        if (by == 0) return errors;
        if (!own) own.emplace(s, errors.narrowing(), errors.effort()).moved_models().share(errors.moved_models());
        return *own;
    };
    const std::function<void(int)> parts[] = {
        [&](int by) { a.space = study_sway_and_room(errors_of(by), model); },
        [&](int by) {
            a.ground = find_ground_clearances(s, model);
            judge_linkage(errors_of(by), a, f);
            judge_shaft(errors_of(by), model, mark, a, f);
        },
        [&](int by) {
            a.clearances = find_clearances(s, model, make_travel_box(model));
            f.clearances = check_clearances(errors_of(by), model, a.clearances);
        },
        [&](int by) {
            a.lift = study_lift(errors_of(by), model);
            f.lift = check_lift(errors_of(by), *a.lift);
        },
        [&](int by) {
            a.axles = study_axles(errors_of(by), model);
            f.axles = check_axles(errors_of(by), *a.axles);
        },
        [&](int by) {
            a.floating = study_float(errors_of(by), model, a.linkage->box);
            if (a.floating) f.floating = check_float_study(errors_of(by), *a.floating);
        }};
    SharedWork work;
    work.add([&](int) {
        finish();
        for (const auto& part : parts) work.add(part);
    }, true);
    // Meanwhile what asks nothing of sway and tilt. Nearly all numbers need the models of moved readings: each thread makes half of them.
    const MountedModel unfinished = model;
    for (const ReadingHalf half : {ReadingHalf::second, ReadingHalf::first}) {
        if (threads > 1) work.add([&, half](int by) { make_moved_models(errors_of(by), unfinished.pin_decision, half); });
    }
    std::optional<Levelling> levelling;
    work.add([&](int by) { levelling = study_levelling(errors_of(by), unfinished); });
    work.add([&](int by) {
        if (errors.effort() != BandEffort::second_order) f.candidates = list_candidates(errors_of(by));
    });
    work.run(threads);
    a.space->levelling = std::move(levelling);
    f.space = check_space(errors, model, *a.space);
    return errors.wants_draws() || (own && own->wants_draws());
}

/// Returns true when draws could turn a judgement.
bool analyze_mounted(const Setup& given, const Mark& mark, BandEffort effort, int threads, Analysis& a) {
    const Setup s = take_fit(given, a);
    MountedModelResult result = make_mounted_model(s, nullptr, RangeSearch::none);
    a.unjudged = list_unjudged(s);
    append(a.findings, report_obstacles(result.linkage_obstacles));
    append(a.findings, report_obstacles(result.shaft_obstacles));
    const ErrorModel errors(s, a.fit ? a.fit->narrowing : ErrorNarrowing{}, effort);
    append(a.findings, check_hitch_match(errors));
    append(a.findings, check_pto_match(errors));
    add_hidden_pins(s, a);
    const auto finish = [&] {
        MountedModel& m = result.model;
        if (result.linkage_ok) set_side_ranges(m.space, m, RangeSearch::bounded);
        add_direct(given, result, mark, a);
        if (a.fit) append(a.findings, check_fit(*a.fit));
        append(a.findings, check_tyres(s, m.tyres));
        if (result.linkage_ok) a.linkage = analyze_linkage(s, m);
    };
    if (!result.linkage_ok) {
        finish();
        return errors.wants_draws();
    }
    MountedFindings found;
    const bool wants_draws = judge_mounted(s, errors, result.model, finish, mark, threads, a, found);
    for (auto* part : {&found.linkage, &found.shaft, &found.floating, &found.clearances, &found.ground, &found.space, &found.lift, &found.axles})
        append(a.findings, std::move(*part));
    add_open_lift(a);
    sort_findings(a.findings);
    if (effort != BandEffort::second_order) add_next_readings(errors, found.candidates, a);
    return wants_draws;
}

/// Obstacles that are not said already: the stub carries the drawbar and the shaft.
std::vector<ModelObstacle> drop_said(std::vector<ModelObstacle> obstacles, const std::vector<ModelObstacle>& said) {
    std::erase_if(obstacles, [&](const ModelObstacle& o) {
        return std::any_of(said.begin(), said.end(),
                           [&](const ModelObstacle& s) { return s.kind == o.kind && s.key == o.key; });
    });
    return obstacles;
}

bool analyze_drawn_setup(const Setup& given, const Mark& mark, BandEffort effort, int threads, Analysis& a) {
    const Setup s = take_fit(given, a);
    const DrawnModelResult result = make_drawn_model(s);
    a.unjudged = list_unjudged(s);
    append(a.findings, report_obstacles(result.hitch_obstacles));
    append(a.findings, report_obstacles(drop_said(result.shaft_obstacles, result.hitch_obstacles)));
    const ErrorModel errors(s, a.fit ? a.fit->narrowing : ErrorNarrowing{}, effort);
    append(a.findings, check_pto_match(errors));
    if (!result.hitch_ok) return errors.wants_draws();
    if (a.fit) {
        a.direct.emplace();
        a.direct->comparison = make_direct_comparison(given, *a.fit);
        append(a.findings, check_direct(given, *a.direct));
        append(a.findings, check_fit(*a.fit));
    }
    std::vector<CandidateReading> candidates;
    a.drawn = analyze_drawn(errors, result.model, mark, threads, [&](const ErrorModel& own) {
        if (effort != BandEffort::second_order) candidates = list_candidates(own);
    });
    append(a.findings, check_drawn(errors, *a.drawn));
    append(a.findings, check_tyres(s, result.model.tyres));
    a.axles = study_axles(errors, result.model);
    append(a.findings, check_axles(errors, *a.axles));
    const DrawnBands& bands = a.drawn->bands;
    const DrawnModel& m = a.drawn->model;
    if (m.has_shaft) add_no_plan(m.has_halves ? &a.drawn->plan : nullptr, a.drawn->whole.shortest, a.drawn->whole.longest, a.findings);
    if (a.drawn->has_plan && !bands.known)
        a.findings.push_back(report_broken_by(bands.broken_by.reading, bands.broken_by.share, bands.broken_by_dimension));
    sort_findings(a.findings);
    if (effort != BandEffort::second_order) add_next_readings(errors, candidates, a);
    return errors.wants_draws();
}

/// An analysis without add-on parts, and whether draws could turn a judgement of it.
std::pair<Analysis, bool> analyze_once(const Setup& setup, const Mark& mark, BandEffort effort, int threads) {
    Analysis a;
    const bool drawn = setup.implement.attachment == Attachment::drawn;
    const bool wants_draws = drawn ? analyze_drawn_setup(setup, mark, effort, threads, a) : analyze_mounted(setup, mark, effort, threads, a);
    append(a.findings, check_specification(setup));
    sort_findings(a.findings);
    a.verdict = find_verdict(a.findings);
    a.evaluations = count_evaluations(a);
    return {std::move(a), wants_draws};
}

Analysis analyze_with_draws(const Setup& setup, const Mark& mark, BandEffort effort, int threads) {
    auto [analysis, wants_draws] = analyze_once(setup, mark, effort, threads);
    return wants_draws ? analyze_once(setup, mark, BandEffort::draws, threads).first : std::move(analysis);
}

/// Readings that were dropped: each is named once, and nothing is certain without them.
void name_dropped(const SoundReadings& sound, Analysis& a) {
    for (const std::string& key : sound.dropped) {
        std::erase_if(a.findings, [&](const Finding& f) { return f.kind == FindingKind::missing_reading && f.subject == key; });
        Finding f;
        f.kind = FindingKind::missing_reading;
        f.severity = Severity::unknown;
        f.subject = key;
        f.other = "impossible";
        f.rule = Limit{0.0, true, Grade::D, "arithmetic"};
        f.remedies = {{RemedyKind::measure, 0.0, 0.0, key}};
        f.cautions = {Caution::stop_before_touching};
        a.findings.push_back(std::move(f));
    }
    sort_findings(a.findings);
    a.verdict = find_verdict(a.findings);
}

}  // namespace

Analysis analyze(const Setup& given, const Mark& mark, BandEffort effort, int threads) {
    const std::optional<SoundReadings> sound = drop_impossible_readings(given);
    const Setup& setup = sound ? sound->setup : given;
    Analysis a = analyze_with_draws(setup, mark, effort, threads);
    if (setup.implement.attachment == Attachment::mounted) a.part_effects = compare_parts(setup, a, mark);
    if (sound) name_dropped(*sound, a);
    return a;
}

Analysis analyze_alone(const Setup& given, const Mark& mark, BandEffort effort, int threads) {
    const std::optional<SoundReadings> sound = drop_impossible_readings(given);
    Analysis a = analyze_with_draws(sound ? sound->setup : given, mark, effort, threads);
    if (sound) name_dropped(*sound, a);
    return a;
}

std::vector<PoseReport> sweep_travel(const Setup& given, int count) {
    std::vector<PoseReport> rows;
    const std::optional<SoundReadings> sound = drop_impossible_readings(given);
    const Setup setup = apply_fit(sound ? sound->setup : given);
    const MountedModelResult result = make_mounted_model(setup, nullptr, RangeSearch::none);
    if (setup.implement.attachment == Attachment::drawn || !result.linkage_ok || count < 2) return rows;
    const HeightRange& t = result.model.travel;
    for (int i = 0; i < count; ++i) {
        const double h = i + 1 == count ? t.high : t.low + (t.high - t.low) * i / (count - 1);
        rows.push_back(make_pose_report(setup, result.model, h));
    }
    return rows;
}

}  // namespace hitchwright
