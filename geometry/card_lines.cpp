#include "geometry/card_lines.h"

#include <algorithm>

namespace hitchwright {
namespace {

/// Blank items a printed card has room for: holes come in threes, obstacles in twos.
constexpr std::size_t blank_holes = 3, blank_points = 2, blank_singles = 1, blank_readings = 3;

/// What the set-up is like, as far as it decides which fields are asked for.
struct Job {
    bool with_shaft = false;
    bool drawn = false;
    bool height_known = false;  ///< of the drawbar, taped, by its drop, or in the position chosen
    bool height_taped = false, drop_known = false;
    bool wheels_listed = false, clevis = false, steady_bearing = false;
    bool ditch_named = false;  ///< the set-up says something about a ditch or ridge
    bool ditch_points = false;
    bool arm_known = false;    ///< the travel follows from arm and rod
    bool closed_length_known = false;
    bool pivot_known = false;   ///< of the lower link, taped
    bool pivot_found = false;   ///< it follows from ball readings
    bool halves_known = false;  ///< the tractor half's tube follows from the other one, the overlap or the longest length
    UpperLinkKind float_kind = UpperLinkKind::rigid;
    LengthReference reference = LengthReference::joint_centres;
    std::size_t upper_link_holes = 0, mast_holes = 0, rod_holes = 0, drawbar_pins = 0;
};

bool names_ditch(const DitchReadings& d) {
    return d.depth.known || d.bottom_width.known || d.side_slope.known || d.crossing_angle.known || !d.points.empty();
}

/// What only drawn implements have.
void find_drawn_job(const Setup& s, Job& job) {
    const DrawbarReadings& d = s.tractor.drawbar;
    const std::vector<DrawbarPin>& pins = s.tractor.drawbar_pins;
    const std::string& chosen = s.choices.drawn.drawbar_pin;
    job.height_taped = d.top_height.known;
    job.drop_known = d.drop.known;
    job.height_known =
        d.top_height.known || d.drop.known || std::any_of(pins.begin(), pins.end(), [&](const DrawbarPin& p) {
            return p.top_height.known && (pins.size() == 1 || (!chosen.empty() && p.name == chosen));
        });
    job.wheels_listed = !s.implement.ground_contacts.empty();
    job.clevis = s.implement.drawn.hitch == DrawnHitchKind::clevis;
    job.steady_bearing = s.implement.drawn.steady_bearing.fitted;
    job.ditch_named = names_ditch(s.choices.drawn.ditch);
    job.ditch_points = !s.choices.drawn.ditch.points.empty();
    job.drawbar_pins = pins.size();
}

Job find_job(const Setup& s) {
    const LiftArmReadings& a = s.tractor.lift_arm;
    const LiftRodReadings& r = s.tractor.lift_rod;
    Job job;
    job.with_shaft = has_shaft_job(s);
    job.drawn = s.implement.attachment == Attachment::drawn;
    job.arm_known = a.pivot_x.known && a.pivot_z.known && a.length.known && a.half_spread.known && a.angle_low.known &&
                    a.angle_high.known && r.length.known && (r.pin_along_link.known || !s.tractor.lift_rod_holes.empty());
    job.pivot_known = s.tractor.lower_link.pivot_x.known && s.tractor.lower_link.pivot_z.known;
    job.pivot_found = s.tractor.ball_readings.size() >= 3;
    job.halves_known = s.driveline.implement_tube.known || s.driveline.overlap_closed.known || s.driveline.longest_usable.known;
    job.closed_length_known = s.driveline.closed_length.known;
    job.float_kind = s.implement.upper_link_float.kind;
    job.reference = s.driveline.reference;
    job.upper_link_holes = s.tractor.upper_link_pins.size();
    job.mast_holes = s.implement.mast_pins.size();
    job.rod_holes = s.tractor.lift_rod_holes.size();
    if (job.drawn) find_drawn_job(s, job);
    return job;
}

/// Collects lines in the order of the fields.
class LineCollector {
public:
    LineCollector(const Job& job, BlankItems blanks, std::vector<CardLine>& lines, std::string prefix)
        : job_(job), blanks_(blanks), lines_(lines), key_(prefix), pattern_(std::move(prefix)) {}

    void stand_at(Station station, Asked asked, Hitched hitched) {
        station_ = station;
        asked_ = asked;
        hitched_ = hitched;
    }

    void reading(const char* key, Reading& r, const FieldSpec& spec) {
        const Asked asked = spec.own_job ? spec.asked : asked_;
        if (!is_asked(asked, r.known && r.origin != Origin::assumed)) return;
        CardLine& line = add(key, CardForm::quantity, spec.measure_for(job_.drawn));
        line.spec = spec;
        line.known = r.known;
        line.reading = r;
        line.needed = is_needed(line.pattern, spec.need, r.known);
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& value, const ChoiceName<E> (&names)[N], const char* what) {
        // The kind of joint stands before its spacing, which is asked for accordingly.
        if constexpr (std::is_same_v<E, JointKind>) joint_ = value;
        if (!is_asked(asked_, value != E{})) return;
        CardLine& line = add(key, CardForm::word, what);
        for (const ChoiceName<E>& name : names) {
            line.words.emplace_back(name.word);
            const bool open = name.word == std::string_view("unknown") || name.word == std::string_view("none");
            if (name.value == value && !open) line.text = name.word;
        }
        line.known = value != E{};
        // A length of the shaft is never read without its points, so one that is known vouches for them.
        if (line.pattern == "driveline.shaft.reference") {
            line.needed = true;
            line.known = job_.closed_length_known;
            if (!line.known) line.text.clear();
        }
    }
    void text(const char* key, std::string& value, const char* what) {
        if (!is_asked(asked_, !value.empty()) || (in_item_ && blanks_ == BlankItems::where_empty)) return;
        CardLine& line = add(key, CardForm::name, what);
        line.text = value;
        line.known = !value.empty();
        line.needed = is_choice_of_hole(line.pattern);
    }
    void whole(const char* key, int& value, int least, int most, const char* what) {
        if (!is_asked(asked_, value != 0)) return;
        CardLine& line = add(key, CardForm::whole, what);
        line.least = least;
        line.most = most;
        line.known = value != 0;
        line.text = line.known ? std::to_string(value) : std::string{};
    }
    void whole_list(const char* key, std::vector<int>& values, int least, int most, const char* what) {
        if (!is_asked(asked_, !values.empty())) return;
        CardLine& line = add(key, CardForm::whole_list, what);
        line.least = least;
        line.most = most;
        line.known = !values.empty();
        for (const int value : values) line.text += (line.text.empty() ? "" : ", ") + std::to_string(value);
    }
    void flag(const char* key, bool& value, const char* what) {
        if (!is_asked(asked_, value)) return;
        CardLine& line = add(key, CardForm::flag, what);
        line.words = {"true", "false"};
        line.known = value;
        line.text = value ? "true" : std::string{};
    }

    template <class F>
    void table(const char* key, F&& visit_members) {
        LineCollector inner = make_inner(join(key_, key), join(pattern_, key));
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char*) {
        if (!is_asked(asked_, !items.empty())) return;
        const std::size_t typed = items.size();
        for (std::size_t i = 0; i < typed; ++i) visit(key, items[i], i, false, visit_item);
        const std::size_t more = blanks_ == BlankItems::one_more ? 1 : typed == 0 ? find_blanks(key) : 0;
        for (std::size_t i = typed; i < typed + more; ++i) {
            T blank{};
            visit(key, blank, i, true, visit_item);
        }
    }

private:
    LineCollector make_inner(std::string key, std::string pattern) const {
        LineCollector inner(job_, blanks_, lines_, std::move(key));
        inner.pattern_ = std::move(pattern);
        inner.stand_at(station_, asked_, hitched_);
        inner.item_ = item_;
        inner.in_item_ = in_item_;
        inner.blank_item_ = blank_item_;
        return inner;
    }

    template <class T, class F>
    void visit(const char* key, T& item, std::size_t place, bool blank, F& visit_item) {
        const std::string id = item.name.empty() ? std::to_string(place + 1) : item.name;
        LineCollector inner = make_inner(join(key_, key) + "[" + id + "]", join(pattern_, key) + "[]");
        inner.item_ = blank ? std::string{} : item.name;
        inner.in_item_ = true;
        inner.blank_item_ = blank;
        visit_item(item, inner);
    }

    static std::size_t find_blanks(std::string_view list) {
        if (list == "upper_link_pin" || list == "mast_pin" || list == "drawbar_pin") return blank_holes;
        if (list == "ball_reading" || list == "direct_reading") return blank_readings;
        return list == "ground_contact" ? blank_singles : blank_points;
    }

    static std::string join(const std::string& before, const char* key) { return before.empty() ? key : before + "." + key; }

    CardLine& add(const char* key, CardForm form, const char* what) {
        CardLine& line = lines_.emplace_back();
        // Nothing is taken with a drawn implement coupled but the angle its wheels would tell.
        line.station = job_.drawn && station_ == Station::coupled ? Station::contacts : station_;
        line.key = join(key_, key);
        line.pattern = join(pattern_, key);
        line.item = item_;
        line.blank_item = blank_item_;
        line.form = form;
        line.what = what;
        return line;
    }

    bool is_asked(Asked asked, bool known) const {
        if (station_ == Station::none) return false;
        if (hitched_ != Hitched::either && (hitched_ == Hitched::drawn) != job_.drawn) return false;
        switch (asked) {
            case Asked::always:
            case Asked::as_found: return true;
            case Asked::rod_holes: return known || job_.rod_holes > 1;
            case Asked::hidden_pivot: return known || !job_.pivot_known;
            case Asked::direct_check:
            case Asked::with_shaft: return job_.with_shaft;
            case Asked::slot_or_chain: return job_.float_kind == UpperLinkKind::slot || job_.float_kind == UpperLinkKind::chain;
            case Asked::swing_strap: return job_.float_kind == UpperLinkKind::swing_strap;
            case Asked::wide_angle: return job_.with_shaft && joint_ == JointKind::wide_angle;
            case Asked::locking_grooves: return job_.with_shaft && job_.reference == LengthReference::locking_grooves;
            case Asked::shaft_ends: return job_.with_shaft && job_.reference == LengthReference::shaft_ends;
            case Asked::from_stub: return job_.with_shaft || job_.drawn;
            case Asked::height_by_drop: return known || !job_.height_taped;
            case Asked::pitch_not_found: return known || !job_.drawn || !job_.wheels_listed;
            case Asked::clevis: return known || job_.clevis;
            case Asked::steady_bearing: return job_.with_shaft && job_.steady_bearing;
            case Asked::ditch: return job_.drawn;
            case Asked::if_known: return known;
            case Asked::other: break;
        }
        return false;
    }

    bool is_needed(const std::string& pattern, Need need, bool known) const {
        if (job_.drawn && (is_needed_to_hitch(pattern) || is_needed_for_ditch(pattern))) return true;
        switch (need) {
            // One hole is enough to go on with; what may stay away altogether is not needed by its blanks.
            case Need::file: return !blank_item_ || (!may_stay_away(asked_) && key_.ends_with("[1]"));
            case Need::linkage:
                if (job_.pivot_found && is_found_from_balls(pattern)) return false;
                return !(job_.arm_known && pattern.starts_with("tractor.travel."));
            case Need::driveline: return job_.with_shaft;
            case Need::part: return true;
            case Need::optional: break;
        }
        // One tube, the other taken as equal, or the overlap: without any of them there is no gap and no overlap.
        return pattern == "driveline.shaft.tractor_tube" && (known || !job_.halves_known);
    }

    bool is_needed_to_hitch(std::string_view pattern) const {
        if (pattern == "tractor.drawbar.top_height") return !job_.height_known || job_.height_taped;
        if (pattern == "tractor.drawbar.drop") return job_.drop_known && !job_.height_taped;
        return pattern == "tractor.pto.stub_x" || pattern == "tractor.pto.stub_z";
    }

    /// Without any of these nothing stands on the ground, so that a ditch that is named is not judged.
    bool is_needed_for_ditch(std::string_view pattern) const {
        if (!job_.ditch_named) return false;
        constexpr std::string_view rig[] = {"tractor.tyre.rear_radius",        "tractor.tyre.rear_track",
                                            "tractor.tyre.front_radius",       "tractor.tyre.front_track",
                                            "tractor.tyre.front_pivot_height", "tractor.mass.wheelbase"};
        if (std::find(std::begin(rig), std::end(rig), pattern) != std::end(rig)) return true;
        if (pattern == "choices.ditch.depth" || pattern == "choices.ditch.side_slope") return !job_.ditch_points;
        const bool of_axle = pattern.starts_with("implement.ground_contact[].") && !pattern.ends_with(".radius");
        return of_axle && (!blank_item_ || (!job_.wheels_listed && key_.ends_with("[1]")));
    }

    static bool may_stay_away(Asked asked) {
        return asked == Asked::as_found || asked == Asked::hidden_pivot || asked == Asked::direct_check;
    }
    static bool is_found_from_balls(std::string_view pattern) {
        return pattern == "tractor.lower_link.pivot_x" || pattern == "tractor.lower_link.pivot_z" || pattern == "tractor.lower_link.length";
    }

    bool is_choice_of_hole(std::string_view pattern) const {
        return (pattern == "choices.upper_link_pin" && job_.upper_link_holes > 1) ||
               (pattern == "choices.mast_pin" && job_.mast_holes > 1) ||
               (pattern == "tractor.travel.lift_rod_hole" && job_.rod_holes > 1) ||
               (pattern == "choices.drawbar_pin" && job_.drawbar_pins > 1);
    }

    const Job& job_;
    BlankItems blanks_;
    std::vector<CardLine>& lines_;
    std::string key_, pattern_, item_;
    bool in_item_ = false, blank_item_ = false;
    Station station_ = Station::none;
    Asked asked_ = Asked::always;
    Hitched hitched_ = Hitched::either;
    JointKind joint_ = JointKind::plain;
};

// Both ends of a shaft have the same readings; their words say which end is meant.
void name_joints(std::vector<CardLine>& lines) {
    for (CardLine& line : lines) {
        if (line.pattern.starts_with("driveline.tractor_joint.")) line.what = "tractor end: " + line.what;
        if (line.pattern.starts_with("driveline.implement_joint.")) line.what = "implement end: " + line.what;
    }
}

// The working height stands once on a card, as the set-up's own; what the implement's file says about it is shown there.
void join_working_readings(const Setup& s, std::vector<CardLine>& lines) {
    for (CardLine& line : lines) {
        const bool height = line.key == "choices.working_ball_height";
        if (!height && line.key != "choices.working_pitch") continue;
        const Reading& own = height ? s.implement.work.ball_height : s.implement.work.pitch;
        if (!line.known && own.known) {
            line.known = true;
            line.reading = own;
        }
        // Angles of a shaft are judged where it works; without one a link as set takes the place of the height.
        if (height) line.needed = has_shaft_job(s) || !s.choices.upper_link_length.known;
    }
}

}  // namespace

bool has_shaft_job(const Setup& setup) { return setup.implement.pic.fitted || setup.has_driveline; }

// The drawbar's pin is the one thing no drawn job can do without, so its lines are always there.
bool is_drawn_card(const std::vector<CardLine>& lines) {
    return std::any_of(lines.begin(), lines.end(),
                       [](const CardLine& l) { return l.pattern == "tractor.drawbar_pin[].length"; });
}

Setup make_blank_setup(bool with_shaft, Attachment attachment) {
    Setup setup;
    setup.implement.attachment = attachment;
    setup.implement.pic.fitted = with_shaft;
    setup.has_driveline = with_shaft;
    return setup;
}

std::vector<CardLine> list_card_lines(const Setup& setup, BlankItems blanks) {
    Setup copy = setup;
    const Job job = find_job(setup);
    std::vector<CardLine> lines;
    visit_fields(copy.tractor, LineCollector(job, blanks, lines, "tractor"));
    visit_fields(copy.implement, LineCollector(job, blanks, lines, "implement"));
    visit_fields(copy.driveline, LineCollector(job, blanks, lines, "driveline"));
    visit_parts(copy.parts, [&](const char* key, auto& part) {
        if (part.fitted) visit_fields(part, LineCollector(job, blanks, lines, key));
    });
    visit_fields(copy.choices, LineCollector(job, blanks, lines, "choices"));
    visit_setup_own(copy.job, copy.direct_readings, copy.pose_readings, copy.turn_readings, LineCollector(job, blanks, lines, {}));
    join_working_readings(setup, lines);
    name_joints(lines);
    std::stable_sort(lines.begin(), lines.end(),
                     [](const CardLine& a, const CardLine& b) { return a.station < b.station; });
    for (std::size_t i = 0; i < lines.size(); ++i) lines[i].number = static_cast<int>(i) + 1;
    return lines;
}

}  // namespace hitchwright
