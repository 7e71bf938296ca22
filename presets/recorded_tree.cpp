#include "presets/recorded_tree.h"

#include <algorithm>
#include <string>
#include <utility>

#include "presets/toml_reader.h"
#include "presets/value_parts.h"

namespace hitchwright {
namespace {

SourceNode& open_member(SourceNode& table, const std::string& key) {
    for (SourceNode& member : table.members) {
        if (member.key == key) return member;
    }
    SourceNode& made = table.members.emplace_back();
    made.key = key;
    return made;
}

SourceNode* find_item(SourceNode& list, const std::string& name) {
    for (std::size_t i = 0; i < list.members.size(); ++i) {
        const std::string own = find_item_name(list.members[i]);
        if ((own.empty() ? std::to_string(i + 1) : own) == name) return &list.members[i];
    }
    return nullptr;
}

// What is said beside a value that stands alone makes a table of it.
void make_value_table(SourceNode& node) {
    SourceNode table;
    table.key = node.key;
    SourceNode& value = table.members.emplace_back(std::move(node));
    value.key = "value";
    node = std::move(table);
}

// False when there is no such item.
bool put_in(SourceNode& root, const KeyValue& value, const std::string& literal) {
    SourceNode* node = &root;
    for (const KeyPart& part : value.parts) {
        if (&part == &value.parts.back() && is_origin_key(value.parts) && node->kind != SourceKind::table) make_value_table(*node);
        node = &open_member(*node, part.name);
        if (part.item) node = find_item(*node, *part.item);
        if (node == nullptr) return false;
    }
    if (node->kind == SourceKind::table && node->find("value") != nullptr) node = &open_member(*node, "value");
    const ParsedToml parsed = parse_toml("x = " + literal, {});
    const SourceNode* read = parsed.ok() ? parsed.root.find("x") : nullptr;
    if (read == nullptr || parsed.root.members.size() != 1) return false;
    const std::string key = node->key;
    *node = *read;
    node->key = key;
    return true;
}

// A table that nothing is left in goes with its last key, where it was made by that alone; the text afterwards may have
// kept its header.
void take_out(SourceNode& table, const std::vector<KeyPart>& parts, std::size_t depth) {
    const auto member = std::find_if(table.members.begin(), table.members.end(),
                                     [&](const SourceNode& m) { return m.key == parts[depth].name; });
    if (member == table.members.end()) return;
    if (depth + 1 == parts.size() && !parts[depth].item) {
        table.members.erase(member);
        return;
    }
    SourceNode* next = &*member;
    if (parts[depth].item) next = find_item(*next, *parts[depth].item);
    if (next != nullptr && depth + 1 < parts.size()) take_out(*next, parts, depth + 1);
}

// Empty tables on the way to a value that was taken away say nothing of themselves.
void drop_empty_tables(SourceNode& table) {
    for (SourceNode& member : table.members) drop_empty_tables(member);
    if (table.kind != SourceKind::table) return;
    std::erase_if(table.members, [](const SourceNode& m) { return m.kind == SourceKind::table && m.members.empty(); });
}

// The members of tables have no order that means something.
bool means_the_same(const SourceNode& a, const SourceNode& b) {
    if (a.kind != b.kind || a.typed != b.typed || a.flag != b.flag || a.members.size() != b.members.size())
        return false;
    for (std::size_t i = 0; i < a.members.size(); ++i) {
        const SourceNode* other = a.kind == SourceKind::table ? b.find(a.members[i].key) : &b.members[i];
        if (other == nullptr || !means_the_same(a.members[i], *other)) return false;
    }
    return true;
}

}  // namespace

bool has_recorded_meaning(std::string_view before, std::string_view after, const std::vector<KeyValue>& values,
                          const std::vector<ValueEdit>& edits) {
    ParsedToml wanted = parse_toml(before, {});
    ParsedToml is = parse_toml(after, {});
    if (!wanted.ok() || !is.ok() || edits.size() != values.size()) return false;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (edits[i].kind == EditKind::removed)
            take_out(wanted.root, values[i].parts, 0);
        else if (!put_in(wanted.root, values[i], edits[i].new_literal))
            return false;
    }
    if (std::any_of(edits.begin(), edits.end(), [](const ValueEdit& e) { return e.kind == EditKind::removed; })) {
        drop_empty_tables(wanted.root);
        drop_empty_tables(is.root);
    }
    return means_the_same(wanted.root, is.root);
}

}  // namespace hitchwright
