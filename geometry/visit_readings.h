// Visits every numeric reading of a whole set-up with its dotted key and field facts, built on setup_fields.h.
//
// Keys are those of files and `--set`: tractor.pto.stub_x, tractor.upper_link_pin[2].z, choices.cut_tractor_half.
// Used for naming missing readings and for carrying tolerances to margins. The long way through the fields is compiled
// once, in visit_readings.cpp.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "geometry/setup_fields.h"

namespace hitchwright {

namespace detail {

/// Looks at readings without their keys, which cost more than the looking.
template <class P>
struct ReadingLooker {
    P& wanted;  ///< called as wanted(const Reading&, const FieldSpec&)
    bool found = false;

    void reading(const char*, const Reading& r, const FieldSpec& spec) { found = found || wanted(r, spec); }
    template <class E, std::size_t N>
    void choice(const char*, E&, const ChoiceName<E> (&)[N], const char*) {}
    void text(const char*, std::string&, const char*) {}
    void whole(const char*, int&, int, int, const char*) {}
    void whole_list(const char*, std::vector<int>&, int, int, const char*) {}
    void flag(const char*, bool&, const char*) {}
    template <class M>
    void table(const char*, M&& members) {
        members(*this);
    }
    template <class M>
    void optional_table(const char*, bool& present, M&& members) {
        if (present) members(*this);
    }
    template <class T, class M>
    void list(const char*, std::vector<T>& items, M&& item, const char*) {
        for (T& each : items) item(each, *this);
    }
};

}  // namespace detail

/// What visit_readings calls for each reading: its key, itself, its facts.
using ReadingUse = std::function<void(const std::string& key, Reading&, const FieldSpec&)>;

/// Calls `use` for every reading of the set-up, in file order. A part that is switched off has none.
void visit_readings(Setup& setup, const ReadingUse& use);

/// True when `wanted(const Reading&, const FieldSpec&)` is for any reading of one part (tractor, implement, shaft).
template <class T, class P>
bool any_part_reading(T& part, P&& wanted) {
    detail::ReadingLooker<P> looker{wanted};
    visit_fields(part, looker);
    return looker.found;
}

/// True when `wanted(const Reading&, const FieldSpec&)` is for any reading that visit_readings visits; keys are not made.
template <class P>
bool any_reading(const Setup& setup, P&& wanted) {
    // The fields are listed once, for those who write too; this one only looks.
    Setup& s = const_cast<Setup&>(setup);
    detail::ReadingLooker<P> looker{wanted};
    visit_fields(s.tractor, looker);
    visit_fields(s.implement, looker);
    if (s.has_driveline) visit_fields(s.driveline, looker);
    visit_parts(s.parts, [&looker](const char*, auto& part) {
        if (part.fitted) visit_fields(part, looker);
    });
    visit_fields(s.choices, looker);
    visit_setup_own(s.job, s.direct_readings, s.pose_readings, s.turn_readings, looker);
    return looker.found;
}

}  // namespace hitchwright
