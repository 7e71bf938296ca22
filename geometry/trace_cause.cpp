#include "geometry/trace_cause.h"

#include <algorithm>
#include <cmath>

#include "geometry/error_model.h"
#include "geometry/standing_tractor.h"
#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

/// Marks on a shaft are made with a tape; stops are set against the floor.
/// Two sigma of a published or gauged force, as a share of it: judgement, no source.
constexpr double usual_force_error = 0.10;

/// Masses and forces that the lift depends on.
bool is_load_key(const std::string& key) {
    return key == "implement.mass.mass" || key == "coupler.mass" || key.starts_with("tractor.mass.lift_") ||
           (key.starts_with("tractor.lift_point") && key.ends_with(".force"));
}

double find_tolerance(const std::string& key, const Reading& r, const FieldSpec& spec) {
    if (r.tolerance > 0.0) return r.tolerance;
    if (key.starts_with("choices.cut_")) return field::pin_error;
    if (key == "choices.lift_stop" || key == "choices.lower_stop") return field::floor_error;
    if (spec.dimension == Dimension::mass) return find_reading_error(r, spec, key);
    if (spec.dimension == Dimension::force) return usual_force_error * r.value;
    return spec.tolerance;
}

CauseKind find_reading_kind(const std::string& key) {
    if (key == link_length_key) return CauseKind::link_turned;
    if (key == "tractor.lift_rod.length" || key == "tractor.lift_rod.pin_along_link") return CauseKind::rod_changed;
    if (key.starts_with("choices.cut_")) return CauseKind::cut_made;
    if (key == "choices.lift_stop" || key == "choices.lower_stop") return CauseKind::stop_moved;
    return CauseKind::reading;
}

/// Taken to one side or the other of a line, where a slip turns the sign.
bool has_sides(const std::string& key) {
    if (key.starts_with("implement.mast_pin[")) return key.ends_with(".offset");
    constexpr const char* ends[] = {".stub_slope",   ".stub_y",  ".plan_angle", ".stub_plan_angle", ".pic.y",
                                    ".pic.slope",    ".pivot_x", ".hook_rise",  ".hook_offset",     ".pin_offset",
                                    ".pin_off_link", ".front_y", ".rear_y"};
    return std::any_of(std::begin(ends), std::end(ends), [&](const char* e) { return key.ends_with(e); });
}

class CauseLister {
public:
    CauseLister(const TraceMachine& believed, bool loads) : machine_(believed), s_(machine_.setup), loads_(loads) {}

    CauseList run() {
        const bool drawn = s_.implement.attachment == Attachment::drawn;
        list_readings();
        list_tyres();
        if (!drawn) {
            list_holes();
            list_float();
            list_part("coupler", s_.parts.coupler.fitted,
                      s_.parts.coupler.set_back.known && s_.parts.coupler.pin_height.known &&
                          s_.parts.coupler.hook_height.known);
            list_part("link_extender", s_.parts.link_extender.fitted, s_.parts.link_extender.length.known);
        } else {
            list_names(CauseKind::drawbar_position, "choices.drawbar_pin", s_.tractor.drawbar_pins,
                       s_.choices.drawn.drawbar_pin);
        }
        list_part("overrunning_clutch", s_.parts.overrunning_clutch.fitted,
                  s_.parts.overrunning_clutch.added_length.known);
        list_part("spline_extender", s_.parts.spline_extender.fitted, s_.parts.spline_extender.added_length.known);
        if (s_.has_driveline) list_shaft();
        return std::move(list_);
    }

private:
    void add(CauseKind kind, std::string key, std::string from, std::string to, double weight) {
        Cause c;
        c.kind = kind;
        c.key = std::move(key);
        c.from = std::move(from);
        c.to = std::move(to);
        c.weight = weight;
        list_.causes.push_back(std::move(c));
    }

    void list_readings() {
        std::vector<std::string> sides;
        visit_readings(s_, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
            const double tolerance = find_tolerance(key, r, spec);
            const bool counts = spec.dimension == Dimension::length || spec.dimension == Dimension::angle || (loads_ && is_load_key(key));
            if (!r.known || !(tolerance > 0.0) || !counts) return;
            Cause c;
            c.kind = find_reading_kind(key);
            c.key = key;
            c.dimension = spec.dimension;
            c.believed = r.value;
            c.tolerance = tolerance;
            c.least = std::min(spec.least, r.value);
            c.most = std::max(spec.most, r.value);
            c.usual_size = find_usual_size(c.kind, tolerance);
            c.weight = find_cause_weight(c.kind);
            list_.causes.push_back(c);
            if (has_sides(key) && r.value != 0.0) sides.push_back(key);
        });
        for (const std::string& key : sides)
            add(CauseKind::sign_slip, key, {}, {}, find_cause_weight(CauseKind::sign_slip));
    }

    void list_tyres() {
        const StandingSetup on(s_);
        const TyreReadings& tyres = on->tractor.tyre;
        const Reading& wheelbase = s_.tractor.mass.wheelbase;
        const bool other = find_tyre_change(s_).moved();
        const auto tyre = [&](CauseKind kind, const char* member, const Reading& radius) {
            const std::string key = (other ? "tractor.tyre_set[" + s_.choices.tyre_set + "]." : std::string("tractor.tyre.")) + member;
            if (!radius.known) return list_.not_tried.push_back({kind, key});
            if (!wheelbase.known) return list_.not_tried.push_back({kind, "tractor.mass.wheelbase"});
            Cause c;
            c.kind = kind;
            c.key = key;
            c.believed = radius.value;
            c.tolerance = radius.tolerance > 0.0 ? radius.tolerance : field::floor_error;
            c.least = 0.5 * radius.value;
            c.most = 1.5 * radius.value;
            c.usual_size = find_usual_size(kind, c.tolerance);
            c.weight = find_cause_weight(kind);
            list_.causes.push_back(c);
        };
        tyre(CauseKind::rear_tyre, "rear_radius", tyres.rear_radius);
        tyre(CauseKind::front_tyre, "front_radius", tyres.front_radius);
    }

    template <class Item>
    void list_names(CauseKind kind, const char* key, const std::vector<Item>& items, const std::string& chosen) {
        if (items.size() < 2 || chosen.empty()) return;
        const double share = find_cause_weight(kind) / static_cast<double>(items.size() - 1);
        for (const Item& item : items) {
            if (item.name != chosen) add(kind, key, chosen, item.name, share);
        }
    }

    void list_holes() {
        list_names(CauseKind::tractor_hole, "choices.upper_link_pin", s_.tractor.upper_link_pins,
                   s_.choices.upper_link_pin);
        list_names(CauseKind::mast_hole, "choices.mast_pin", s_.implement.mast_pins, s_.choices.mast_pin);
        const RodHoles rod = find_rod_holes(s_);
        if (rod.status == RodHoles::Status::ok)
            list_names(CauseKind::rod_hole, "choices.lift_rod_hole", s_.tractor.lift_rod_holes,
                       s_.tractor.lift_rod_holes[rod.chosen].name);
    }

    void list_float() {
        if (s_.implement.upper_link_float.kind == UpperLinkKind::rigid) return;
        add(CauseKind::float_blocked, "implement.upper_link_float.kind", {}, "rigid",
            find_cause_weight(CauseKind::float_blocked));
    }

    void list_part(const char* key, bool fitted, bool known) {
        if (fitted)
            add(CauseKind::part_missing, std::string(key) + ".fitted", "fitted", "not fitted",
                find_cause_weight(CauseKind::part_missing));
        else if (known)
            add(CauseKind::part_fitted, std::string(key) + ".fitted", "not fitted", "fitted",
                find_cause_weight(CauseKind::part_fitted));
    }

    void list_shaft() {
        const Choices& c = s_.choices;
        const bool a = c.cut_tractor_half.value_or(0.0) > 0.0, b = c.cut_implement_half.value_or(0.0) > 0.0;
        if (a || b)
            add(CauseKind::cut_forgotten, "choices.cut_tractor_half", {}, {},
                find_cause_weight(CauseKind::cut_forgotten));
        if (a && b) {
            const double half = 0.5 * find_cause_weight(CauseKind::one_half_cut);
            add(CauseKind::one_half_cut, "choices.cut_tractor_half", {}, {}, half);
            add(CauseKind::one_half_cut, "choices.cut_implement_half", {}, {}, half);
        }
        constexpr ChoiceName<LengthReference> all[] = {{"joint_centres", LengthReference::joint_centres},
                                                       {"locking_grooves", LengthReference::locking_grooves},
                                                       {"shaft_ends", LengthReference::shaft_ends}};
        std::string from;
        for (const auto& name : all)
            if (name.value == s_.driveline.reference) from = name.word;
        const double share = 0.5 * find_cause_weight(CauseKind::shaft_points);
        for (const auto& name : all) {
            if (name.value == s_.driveline.reference) continue;
            const JointReadings &t = s_.driveline.tractor_joint, &i = s_.driveline.implement_joint;
            const bool grooves = name.value == LengthReference::locking_grooves,
                       ends = name.value == LengthReference::shaft_ends;
            if (grooves && !(t.centre_to_groove.known && i.centre_to_groove.known)) {
                list_.not_tried.push_back({CauseKind::shaft_points, "driveline.tractor_joint.centre_to_groove"});
                continue;
            }
            if (ends && !(t.centre_to_end.known && i.centre_to_end.known)) {
                list_.not_tried.push_back({CauseKind::shaft_points, "driveline.tractor_joint.centre_to_end"});
                continue;
            }
            add(CauseKind::shaft_points, "driveline.shaft.reference", from, name.word, share);
        }
    }

    TraceMachine machine_;
    Setup& s_;
    bool loads_ = false;
    CauseList list_;
};

/// The slip made on a machine.
void make_slip(const Cause& c, Setup& s) {
    Choices& choices = s.choices;
    const auto rod = [&] {
        // Heights were taped with the rod in the hole it is believed to be in.
        const RodHoles holes = find_rod_holes(s);
        if (s.tractor.travel.lift_rod_hole.empty() && holes.status == RodHoles::Status::ok)
            s.tractor.travel.lift_rod_hole = s.tractor.lift_rod_holes[holes.taped].name;
        choices.lift_rod_hole = c.to;
    };
    switch (c.kind) {
        case CauseKind::tractor_hole:
            choices.upper_link_pin = c.to;
            break;
        case CauseKind::mast_hole:
            choices.mast_pin = c.to;
            break;
        case CauseKind::rod_hole:
            rod();
            break;
        case CauseKind::drawbar_position:
            choices.drawn.drawbar_pin = c.to;
            break;
        case CauseKind::cut_forgotten:
            choices.cut_tractor_half = choices.cut_implement_half = Reading{};
            break;
        case CauseKind::one_half_cut:
            (c.key.ends_with("tractor_half") ? choices.cut_tractor_half : choices.cut_implement_half) = Reading{};
            break;
        case CauseKind::shaft_points:
            s.driveline.reference = c.to == "joint_centres"     ? LengthReference::joint_centres
                                    : c.to == "locking_grooves" ? LengthReference::locking_grooves
                                                                : LengthReference::shaft_ends;
            break;
        case CauseKind::part_missing:
        case CauseKind::part_fitted:
            visit_parts(s.parts, [&](const char* key, auto& part) {
                if (c.key == std::string(key) + ".fitted") part.fitted = c.kind == CauseKind::part_fitted;
            });
            break;
        case CauseKind::sign_slip:
            visit_readings(s, [&](const std::string& key, Reading& r, const FieldSpec&) {
                if (key == c.key) r.value = -r.value;
            });
            break;
        case CauseKind::float_blocked:
            s.implement.upper_link_float.kind = UpperLinkKind::rigid;
            break;
        default:
            break;
    }
}

}  // namespace

CauseList list_causes(const TraceMachine& believed, bool loads) { return CauseLister(believed, loads).run(); }

TraceBench::TraceBench(const TraceMachine& believed) : work_(believed) {
    visit_readings(work_.setup,
                   [&](const std::string& key, Reading& r, const FieldSpec&) { readings_.emplace_back(key, &r); });
}

Reading* TraceBench::find(const std::string& key) {
    for (auto& [k, r] : readings_) {
        if (k == key) return r;
    }
    return nullptr;
}

std::vector<std::optional<double>> TraceBench::see(const Cause& c, double change, std::span<const Seen> seen) {
    if (!is_by_amount(c.kind)) return predict_seen(change_machine(work_, c, change), seen);
    if (c.kind == CauseKind::rear_tyre || c.kind == CauseKind::front_tyre) {
        double& tyre = c.kind == CauseKind::rear_tyre ? work_.rear_tyre : work_.front_tyre;
        const double before = tyre;
        tyre += change;
        auto out = predict_seen(work_, seen);
        tyre = before;
        return out;
    }
    Reading* r = find(c.key);
    if (!r) return std::vector<std::optional<double>>(seen.size());
    const double value = r->value;
    const std::optional<LiftRodReadings> rod = work_.taped_rod;
    if (c.kind == CauseKind::rod_changed && change != 0.0 && !rod) work_.taped_rod = work_.setup.tractor.lift_rod;
    r->value = value + change;
    auto out = predict_seen(work_, seen);
    r->value = value;
    work_.taped_rod = rod;
    return out;
}

TraceMachine change_machine(const TraceMachine& believed, const Cause& c, double change) {
    TraceMachine other = believed;
    if (!is_by_amount(c.kind)) {
        make_slip(c, other.setup);
        return other;
    }
    if (c.kind == CauseKind::rear_tyre)
        other.rear_tyre += change;
    else if (c.kind == CauseKind::front_tyre)
        other.front_tyre += change;
    else {
        if (c.kind == CauseKind::rod_changed && change != 0.0 && !other.taped_rod)
            other.taped_rod = other.setup.tractor.lift_rod;
        visit_readings(other.setup, [&](const std::string& key, Reading& r, const FieldSpec&) {
            if (key == c.key) r.value += change;
        });
    }
    return other;
}

}  // namespace hitchwright
