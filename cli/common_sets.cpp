// See common_sets.h.
#include "cli/common_sets.h"

#include <algorithm>

#include <fmt/format.h>

#include "presets/key_list.h"
#include "presets/nearest.h"
#include "presets/overrides.h"
#include "presets/rules_reader.h"

namespace hitchwright {
namespace {

std::vector<std::string> list_set_keys() {
    std::vector<std::string> keys = {"name", "note", "rules", "specification_lists", "tractor.use", "implement.use", "driveline.use"};
    for (const auto& more : {list_keys<Tractor>("tractor."), list_keys<Implement>("implement."), list_keys<Driveline>("driveline."), list_keys<Choices>("choices."), list_part_keys(), list_setup_keys()})
        keys.insert(keys.end(), more.begin(), more.end());
    return keys;
}

/// The key without the names of items: as it stands in the list.
std::string join_parts(const KeyValue& set) {
    std::string key;
    for (const KeyPart& part : set.parts) key += (key.empty() ? "" : ".") + part.name;
    return key;
}

/// A table of known keys, and a part of a known key's value, count as known.
bool is_known(const std::string& key, const std::vector<std::string>& known) {
    return std::any_of(known.begin(), known.end(), [&](const std::string& k) { return k == key || k.starts_with(key + ".") || key.starts_with(k + "."); });
}

void check_rules(OptionReader& reader, const std::string& option, const std::string& name, const Library& library) {
    const LoadedRules rules = load_rules(name, library);
    for (const Problem& p : rules.problems) {
        std::string message = format_problem(p);
        std::replace(message.begin(), message.end(), '\n', ' ');
        reader.add_problem({option, std::move(message), p.nearest_key});
    }
}

}  // namespace

void check_common_sets(OptionReader& reader, const CommonValues& common, const Library& library) {
    const std::vector<std::string> known = list_set_keys();
    std::vector<Problem> malformed;
    parse_overrides(common.sets, malformed);
    for (const Problem& p : malformed) reader.add_problem({"--set", fmt::format("'{}': {}; allowed: {}", escape_text(p.read), p.message, p.allowed), {}});
    for (const std::string& set : common.sets) {
        const std::optional<KeyValue> split = split_key_value(set);
        if (!split || is_known(join_parts(*split), known)) continue;
        reader.add_problem({"--set", fmt::format("'{}': there is no such key", escape_text(split->key)), nearest_word(join_parts(*split), known)});
    }
    if (!common.rules.empty()) check_rules(reader, "--rules", common.rules, library);
    if (const std::string rules = find_set_value(common, "rules"); !rules.empty()) check_rules(reader, "--set", rules, library);
}

bool is_set_of(const std::string& set, std::string_view table) {
    const std::optional<KeyValue> split = split_key_value(set);
    return split && split->parts.front().name == table;
}

std::string find_set_value(const CommonValues& common, std::string_view key) {
    std::string value;
    for (const std::string& set : common.sets) {
        const std::optional<KeyValue> split = split_key_value(set);
        if (split && split->key == key) value = split->value;
    }
    return value;
}

}  // namespace hitchwright
