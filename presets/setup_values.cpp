#include "presets/setup_values.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "geometry/setup_fields.h"
#include "presets/rule_fields.h"

namespace hitchwright {
namespace {

constexpr double same_share = 1e-12;

/// The visitor behind `list_values`.
class ValueCollector {
public:
    ValueCollector(std::vector<SetupValue>& values, std::string prefix) : values_(values), prefix_(std::move(prefix)) {}

    void reading(const char* key, Reading& r, const FieldSpec& spec) {
        if (r.known) values_.push_back({prefix_ + key, r, spec.dimension, true, {}});
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& value, const ChoiceName<E> (&names)[N], const char*) {
        for (const ChoiceName<E>& name : names) {
            if (name.value == value) add(key, name.word);
        }
    }
    void text(const char* key, std::string& value, const char*) { add(key, value); }
    void whole(const char* key, int& value, int, int, const char*) {
        add(key, value == 0 ? std::string{} : std::to_string(value));
    }
    void whole_list(const char* key, std::vector<int>& list, int, int, const char*) {
        std::string text;
        for (const int value : list) text += (text.empty() ? "" : ", ") + std::to_string(value);
        add(key, text);
    }
    void flag(const char* key, bool& value, const char*) { add(key, value ? "true" : "false"); }
    void limit(const char* key, Limit& l, const FieldSpec& spec) {
        if (l.set) values_.push_back({prefix_ + key, make_reading(l.value), spec.dimension, false, {}});
    }
    template <class F>
    void table(const char* key, F&& visit_members) {
        ValueCollector inner(values_, prefix_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool& present, F&& visit_members) {
        if (present) table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char*) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string name = items[i].name.empty() ? std::to_string(i + 1) : items[i].name;
            ValueCollector inner(values_, prefix_ + key + "[" + name + "].");
            visit_item(items[i], inner);
        }
    }

private:
    void add(const char* key, const std::string& text) {
        if (!text.empty()) values_.push_back({prefix_ + key, {}, Dimension::length, false, text});
    }

    std::vector<SetupValue>& values_;
    std::string prefix_;
};

void add_text(std::vector<SetupValue>& values, const char* key, const std::string& text) {
    if (!text.empty()) values.push_back({key, {}, Dimension::length, false, text});
}

bool same_number(double a, double b) { return std::fabs(a - b) <= same_share * std::max(std::fabs(a), std::fabs(b)); }

bool same_value(const SetupValue& a, const SetupValue& b) {
    if (a.reading.has_value() != b.reading.has_value()) return false;
    if (!a.reading) return a.text == b.text;
    return same_number(a.reading->value, b.reading->value) && same_number(a.reading->tolerance, b.reading->tolerance) &&
           a.reading->origin == b.reading->origin;
}

using ByKey = std::map<std::string, const SetupValue*>;

ByKey index(const std::vector<SetupValue>& values) {
    ByKey by_key;
    for (const SetupValue& value : values) by_key.emplace(value.key, &value);
    return by_key;
}

// All keys: those of the old list in order, each other one behind its neighbour in the new list.
std::vector<std::string> merge_keys(const std::vector<SetupValue>& old_values,
                                    const std::vector<SetupValue>& new_values) {
    std::vector<std::string> keys;
    keys.reserve(old_values.size() + new_values.size());
    for (const SetupValue& value : old_values) keys.push_back(value.key);
    const ByKey known = index(old_values);
    auto at = keys.begin();
    for (const SetupValue& value : new_values) {
        if (known.contains(value.key)) {
            at = std::find(keys.begin(), keys.end(), value.key) + 1;
        } else {
            at = keys.insert(at, value.key) + 1;
        }
    }
    return keys;
}

}  // namespace

std::vector<SetupValue> list_values(const Setup& setup) {
    Setup s = setup;
    std::vector<SetupValue> values;
    add_text(values, "name", s.name);
    add_text(values, "note", s.note);
    add_text(values, "rules", s.rules.key);
    visit_fields(s.rules, ValueCollector(values, "rules."));
    add_text(values, "tractor.use", s.tractor.key);
    visit_fields(s.tractor, ValueCollector(values, "tractor."));
    add_text(values, "implement.use", s.implement.key);
    visit_fields(s.implement, ValueCollector(values, "implement."));
    add_text(values, "driveline.use", s.has_driveline ? s.driveline.key : "none");
    if (s.has_driveline) visit_fields(s.driveline, ValueCollector(values, "driveline."));
    visit_parts(s.parts, [&](const char* key, auto& part) {
        if (part.fitted) visit_fields(part, ValueCollector(values, std::string(key) + "."));
    });
    visit_fields(s.choices, ValueCollector(values, "choices."));
    visit_setup_own(s.job, s.direct_readings, s.pose_readings, s.turn_readings, ValueCollector(values, {}));
    return values;
}

std::vector<ValueDifference> compare_values(const Setup& old_setup, const Setup& new_setup) {
    const std::vector<SetupValue> old_values = list_values(old_setup), new_values = list_values(new_setup);
    const ByKey old_by_key = index(old_values), new_by_key = index(new_values);
    std::vector<ValueDifference> differences;
    for (const std::string& key : merge_keys(old_values, new_values)) {
        const auto a = old_by_key.find(key), b = new_by_key.find(key);
        ValueDifference difference{key, {}, {}};
        if (a != old_by_key.end()) difference.old_value = *a->second;
        if (b != new_by_key.end()) difference.new_value = *b->second;
        const bool both = difference.old_value && difference.new_value;
        if (!both || !same_value(*difference.old_value, *difference.new_value))
            differences.push_back(std::move(difference));
    }
    return differences;
}

}  // namespace hitchwright
