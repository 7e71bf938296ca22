// See worksheet.h.
#include "geometry/worksheet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "geometry/drawn_model.h"
#include "geometry/hole_numbers.h"
#include "geometry/mounted_model.h"
#include "geometry/pose_report.h"
#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

constexpr double sixteenth = 0.0254 / 16.0;

/// To what a tape or an angle finder shows.
double round_to_shown(double value, Dimension dimension) {
    const double step = dimension == Dimension::angle ? to_radians(0.1) : sixteenth;
    return std::round(value / step) * step;
}

void tape(Setup& paper, DrawnNumbers& draw, std::vector<TapedReading>& taped) {
    visit_readings(paper, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        const bool tape = spec.dimension == Dimension::length || spec.dimension == Dimension::angle;
        if (!r.known || r.tolerance <= 0.0 || !tape) return;
        const double moved = r.value + 0.5 * r.tolerance * draw.normal();
        const double shown = std::clamp(round_to_shown(moved, spec.dimension), spec.least, spec.most);
        taped.push_back({key, spec.dimension, shown, r.value, r.tolerance});
        r.value = shown;
    });
}

/// Another name than `now` out of a list; empty: there is none.
template <class Pins>
std::string draw_other(const Pins& pins, const std::string& now, DrawnNumbers& draw) {
    std::vector<std::string> others;
    for (const auto& pin : pins) {
        if (pin.name != now) others.push_back(pin.name);
    }
    return others.empty() ? std::string() : others[draw.below(others.size())];
}

/// The machine with one fault; nothing where the linkage would not close.
bool set_in(Setup& machine, SetInFault kind, double length, DrawnNumbers& draw, WorksheetFault& fault) {
    fault = {kind, {}, {}, 0.0};
    Choices& c = machine.choices;
    if (kind == SetInFault::drawbar_pin) {
        fault.paper = c.drawn.drawbar_pin;
        fault.machine = draw_other(machine.tractor.drawbar_pins, fault.paper, draw);
        if (fault.machine.empty()) return false;
        c.drawn.drawbar_pin = fault.machine;
        return make_drawn_model(machine).hitch_ok;
    }
    // On the machine the link keeps its length whatever hole it is in.
    c.upper_link_length = make_reading(length);
    if (kind == SetInFault::upper_link_length) {
        const double sixteenths = 8.0 + static_cast<double>(draw.below(17));  // 1/2 to 1 1/2 in
        fault.change = (draw.below(2) == 0 ? 1.0 : -1.0) * sixteenths * sixteenth;
        c.upper_link_length.value += fault.change;
        return make_mounted_model(machine).linkage_ok;
    }
    std::string& chosen = kind == SetInFault::upper_link_pin ? c.upper_link_pin : c.mast_pin;
    const bool tractor = kind == SetInFault::upper_link_pin;
    fault.paper = !chosen.empty() ? chosen
                  : tractor       ? machine.tractor.upper_link_pins.front().name
                                  : machine.implement.mast_pins.front().name;
    fault.machine = tractor ? draw_other(machine.tractor.upper_link_pins, fault.paper, draw)
                            : draw_other(machine.implement.mast_pins, fault.paper, draw);
    if (fault.machine.empty()) return false;
    chosen = fault.machine;
    return make_mounted_model(machine).linkage_ok;
}

void look_at_mounted(const Setup& machine, std::vector<SeenAtMachine>& seen) {
    const MountedModelResult r = make_mounted_model(machine);
    if (!r.linkage_ok) return;
    const MountedModel& m = r.model;
    struct Place {
        const char* name;
        double height;
        bool there;
    };
    for (const Place& p :
         {Place{"lowest", m.travel.low, true},
          Place{"working", m.working_height, m.has_working_height && m.travel.contains(m.working_height)},
          Place{"highest", m.travel.high, true}}) {
        if (!p.there) continue;
        const PoseReport pose = make_pose_report(machine, m, p.height);
        if (!pose.pose.closes) continue;
        seen.push_back(
            {"pitch, rear up positive", p.name, Dimension::angle, round_to_shown(pose.pose.pitch, Dimension::angle)});
        if (m.has_shaft)
            seen.push_back({"joint centre to joint centre", p.name, Dimension::length,
                            round_to_shown(pose.shaft_length, Dimension::length)});
    }
}

void look_at_drawn(const Setup& machine, std::vector<SeenAtMachine>& seen) {
    const DrawnModelResult r = make_drawn_model(machine);
    if (!r.hitch_ok) return;
    if (!r.model.has_shaft) return;
    const DrivelineState state = find_driveline_state(r.model, Attitude{0.0, r.model.level_pitch, 0.0});
    seen.push_back({"joint centre to joint centre, straight and level", "", Dimension::length,
                    round_to_shown(state.length, Dimension::length)});
}

}  // namespace

std::uint64_t DrawnNumbers::next() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31U);
}

double DrawnNumbers::uniform() { return static_cast<double>(next() >> 11U) * 0x1.0p-53; }

double DrawnNumbers::normal() {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
    return radius * std::cos(2.0 * std::numbers::pi * uniform());
}

std::size_t DrawnNumbers::below(std::size_t count) { return count == 0 ? 0 : static_cast<std::size_t>(next() % count); }

Worksheet draw_worksheet(const Setup& setup, std::uint64_t seed) {
    Worksheet w;
    w.seed = seed;
    w.paper = w.machine = setup;
    DrawnNumbers draw(seed);
    const bool drawn = setup.implement.attachment == Attachment::drawn;
    const MountedModelResult model = drawn ? MountedModelResult{} : make_mounted_model(setup);
    const bool known = drawn ? make_drawn_model(setup).hitch_ok : model.linkage_ok;
    tape(w.paper, draw, w.taped);
    if (!known) return w;
    // The link on the machine is set as the paper has it, whatever the taped readings made of that.
    const MountedModelResult taped = drawn ? MountedModelResult{} : make_mounted_model(w.paper);
    const double length = taped.linkage_ok ? taped.model.linkage.upper_length : model.model.linkage.upper_length;
    std::vector<SetInFault> kinds{SetInFault::drawbar_pin};
    if (!drawn) kinds = {SetInFault::upper_link_pin, SetInFault::mast_pin, SetInFault::upper_link_length};
    // A kind that this machine does not have gives way to the next.
    const std::size_t first = draw.below(kinds.size());
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        Setup machine = setup;
        WorksheetFault fault;
        if (!set_in(machine, kinds[(first + i) % kinds.size()], length, draw, fault)) continue;
        w.machine = machine;
        w.fault = fault;
        break;
    }
    if (drawn)
        look_at_drawn(w.machine, w.seen);
    else
        look_at_mounted(w.machine, w.seen);
    return w;
}

}  // namespace hitchwright
