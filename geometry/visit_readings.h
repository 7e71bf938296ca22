// Visits every numeric reading of a whole set-up with its dotted key and field facts, built on setup_fields.h.
//
// Keys are those of files and `--set`: tractor.pto.stub_x, tractor.upper_link_pin[2].z, choices.cut_tractor_half.
// Used for naming missing readings and for carrying tolerances to margins.
#pragma once

#include <string>
#include <vector>

#include "geometry/setup_fields.h"

namespace hitchwright {

namespace detail {

template <class F>
struct ReadingVisitor {
    F& use;  ///< called as use(key, Reading&, const FieldSpec&)
    std::string prefix;

    std::string key(const char* name) const { return prefix.empty() ? name : prefix + "." + name; }

    void reading(const char* name, Reading& r, const FieldSpec& spec) { use(key(name), r, spec); }
    template <class E, std::size_t N>
    void choice(const char*, E&, const ChoiceName<E> (&)[N], const char*) {}
    void text(const char*, std::string&, const char*) {}
    void whole(const char*, int&, int, int, const char*) {}
    void whole_list(const char*, std::vector<int>&, int, int, const char*) {}
    void flag(const char*, bool&, const char*) {}
    template <class M>
    void table(const char* name, M&& members) {
        ReadingVisitor inner{use, key(name)};
        members(inner);
    }
    template <class M>
    void optional_table(const char* name, bool& present, M&& members) {
        if (present) table(name, members);
    }
    template <class T, class M>
    void list(const char* name, std::vector<T>& items, M&& item, const char*) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string id = items[i].name.empty() ? std::to_string(i + 1) : items[i].name;
            ReadingVisitor inner{use, key(name) + "[" + id + "]"};
            item(items[i], inner);
        }
    }
};

/// The same without keys, which cost more than the looking.
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

template <class T, class F>
void visit_part(T& part, const char* prefix, F& use) {
    ReadingVisitor<F> visitor{use, prefix};
    visit_fields(part, visitor);
}

}  // namespace detail

/// Calls `use(const std::string& key, Reading&, const FieldSpec&)` for every reading of the set-up, in file order. A part
/// that is switched off has none.
template <class F>
void visit_readings(Setup& setup, F&& use) {
    detail::visit_part(setup.tractor, "tractor", use);
    detail::visit_part(setup.implement, "implement", use);
    if (setup.has_driveline) detail::visit_part(setup.driveline, "driveline", use);
    visit_parts(setup.parts, [&use](const char* key, auto& part) {
        if (part.fitted) detail::visit_part(part, key, use);
    });
    detail::visit_part(setup.choices, "choices", use);
    detail::ReadingVisitor<F> own{use, {}};
    visit_setup_own(setup.job, setup.direct_readings, own);
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
    visit_setup_own(s.job, s.direct_readings, looker);
    return looker.found;
}

}  // namespace hitchwright
