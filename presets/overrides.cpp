// Splits KEY=VALUE, then hangs VALUE into the tree, creating tables on the way.
#include "presets/overrides.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "presets/number_text.h"

namespace hitchwright {
namespace {

bool is_key_character(char c) {
    return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '-';
}

// Cuts one part off the front; nothing when it is malformed. A dot behind it is cut off as well.
std::optional<KeyPart> take_part(std::string_view& rest, bool& more) {
    const auto* end = std::find_if_not(rest.begin(), rest.end(), is_key_character);
    KeyPart part{std::string(rest.begin(), end), std::nullopt};
    rest.remove_prefix(part.name.size());
    if (part.name.empty()) {
        return std::nullopt;
    }
    if (!rest.empty() && rest.front() == '[') {
        const std::size_t close = rest.find(']');
        if (close == std::string_view::npos || close < 2) {
            return std::nullopt;
        }
        part.item = std::string(rest.substr(1, close - 1));
        rest.remove_prefix(close + 1);
    }
    more = !rest.empty();
    if (more && rest.front() != '.') {
        return std::nullopt;
    }
    rest.remove_prefix(more ? 1 : 0);
    return part;
}

std::optional<std::vector<KeyPart>> split_key(std::string_view key) {
    std::vector<KeyPart> parts;
    bool more = true;
    while (more) {
        const std::optional<KeyPart> part = take_part(key, more);
        if (!part || parts.size() == most_override_depth) {
            return std::nullopt;
        }
        parts.push_back(*part);
    }
    return parts;
}

// The member of that name, made if need be; a node of another kind is replaced, so that the later holds.
SourceNode& open_member(SourceNode& table, const std::string& name, SourceKind kind) {
    for (SourceNode& member : table.members) {
        if (member.key == name) {
            if (member.kind != kind) {
                member.kind = kind;
                member.members.clear();
            }
            return member;
        }
    }
    SourceNode& made = table.members.emplace_back();
    made.key = name;
    made.kind = kind;
    return made;
}

void hang_in(SourceNode& root, const std::vector<KeyPart>& parts, std::string_view value) {
    SourceNode* table = &root;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const bool last = i + 1 == parts.size();
        const SourceKind leaf = value.empty() ? SourceKind::removed : SourceKind::text;
        const SourceKind end = last ? leaf : SourceKind::table;
        if (parts[i].item) {
            table = &open_member(*table, parts[i].name, SourceKind::by_name);
            table = &open_member(*table, *parts[i].item, end);
        } else {
            table = &open_member(*table, parts[i].name, end);
        }
    }
    table->typed = std::string(value);
}

std::string malformed(std::string_view set, std::size_t equals) {
    if (set.size() > most_override_bytes) {
        return fmt::format("this is longer than {} characters", most_override_bytes);
    }
    return equals == std::string_view::npos ? "there is no = in it" : "the key before the = is malformed";
}

}  // namespace

std::optional<KeyValue> split_key_value(std::string_view typed) {
    const std::size_t equals = typed.find('=');
    if (equals == std::string_view::npos || typed.size() > most_override_bytes) {
        return std::nullopt;
    }
    const std::string_view key = trim(typed.substr(0, equals));
    std::optional<std::vector<KeyPart>> parts = split_key(key);
    if (!parts) {
        return std::nullopt;
    }
    return KeyValue{std::string(key), std::move(*parts), std::string(trim(typed.substr(equals + 1)))};
}

SourceNode parse_overrides(const std::vector<std::string>& sets, std::vector<Problem>& problems) {
    SourceNode root;
    for (const std::string& set : sets) {
        const std::optional<KeyValue> split = split_key_value(set);
        if (!split) {
            problems.push_back({command_line_name, 0, 0, {}, malformed(set, set.find('=')), set,
                                "KEY=VALUE such as tractor.pto.stub_x=11in or tractor.upper_link_pin[2].z=32in", {}});
            continue;
        }
        hang_in(root, split->parts, split->value);
    }
    return root;
}

}  // namespace hitchwright
