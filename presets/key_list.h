// All keys of a kind of file as dotted paths, by visiting the fields ("pto.stub_x", "upper_link_pin.z").
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "geometry/setup_fields.h"
#include "geometry/specification_fields.h"
#include "presets/rule_fields.h"

namespace hitchwright {

/// The visitor behind `list_keys`.
class KeyCollector {
public:
    explicit KeyCollector(std::vector<std::string>& keys, std::string prefix = {}) : keys_(keys), prefix_(std::move(prefix)) {}

    void reading(const char* key, Reading&, const FieldSpec&) { add(key); }
    template <class E, std::size_t N>
    void choice(const char* key, E&, const ChoiceName<E> (&)[N], const char*) { add(key); }
    void text(const char* key, std::string&, const char*) { add(key); }
    void whole(const char* key, int&, int, int, const char*) { add(key); }
    void whole_list(const char* key, std::vector<int>&, int, int, const char*) { add(key); }
    void flag(const char* key, bool&, const char*) { add(key); }
    void limit(const char* key, Limit&, const FieldSpec&) { add(key); }
    template <class F>
    void table(const char* key, F&& visit_members) {
        KeyCollector inner(keys_, prefix_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) { table(key, visit_members); }
    template <class T, class F>
    void list(const char* key, std::vector<T>&, F&& visit_item, const char*) {
        KeyCollector inner(keys_, prefix_ + key + ".");
        T item{};
        visit_item(item, inner);
    }

private:
    void add(const char* key) { keys_.push_back(prefix_ + key); }

    std::vector<std::string>& keys_;
    std::string prefix_;
};

/// The keys that belong to the set-up itself (visit_setup_own).
inline std::vector<std::string> list_setup_keys() {
    std::vector<std::string> keys;
    JobDetails job;
    std::vector<DirectReading> readings;
    std::vector<PoseReading> poses;
    std::vector<TurnReading> turns;
    visit_setup_own(job, readings, poses, turns, KeyCollector(keys));
    std::vector<SpecificationLine> lines;
    visit_lines("specification", lines, KeyCollector(keys));
    return keys;
}

/// The keys of T, each below `prefix`.
template <class T>
std::vector<std::string> list_keys(const std::string& prefix = {}) {
    std::vector<std::string> keys;
    T value{};
    visit_fields(value, KeyCollector(keys, prefix));
    return keys;
}

/// The keys of all add-on parts ("coupler.set_back").
inline std::vector<std::string> list_part_keys() {
    std::vector<std::string> keys;
    Parts parts;
    visit_parts(parts, [&keys](const char* key, auto& part) {
        visit_fields(part, KeyCollector(keys, std::string(key) + "."));
    });
    return keys;
}

}  // namespace hitchwright
