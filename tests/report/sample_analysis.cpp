#include "sample_analysis.h"

#include "report/finding_text.h"

namespace hitchwright::sample {
namespace {

const Limit gap_rule{1.0 * inch, true, Grade::B, "operator manuals of several makers (1 in)"};
const Limit overlap_rule{6.0 * inch, true, Grade::B, "operator manuals of several makers (6 in)"};
const Limit third_rule{1.0 / 3.0, true, Grade::B, "operator manuals of several makers: one third always"};
const Limit angle_rule{25.0 * degree, true, Grade::B, "operator manuals: continuous work"};

TravelExtreme extreme(double value, double height_in) {
    TravelExtreme e;
    e.value = e.bound = value;
    e.height = height_in * inch;
    e.upper_length = 23.0 * inch;
    e.evaluations = 100;
    e.converged = true;
    return e;
}

PoseReport pose(double height_in, double pitch_deg, double length_in, double angle_1, double angle_2) {
    PoseReport p;
    p.pose.closes = true;
    p.pose.ball_height = height_in * inch;
    p.pose.pitch = pitch_deg * degree;
    p.pose.upper_link_angle = 10.0 * degree;
    p.pose.lower_link_angle = 5.0 * degree;
    p.upper_length = 23.0 * inch;
    p.inverse_hitch_distance = 0.4;
    p.shaft_length = length_in * inch;
    p.tractor_angle = angle_1 * degree;
    p.implement_angle = angle_2 * degree;
    p.non_uniformity = 0.012;
    p.gap = (length_in - 31.0) * inch;
    p.overlap = (31.0 + 19.5 - length_in) * inch;
    return p;
}

LinkageAnalysis make_linkage() {
    LinkageAnalysis l;
    MountedModel& m = l.model;
    m.linkage.upper_length = 23.0 * inch;
    m.travel = {8.0 * inch, 27.0 * inch};
    m.travel_bounds.known = true;
    m.travel_bounds.low = {8.0 * inch, TravelBound::typed, 0.125 * inch};
    m.travel_bounds.high = {33.0 * inch, TravelBound::lift_arm, 0.0};
    m.lift_stop_binds = true;
    m.has_working_height = true;
    m.working_height = 15.0 * inch;
    m.working_band = {12.0 * inch, 22.0 * inch};
    m.working_band_typed = true;
    m.has_shaft = m.has_halves = true;
    m.uncut.status = HalvesStatus::ok;
    m.uncut.halves = m.halves = {31.0 * inch, 19.5 * inch, 19.5 * inch};
    l.pitch.least = extreme(-0.2 * degree, 12.0);
    l.pitch.greatest = extreme(3.8 * degree, 27.0);
    l.reach = UpperLinkReach{true, 0.0, 0.0, 4.0 * inch, 5.0 * inch};
    l.turns = -1.5;
    l.pitch_per_turn = -0.9 * degree;
    l.low = pose(8.0, 0.2, 29.0, 7.8, 8.1);
    l.working = pose(15.0, 0.0, 29.625, 5.9, 5.9);
    l.high = pose(27.0, 3.8, 30.5, 31.0, 27.2);
    return l;
}

CutPlan make_plan() {
    CutPlan p;
    p.answer = CutAnswer::cut_to_aim;
    p.least_cut = {3.0 * inch, 3.0 * inch};
    p.least_total = 6.0 * inch;
    p.admissible = {p.least_cut, {6.5 * inch, 6.5 * inch}};
    p.equal_possible = true;
    p.equal_least = 3.0 * inch;
    p.equal_most = 7.0 * inch;
    p.recommended = p.to_aim = {3.5 * inch, 3.5 * inch};
    p.recommended_step = sixteenth_inch_mark.step;
    p.to_aim_admissible = true;
    p.uncut = {31.0 * inch, -2.0 * inch, 20.0 * inch, 6.5 * inch, false, true};
    p.after = {27.5 * inch, 1.5 * inch, 13.0 * inch, 6.0 * inch, true, true};
    p.closed_at_most = 28.0 * inch;
    p.extended_at_least = 30.5 * inch;
    return p;
}

ShaftAnalysis make_shaft() {
    ShaftAnalysis s;
    s.travel = {extreme(29.0 * inch, 8.0),
                extreme(30.5 * inch, 27.0),
                extreme(31.0 * degree, 27.0),
                extreme(27.2 * degree, 27.0),
                true,
                extreme(0.07, 27.0)};
    s.work = {extreme(29.25 * inch, 12.0),
              extreme(30.0 * inch, 22.0),
              extreme(20.0 * degree, 22.0),
              extreme(18.5 * degree, 22.0),
              true,
              extreme(0.018, 22.0)};
    s.has_plan = true;
    s.limits = {1.0 * inch, 1.5 * inch, 6.0 * inch, 1.0 / 3.0, 0.5};
    s.plan = make_plan();
    s.tractor_free = s.implement_free = {{8.0 * inch, 24.3 * inch}};
    s.tractor_on = s.implement_on = s.tractor_reach = s.implement_reach = {{8.0 * inch, 27.0 * inch}};
    return s;
}

Finding make(FindingKind kind, Severity severity, const char* subject, double value, double limit, const Limit& rule) {
    Finding f;
    f.kind = kind;
    f.severity = severity;
    f.subject = subject;
    f.value = value;
    f.has_limit = true;
    f.limit = limit;
    f.margin = value - limit;
    f.rule = rule;
    return f;
}

Finding make_gap() {
    Finding f = make(FindingKind::gap_at_shortest, Severity::change, "shaft", -2.0 * inch, 1.0 * inch, gap_rule);
    f.band = 0.5 * inch;
    f.has_height = true;
    f.height = 8.0 * inch;
    f.terms = {{"S_min", 29.0 * inch, Dimension::length, "shortest distance of the joint centres over the travel"},
               {"S_0", 31.0 * inch, Dimension::length, "closed length of the shaft"}};
    f.cautions = {Caution::parts_or_breaks};
    return f;
}

Finding make_cut() {
    Finding f = make(FindingKind::cut, Severity::change, "shaft", 3.5 * inch, 7.0 * inch, gap_rule);
    f.margin = 3.5 * inch;
    f.remedies = {{RemedyKind::cut_both_halves, 3.5 * inch, 3.5 * inch, ""}};
    f.cautions = {Caution::stop_before_touching, Caution::measure_before_cutting, Caution::guards_complete,
                  Caution::tug_both_ends};
    return f;
}

Finding make_condition() {
    Finding f = make(FindingKind::joint_angle_over_travel, Severity::condition, "tractor joint", 31.0 * degree,
                     25.0 * degree, angle_rule);
    f.dimension = Dimension::angle;
    f.margin = -6.0 * degree;
    f.other = "no_work";
    f.has_height = true;
    f.height = 27.0 * inch;
    f.heights = {{8.0 * inch, 24.3 * inch}};
    f.remedies = {{RemedyKind::pto_off_above, 24.3 * inch, 0.0, "no_work"}};
    f.cautions = {Caution::pto_off_above_height};
    return f;
}

Finding make_reach() {
    Finding f = make(FindingKind::upper_link_reach, Severity::good, "2", 23.0 * inch, 19.0 * inch,
                     {0.0, true, Grade::D, "closure of the linkage"});
    f.other = "for_working_pitch";
    f.terms = {{"turns", -1.5, Dimension::ratio, "turns from the present length, positive: lengthen"},
               {"thread_left_to_shorten", 4.0 * inch, Dimension::length, "thread left to shorten"},
               {"thread_left_to_lengthen", 5.0 * inch, Dimension::length, "thread left to lengthen"}};
    f.cautions = {Caution::nobody_between};
    return f;
}

Finding make_overlap() {
    Finding f = make(FindingKind::overlap_at_longest, Severity::good, "shaft", 20.0 * inch, 6.5 * inch, third_rule);
    f.has_height = true;
    f.height = 27.0 * inch;
    f.terms = {{"S_max", 30.5 * inch, Dimension::length, "longest distance of the joint centres over the travel"},
               {"t_A", 19.5 * inch, Dimension::length, "free tube of the tractor half"},
               {"t_B", 19.5 * inch, Dimension::length, "free tube of the implement half"},
               {"f", 1.0 / 3.0, Dimension::ratio, "share of the longer tube that must overlap"},
               {"O_least", 6.0 * inch, Dimension::length, "least overlap as a length"}};
    return f;
}

Finding make_splines(const char* end) {
    Finding f = make(FindingKind::pto_spline_match, Severity::good, end, 6.0, 6.0,
                     {0.0, true, Grade::B, "operator manuals: no adapters"});
    f.dimension = Dimension::ratio;
    return f;
}

Reading reading(double value, Origin origin, double tolerance) { return make_reading(value, origin, tolerance); }

}  // namespace

Setup tiller_setup() {
    Setup s;
    s.key = "tiller";
    s.name = "Tractor and tiller";
    s.note = "by hand";
    s.tractor.name = "Tractor in bay 2";
    s.tractor.upper_link_pins = {
        {"2", reading(8 * inch, Origin::measured, inch / 4), reading(32 * inch, Origin::measured, inch / 8)}};
    s.tractor.pto.stub_x = reading(11 * inch, Origin::measured, inch / 4);
    s.tractor.pto.stub_z = reading(21 * inch, Origin::manual, 0.0);
    s.tractor.pto.stub_slope = reading(0.0, Origin::assumed, 0.3 * degree);
    s.implement.name = "Tiller, 5 ft";
    s.implement.mast_pins = {
        {"1", reading(18 * inch, Origin::preset, inch / 16), reading(0.0, Origin::preset, inch / 8)}};
    s.implement.pic.fitted = true;
    s.has_driveline = true;
    s.driveline.name = "Shaft off the old tiller";
    s.driveline.closed_length = reading(31 * inch, Origin::measured, inch / 16);
    s.rules.key = "general";
    s.rules.name = "General";
    s.rules.gap_required = gap_rule;
    s.rules.overlap_least = overlap_rule;
    s.rules.overlap_fraction = third_rule;
    return s;
}

Analysis tiller_analysis() {
    Analysis a;
    a.verdict = Verdict::fits_after_change;
    a.findings = {make_gap(),
                  make_cut(),
                  make_condition(),
                  make_overlap(),
                  make_reach(),
                  make_splines("tractor end"),
                  make_splines("implement end")};
    a.linkage = make_linkage();
    a.shaft = make_shaft();
    a.evaluations = 1200;
    return a;
}

/// Everything that the study in space can say.
SpaceStudy full_space() {
    const LevelPose pose{true, 0.4, 0.2, Attitude{0.01, -0.03, 0.002}, 0.41, 0.39, {{"blade", 0.9, 0.43, 0.37}}};
    Levelling l{pose, pose, pose, pose, TractorSide::right, WantedRoll{}, 0.02, "blade", 1.8, {}};
    l.band.width = 0.005;
    l.wanted->typed = l.wanted->reached = true;
    l.wanted->roll = -0.05;
    l.wanted->rods = {{TractorSide::left, 0.42, 0.42, std::nullopt, false, std::nullopt, std::nullopt, std::nullopt, false, {}},
                      {TractorSide::right, 0.42, 0.44, 3.0, true, 0.01, 0.02, std::nullopt, false, {}}};
    SpaceStudy s;
    s.levelling = l;
    const SwayAt sway{0.4, -0.02, 0.02};
    s.sway = SwayStudy{SwaySource::chains, sway, sway, sway, TailSwing{"blade", 1.1, -0.03, 0.03, 0.04, 0.06}, {{0.7, 0.8}}, 0.0, {}, {}};
    s.tyre = TyreRoom{};
    s.side = {{-0.02, 0.02}, {-0.04, -0.02}, true};
    s.rods_told = true;
    return s;
}

ErrorBand uneven_band() {
    ErrorBand b;
    b.width = 0.5 * inch;
    b.below = 0.5625 * inch;
    b.above = 0.4375 * inch;
    b.method = BandMethod::second_order;
    b.widest = {"tractor.pto.stub_x", 0.375 * inch};
    b.second = {"implement.pic.z", 0.25 * inch};
    b.slopes = {0.375 * inch, 0.25 * inch};
    return b;
}

FittedReading make_fitted(const char* key, DirectKind kind, Dimension dimension, double height, double read, double error, double predicted,
                          double band, double fitted, double misfit) {
    FittedReading r;
    r.key = key;
    r.kind = kind;
    r.dimension = dimension;
    r.ball_height = height;
    r.read = read;
    r.error = error;
    r.predicted = predicted;
    r.band = band;
    r.fitted = fitted;
    r.misfit = misfit;
    return r;
}

ModelFit three_readings() {
    ModelFit fit;
    fit.used = true;
    fit.kept = 2;
    fit.misfit_sum = 1.5;
    FittedReading low = make_fitted("direct_reading[low]", DirectKind::shaft_length, Dimension::length, 8 * inch, 29.0625 * inch, inch / 8, 28.875 * inch, 0.6875 * inch, 29.0 * inch, 0.4);
    low.chance_caught = 0.99;
    low.widest = "tractor.pto.stub_x";
    FittedReading pitch = make_fitted("pose_reading[top]", DirectKind::pitch, Dimension::angle, 27 * inch, 3.5 * degree, 0.3 * degree, 3.8 * degree, 0.9 * degree, 3.6 * degree, -0.6);
    pitch.chance_caught = 0.4;
    FittedReading high = make_fitted("direct_reading[high]", DirectKind::shaft_length, Dimension::length, 27 * inch, 33.0 * inch, inch / 8, 30.5 * inch, 0.6875 * inch, 30.5 * inch, 5.0);
    high.fits = false;
    high.chance_caught = 0.99;
    fit.readings = {low, pitch, high};
    fit.inputs = {{"tractor.pto.stub_x", Dimension::length, 11 * inch, 11.375 * inch, 0.25 * inch, 0.125 * inch, true},
                  {"implement.pic.z", Dimension::length, 10 * inch, 10.0625 * inch, 0.125 * inch, 0.1 * inch, false}};
    fit.cause = DirectCause::one_reading;
    fit.subject = "direct_reading[high]";
    fit.equally = {"tractor.travel.high"};
    NextReading check;
    check.kind = DirectKind::pitch;
    check.dimension = Dimension::angle;
    check.ball_height = 17 * inch;
    check.error = 0.3 * degree;
    check.chance_caught = 0.97;
    fit.would_check = check;
    return fit;
}

std::vector<NextReading> two_next() {
    NextReading shaft;
    shaft.kind = DirectKind::shaft_length;
    shaft.ball_height = 8 * inch;
    shaft.error = inch / 8;
    shaft.band_now = 0.5 * inch;
    shaft.band_after = 0.25 * inch;
    NextReading again;
    again.again = true;
    again.key = "tractor.pto.stub_x";
    again.error = inch / 16;
    again.band_now = 0.5 * inch;
    again.band_after = 0.4375 * inch;
    return {shaft, again};
}

void set_trust(Analysis& a) {
    Finding& gap = a.findings.front();
    gap.error = uneven_band();
    gap.band = gap.error.width;
    a.fit = three_readings();
    a.next = two_next();
    a.decided_by = "gap_at_shortest " + gap.subject;
}

Analysis full_analysis() {
    Analysis a = tiller_analysis();
    a.unjudged = {{"guard tubes", {"driveline.guard.closed_length"}}};
    LinkageAnalysis& l = *a.linkage;
    l.model.float_kind = UpperLinkKind::slot;
    l.model.slack = 2.0 * inch;
    l.dead_centres = {{26.0 * inch, DeadCentreKind::stretched}};
    l.transport_height = 0.82;
    l.transport.upper_length = 23.5 * inch;
    l.transport.pitch = 9.0 * degree;
    l.inverse_vertical_convergence = 0.4;
    l.inverse_horizontal_convergence = 0.5;
    PitchBand band;
    band.low = -4.0 * degree;
    band.high = 3.0 * degree;
    l.working_band_of_pitch = band;
    FloatPose rest;
    rest.state = FloatState::ground_borne;
    rest.hollow_left = 3.0 * inch;
    rest.hump_left = 2.0 * inch;
    l.working_float = rest;
    FloatStudy study;
    study.at_low = study.at_high = band;
    study.at_working = band;
    study.ground = GroundFollowing{};
    study.ground->hump.pose.state = study.ground->level.pose.state = study.ground->hollow.pose.state = FloatState::ground_borne;
    study.ground->falls_to = study.ground->rises_to = study.ground->length_to_set = 0.1;
    study.deck_edges = {{"front of the hood", extreme(4.5 * inch, 27.0), 4.5 * inch, 5.0 * inch}};
    a.floating = study;
    PartFigures part;
    part.upper_link_length = part.height_at_top = part.pitch_at_top = 0.5;
    part.shaft = ShaftFigures{0.8, 1.1, 0.2, 0.3, 0.05, 0.2};
    a.part_effects = {{PartKind::coupler, "hooks", part, part}};
    a.space = full_space();
    a.shaft->has_guard = true;
    a.shaft->guard = {HalvesStatus::ok, true, -1.0 * inch, 19.0 * inch};
    a.clearances = {{ClearanceKind::guard_to_deck_edge, "front of the hood", extreme(4.5 * inch, 27.0), false}};
    a.ground = {{"skid", true, 13.0 * inch, true, 0.0, 0.0}};
    set_trust(a);
    return a;
}

std::vector<std::string> list_others(FindingKind kind) {
    switch (kind) {
        case FindingKind::missing_reading:
            return {"missing", "no_such_pin", "pin_not_chosen", "contradiction", "impossible", "no_length"};
        case FindingKind::linkage_cannot_close:
            return {"too_short", "too_long", "undefined", "past_dead_centre", "within_error"};
        case FindingKind::upper_link_reach:
            return {"typed", "for_working_pitch"};
        case FindingKind::travel_bound:
            return {"typed", "lift_arm", "empty_travel", "outside"};
        case FindingKind::coupler_seat:
            return {"held", "depth_unknown", "below_seat", "above_lip", "beside"};
        case FindingKind::floating_link_slot:
            return {"typed", "assumed", "no_pitch"};
        case FindingKind::link_extender:
            return {"taped", "lift_arm"};
        case FindingKind::other_tyres:
            return {"turned", "level", "level_assumed"};
        case FindingKind::joint_angle_over_travel:
            return {"", "pto_off", "no_work", "lift_stop", "pto_off_with_stop"};
        case FindingKind::guard_gap:
            return {"", "cured_by_cut"};
        case FindingKind::guard_overlap:
            return {"", "after_cut"};
        case FindingKind::ground_clearance:
            return {"top", "working"};
        case FindingKind::joint_model:
            return {"", "wide_angle_at_both_ends"};
        default:
            return {"", "a second part with a rather long name of its own"};
    }
}

Finding make_finding(FindingKind kind, Severity severity) {
    Finding f = make(kind, severity, "driveline.implement_joint.centre_to_groove", -0.0501234, 0.1524,
                     {0.1524, true, Grade::C, "a source"});
    const bool angle = kind == FindingKind::joint_angle_in_work || kind == FindingKind::joint_angle_over_travel ||
                       kind == FindingKind::joint_angle_watch || kind == FindingKind::working_pitch ||
                       kind == FindingKind::pitch_range;
    if (angle) f.dimension = Dimension::angle;
    if (severity == Severity::good) f.value = f.limit + 0.01, f.margin = 0.01;
    f.band = severity == Severity::unknown ? 0.3 : 0.0;
    f.has_height = true;
    f.height = 0.6543;
    f.heights = {{0.2, 0.31}, {0.4, 0.5}};
    f.terms = {{"S_min", 0.9, Dimension::length, "shortest"},
               {"S_max", 1.1, Dimension::length, "longest"},
               {"S_0", 0.8, Dimension::length, "closed"},
               {"t_A", 0.5, Dimension::length, "tube"},
               {"t_B", 0.4, Dimension::length, "tube"},
               {"f", 1.0 / 3.0, Dimension::ratio, "share"},
               {"O_least", 0.15, Dimension::length, "least"},
               {"turns", 1.0, Dimension::ratio, "turns"},
               {"pitch_per_turn", -0.01, Dimension::angle, "per turn"},
               {"spare", 0.03, Dimension::length, "spare"},
               {"hollow_left", 0.1, Dimension::length, "hollow"},
               {"turn", 0.02, Dimension::angle, "turn"},
               {"loads_left_out", 1.0, Dimension::ratio, "loads"}};
    for (const RemedyKind r : all_remedy_kinds())
        f.remedies.push_back({r, 0.51234, 0.61234, r == RemedyKind::measure ? "tractor.pto.stub_x" : "a part"});
    return f;
}

}  // namespace hitchwright::sample
