// Contradictions between values of one set-up.
#include "presets/setup_checks.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "geometry/angle.h"
#include "presets/library.h"
#include "presets/nearest.h"
#include "presets/overrides.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

/// A reading with its key, for messages.
struct Named {
    const char* key;
    const Reading& reading;
};

/// Which items of a list have to have a name: those that are chosen by it, and those that answers call by it.
enum class NameNeed { never, of_several, always };

/// Collects the problems of one part of the set-up.
class Checker {
public:
    Checker(std::string prefix, const FieldNotes& notes, std::vector<Problem>& problems)
        : prefix_(std::move(prefix)), notes_(notes), problems_(problems) {}

    // A problem at `key`, or at `instead` where that was typed later, or `key` was not typed at all.
    void add(const std::string& key, const std::string& instead, std::string message, std::string allowed,
             std::string nearest = {}) const {
        if (has_problem(key) || has_problem(instead)) {
            return;
        }
        auto note = notes_.find(prefix_ + key);
        const auto other = notes_.find(prefix_ + instead);
        note = layer(other) > layer(note) ? other : note;
        Problem problem{{}, 0, 0, prefix_ + key, std::move(message), {}, std::move(allowed), std::move(nearest)};
        if (note != notes_.end()) {
            problem.key = note->first;
            problem.file = note->second.file;
            problem.line = note->second.line;
            problem.column = note->second.column;
            problem.read = note->second.typed;
        }
        problems_.push_back(std::move(problem));
    }

    // `less` must be below `more`; `equal_too`: or the same.
    void order(const Named& less, const Named& more, bool equal_too = false) const {
        if (!less.reading.known || !more.reading.known) {
            return;
        }
        const bool fine = less.reading.value < more.reading.value || (equal_too && less.reading.value == more.reading.value);
        if (!fine) {
            add(more.key, less.key, fmt::format("{} ({}) is not below {} ({})", less.key, typed(less), more.key, typed(more)),
                fmt::format("{} {} {}", less.key, equal_too ? "at most as great as" : "less than", more.key));
        }
    }

    // An item without the name it has to have: at its first value. One without a value that was taken has its problems already.
    void add_nameless(const std::string& item, std::string message, std::string allowed) const {
        const std::string path = prefix_ + item + ".";
        const auto note = notes_.lower_bound(path);
        if (note == notes_.end() || !note->first.starts_with(path)) return;
        add(item + ".name", note->first.substr(prefix_.size()), std::move(message), std::move(allowed));
    }

    // Names of a list: there where they are needed, and each once.
    template <class T>
    void names(const char* list, const std::vector<T>& items, NameNeed need) const {
        const bool needed = need == NameNeed::always || (need == NameNeed::of_several && items.size() > 1);
        std::set<std::string> seen;
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string& name = items[i].name;
            const std::string path = fmt::format("{}[{}]", list, name.empty() ? std::to_string(i + 1) : name);
            if (name.empty() && needed) {
                add_nameless(path, items.size() > 1 ? "one of several items has no name" : "this item has no name", "name = \"...\", as it is called on the machine");
            } else if (!name.empty() && !seen.insert(name).second) {
                add(path + ".name", path, "two items of this list have the same name", "each name once");
            }
        }
    }

private:
    // How late a value was typed: nowhere, built in, in a file, on the command line.
    int layer(FieldNotes::const_iterator note) const {
        if (note == notes_.end()) {
            return 0;
        }
        const std::string& file = note->second.file;
        return file == command_line_name ? 3 : (file.rfind(embedded_mark, 0) == 0 ? 1 : 2);
    }

    // The value as typed. A default is never part of a contradiction.
    std::string typed(const Named& named) const {
        const auto note = notes_.find(prefix_ + named.key);
        return note == notes_.end() ? std::string("unknown") : note->second.typed;
    }

    // A value that was refused already is not there to contradict another one.
    bool has_problem(const std::string& key) const {
        return std::any_of(problems_.begin(), problems_.end(),
                           [&](const Problem& p) { return p.key == prefix_ + key || p.key == key; });
    }

    std::string prefix_;
    const FieldNotes& notes_;
    std::vector<Problem>& problems_;
};

void check_spread(const Checker& check, const LowerLinkReadings& link) {
    const bool known = link.length.known && link.half_spread_at_ball.known && link.half_spread_at_pivot.known;
    const double across = std::fabs(link.half_spread_at_ball.value - link.half_spread_at_pivot.value);
    if (known && link.length.value <= across) {
        check.add("lower_link.length", "lower_link.half_spread_at_ball",
                  "the lower link is too short to reach from its front pin to the ball sideways",
                  fmt::format("more than {}, the difference of the two half spreads", format_in_unit(across, Dimension::length, "mm")));
    }
}

template <class T>
std::string list_names(const std::vector<T>& items) {
    std::string all;
    for (const T& item : items) all += (all.empty() ? "" : ", ") + item.name;
    return all;
}

template <class T>
void check_choice(const Checker& check, const char* key, const std::string& chosen, const std::vector<T>& items,
                  const char* refusal = "the machine has no hole of that name") {
    std::vector<std::string> names;
    for (const T& item : items) names.push_back(item.name);
    // Without any hole the reading of the holes is what is missing, not the choice.
    if (!chosen.empty() && !names.empty() && std::find(names.begin(), names.end(), chosen) == names.end()) {
        check.add(key, key, refusal, list_names(items), nearest_word(chosen, names));
    }
}

/// A list that may stay away: a name then means nothing.
void check_hole_name(const Checker& check, const char* key, const std::string& name, const std::vector<LiftRodHole>& holes) {
    if (!name.empty() && holes.empty()) {
        check.add(key, key, "the holes of the lift rod are not listed", "leave it out, or list them: [[lift_rod_hole]] with name and pin_along_link");
    }
    check_choice(check, key, name, holes);
}

/// Holes for the lift rod: each on the link, one way of saying where the rod stands, and heights that say which they hold for.
void check_rod_holes(const Checker& check, const Tractor& t) {
    check.names("lift_rod_hole", t.lift_rod_holes, NameNeed::of_several);
    for (std::size_t i = 0; i < t.lift_rod_holes.size(); ++i) {
        const LiftRodHole& hole = t.lift_rod_holes[i];
        const std::string key = fmt::format("lift_rod_hole[{}].pin_along_link", hole.name.empty() ? std::to_string(i + 1) : hole.name);
        check.order({key.c_str(), hole.pin_along_link}, {"lower_link.length", t.lower_link.length}, true);
    }
    if (!t.lift_rod_holes.empty() && t.lift_rod.pin_along_link.known) {
        check.add("lift_rod.pin_along_link", "lift_rod.pin_along_link", "the holes of the lift rod are listed: the rod's pin is in one of them",
                  "leave it out, or the list lift_rod_hole");
    }
    const std::string& taped = t.travel.lift_rod_hole;
    check_hole_name(check, "travel.lift_rod_hole", taped, t.lift_rod_holes);
    const bool heights = t.travel.ball_height_low.known || t.travel.ball_height_high.known || !t.ball_readings.empty();
    if (taped.empty() && t.lift_rod_holes.size() > 1 && heights) {
        check.add("travel.lift_rod_hole", t.travel.ball_height_low.known ? "travel.ball_height_low" : "travel.ball_height_high",
                  "ball heights hold for the hole the lift rod was in when they were taped, and that is not said", list_names(t.lift_rod_holes));
    }
}

/// Other tyres: each with a name, and on radii on which a tractor can stand.
void check_tyre_sets(const Checker& check, const Tractor& t) {
    check.names("tyre_set", t.tyre_sets, NameNeed::of_several);
    for (std::size_t i = 0; i < t.tyre_sets.size(); ++i) {
        const TyreSet& set = t.tyre_sets[i];
        const std::string item = fmt::format("tyre_set[{}]", set.name.empty() ? std::to_string(i + 1) : set.name);
        if (set.name.empty() && t.tyre_sets.size() == 1) {
            check.add_nameless(item, "tyres without a name cannot be chosen", "name = \"...\", what these tyres are called");
        }
        const Reading& front = set.front_radius.known ? set.front_radius : t.tyre.front_radius;
        const bool known = set.rear_radius.known && front.known && t.mass.wheelbase.known;
        if (known && std::fabs(set.rear_radius.value - front.value) >= t.mass.wheelbase.value) {
            check.add(item + ".rear_radius", item + ".front_radius", "no tractor stands on these: the radii differ by the wheelbase or more",
                      fmt::format("radii that differ by less than {}", format_in_unit(t.mass.wheelbase.value, Dimension::length, "mm")));
        }
        const Reading& width = set.rear_width.known ? set.rear_width : t.tyre.rear_width;
        const Reading& track = set.rear_track.known ? set.rear_track : t.tyre.rear_track;
        if ((set.rear_width.known || set.rear_track.known) && width.known && track.known && width.value >= track.value) {
            check.add(item + ".rear_track", item + ".rear_width", "the two rear tyres would stand in each other", "a track greater than the width of the tyre");
        }
    }
}

void check_tyre_choice(const Checker& check, const std::string& chosen, const Tractor& t) {
    constexpr const char* key = "choices.tyre_set";
    if (chosen.empty()) return;
    if (t.tyre_sets.empty())
        check.add(key, key, "the tractor lists no other tyres", "leave it out, or list them: [[tyre_set]] with name and rear_radius");
    check_choice(check, key, chosen, t.tyre_sets, "the tractor has no tyres of that name");
    if (!t.tyre.rear_radius.known)
        check.add(key, key, "without the rear radius it was measured on, the tractor cannot be put on other tyres", "tractor.tyre.rear_radius");
}

void check_strap_stops(const Checker& check, const FloatReadings& f) {
    const Named low{"upper_link_float.strap_stop_low", f.strap_stop_low}, high{"upper_link_float.strap_stop_high", f.strap_stop_high};
    if (f.strap_stop_low.known != f.strap_stop_high.known) {
        const bool has_low = f.strap_stop_low.known;
        check.add(has_low ? low.key : high.key, has_low ? low.key : high.key, "a strap has two stops or none: the other one is missing",
                  has_low ? high.key : low.key);
    }
    check.order(low, high, true);
    constexpr double turn = 2 * pi;
    if (f.strap_stop_low.known && f.strap_stop_high.known && f.strap_stop_high.value - f.strap_stop_low.value > turn + 1e-9) {
        check.add(high.key, low.key, "the stops of the strap are more than one turn apart", "at most 360 deg from one to the other");
    }
}

}  // namespace

void check_contradictions(const Tractor& tractor, const std::string& prefix, const FieldNotes& notes, std::vector<Problem>& problems) {
    const Checker check(prefix, notes, problems);
    check_spread(check, tractor.lower_link);
    check.order({"travel.ball_height_low", tractor.travel.ball_height_low}, {"travel.ball_height_high", tractor.travel.ball_height_high});
    check.order({"upper_link.length_least", tractor.upper_link.length_least}, {"upper_link.length_most", tractor.upper_link.length_most}, true);
    check.order({"lift_rod.length_least", tractor.lift_rod.length_least}, {"lift_rod.length_most", tractor.lift_rod.length_most}, true);
    check.order({"lift_arm.angle_low", tractor.lift_arm.angle_low}, {"lift_arm.angle_high", tractor.lift_arm.angle_high});
    check.order({"lift_rod.pin_along_link", tractor.lift_rod.pin_along_link}, {"lower_link.length", tractor.lower_link.length}, true);
    check_rod_holes(check, tractor);
    check.names("upper_link_pin", tractor.upper_link_pins, NameNeed::of_several);
    check.names("cab_line", tractor.cab_line, NameNeed::never);
    check.names("drawbar_pin", tractor.drawbar_pins, NameNeed::of_several);
    check_tyre_sets(check, tractor);
    check.names("ball_reading", tractor.ball_readings, NameNeed::never);
}

void check_contradictions(const Implement& implement, const std::string& prefix, const FieldNotes& notes, std::vector<Problem>& problems) {
    const Checker check(prefix, notes, problems);
    check_strap_stops(check, implement.upper_link_float);
    check.names("mast_pin", implement.mast_pins, NameNeed::of_several);
    check.names("ground_contact", implement.ground_contacts, NameNeed::always);
    check.names("point", implement.points, NameNeed::always);
    check.names("tongue_bar", implement.drawn.bars, NameNeed::never);
}

void check_contradictions(const Driveline& driveline, const std::string& prefix, const FieldNotes& notes, std::vector<Problem>& problems) {
    const Checker check(prefix, notes, problems);
    const Named closed{"shaft.closed_length", driveline.closed_length};
    check.order({"shaft.tractor_tube", driveline.tractor_tube}, closed);
    check.order({"shaft.implement_tube", driveline.implement_tube}, closed);
    check.order({"shaft.overlap_closed", driveline.overlap_closed}, closed);
    check.order(closed, {"shaft.longest_usable", driveline.longest_usable});
    check.order({"guard.overlap_closed", driveline.guard_overlap_closed}, {"guard.closed_length", driveline.guard_closed_length});
    const bool closed_given = driveline.closed_length.known;
    if ((closed_given || driveline.longest_usable.known) && !notes.contains(prefix + "shaft.reference")) {
        check.add("shaft.reference", closed_given ? "shaft.closed_length" : "shaft.longest_usable",
                  "a shaft length says nothing without the points it was taken between",
                  "reference = \"joint_centres\", \"locking_grooves\" or \"shaft_ends\"");
    }
}

namespace {

/// What each quantity read at a known place needs besides its own figure.
void check_pose_readings(const Checker& check, const Setup& setup) {
    check.names("pose_reading", setup.pose_readings, NameNeed::never);
    if (setup.pose_readings.empty()) return;
    const auto key_of = [&](std::size_t i, const char* field) {
        const std::string& name = setup.pose_readings[i].name;
        return fmt::format("pose_reading[{}].{}", name.empty() ? std::to_string(i + 1) : name, field);
    };
    if (setup.implement.attachment == Attachment::drawn) {
        check.add(key_of(0, "what"), key_of(0, "what"), "readings at heights of the lift say nothing of a drawn implement", "leave the list out");
        return;
    }
    for (std::size_t i = 0; i < setup.pose_readings.size(); ++i) {
        const PoseReading& p = setup.pose_readings[i];
        const bool end = p.what == PoseQuantity::lowest_ball_height || p.what == PoseQuantity::greatest_ball_height;
        std::string lacking;
        const auto need = [&](bool needed, const Reading& r, const char* field, const char* what) {
            if (needed && !r.known) lacking += fmt::format("{}give {}: {}", lacking.empty() ? "" : "; ", field, what);
        };
        need(!end, p.ball_height, "ball_height", "floor to ball centre when it was read");
        need(p.what == PoseQuantity::pitch || p.what == PoseQuantity::upper_link_length, p.angle, "angle", "pitch of the implement then, rear end up positive");
        need(p.what != PoseQuantity::pitch, p.length, "length", "what the tape said");
        if (!lacking.empty()) check.add(key_of(i, "what"), key_of(i, "name"), "this reading is not complete", lacking);
        if (p.what != PoseQuantity::tail_height) continue;
        const auto& points = setup.implement.points;
        if (std::any_of(points.begin(), points.end(), [&](const auto& o) { return o.name == p.point; })) continue;
        std::string names;
        for (const auto& o : points) names += (names.empty() ? "" : ", ") + o.name;
        check.add(key_of(i, "point"), key_of(i, "point"), fmt::format("the implement has no outline point \"{}\"", p.point),
                  names.empty() ? "give the implement's outline points first" : "one of: " + names);
    }
}

}  // namespace

void check_contradictions(const Setup& setup, const FieldNotes& notes, std::vector<Problem>& problems) {
    check_contradictions(setup.tractor, "tractor.", notes, problems);
    check_contradictions(setup.implement, "implement.", notes, problems);
    const Checker check({}, notes, problems);
    const Choices& c = setup.choices;
    if (setup.has_driveline) {
        check_contradictions(setup.driveline, "driveline.", notes, problems);
        check.order({"choices.cut_tractor_half", c.cut_tractor_half}, {"driveline.shaft.tractor_tube", setup.driveline.tractor_tube});
        check.order({"choices.cut_implement_half", c.cut_implement_half}, {"driveline.shaft.implement_tube", setup.driveline.implement_tube});
    }
    check.order({"choices.working_band_low", c.working_band_low}, {"choices.working_band_high", c.working_band_high}, true);
    check.order({"choices.lower_stop", c.lower_stop}, {"choices.lift_stop", c.lift_stop});
    check.names("direct_reading", setup.direct_readings, NameNeed::never);
    if (!setup.direct_readings.empty() && setup.implement.attachment == Attachment::drawn) {
        const std::string& name = setup.direct_readings.front().name;
        const std::string key = fmt::format("direct_reading[{}].distance", name.empty() ? "1" : name);
        check.add(key, key, "distances at heights of the lift say nothing of a drawn implement", "leave the list out; for a drawn implement there is turn_reading");
    }
    check_pose_readings(check, setup);
    check.names("turn_reading", setup.turn_readings, NameNeed::never);
    if (!setup.turn_readings.empty() && setup.implement.attachment != Attachment::drawn) {
        const std::string& name = setup.turn_readings.front().name;
        const std::string key = fmt::format("turn_reading[{}].distance", name.empty() ? "1" : name);
        check.add(key, key, "distances in turns say nothing of a mounted implement", "leave the list out; for heights of the lift there is direct_reading");
    }
    check_choice(check, "choices.upper_link_pin", c.upper_link_pin, setup.tractor.upper_link_pins);
    check_choice(check, "choices.mast_pin", c.mast_pin, setup.implement.mast_pins);
    check_hole_name(check, "choices.lift_rod_hole", c.lift_rod_hole, setup.tractor.lift_rod_holes);
    check_tyre_choice(check, c.tyre_set, setup.tractor);
    check_choice(check, "choices.drawbar_pin", c.drawn.drawbar_pin, setup.tractor.drawbar_pins,
                 "the drawbar has no position of that name");
    check.names("choices.ditch_point", c.drawn.ditch.points, NameNeed::never);
}

}  // namespace hitchwright
