// The visitor that reads a source tree into the fields of setup_fields.h (and rule_fields.h).
//
// A layer at a time: only keys that are there change a field, so a preset, the set-up's own values and
// `--set` are read into the same machine one after the other. A list that is there replaces the whole list.
// Keys that no field asked for are problems, with the nearest known key.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "presets/field_values.h"
#include "presets/nearest.h"
#include "presets/value_parts.h"

namespace hitchwright {

/// Most items of one list; a hitch has a handful of holes.
inline constexpr std::size_t most_list_items = 64;

/// Adds problems for the members of `table` that are not among `known` (nearest of `known`, else of all
/// keys of this kind of file).
void refuse_unknown_keys(const SourceNode& table, const std::string& prefix, const std::vector<std::string>& known,
                         ReadContext& context);

/// Reads one table; see setup_fields.h for what a visitor is.
class FieldReader {
public:
    /// `prefix` is the dotted path to the table with its last dot, empty at the root. `new_item`: the table
    /// describes a new item of a list, so that fields with Need::file must be there.
    FieldReader(const SourceNode& table, std::string prefix, ReadContext& context, bool new_item = false)
        : table_(table), prefix_(std::move(prefix)), context_(context), new_item_(new_item) {}

    /// Names a key that somebody else reads.
    void leave(const char* key) { known_.emplace_back(key); }

    /// To be called last: problems for all keys nobody asked for.
    void finish() { refuse_unknown_keys(table_, prefix_, known_, context_); }

    void reading(const char* key, Reading& field, const FieldSpec& spec) {
        if (const SourceNode* node = take(key, field)) {
            read_reading(*node, prefix_ + key, field, spec, context_);
        } else if (new_item_ && spec.need == Need::file && table_.find(key) == nullptr) {
            add_problem(context_, table_, prefix_ + key, "this value is missing", {}, spec.measure);
        }
    }

    /// Keeps the text of the figure just read, with its unit; see specification_fields.h.
    void keep_typed(const char* key, std::string& text, Dimension dimension) {
        const SourceNode* node = table_.find(key);
        if (node != nullptr) text = node->kind == SourceKind::removed ? std::string() : format_typed(*node, dimension, context_.file);
    }

    template <class E, std::size_t N>
    void choice(const char* key, E& field, const ChoiceName<E> (&names)[N], const char*) {
        const SourceNode* node = take(key, field);
        if (node == nullptr) {
            return;
        }
        std::vector<std::string> words;
        for (const ChoiceName<E>& name : names) {
            words.emplace_back(name.word);
        }
        if (const auto index = read_word(*node, prefix_ + key, words, context_)) {
            field = names[*index].value;
        }
    }

    void text(const char* key, std::string& field, const char*) {
        if (const SourceNode* node = take(key, field)) {
            read_text(*node, prefix_ + key, field, std::string_view(key) != "note", context_);
        }
    }

    void whole(const char* key, int& field, int least, int most, const char*) {
        if (const SourceNode* node = take(key, field)) {
            read_whole(*node, prefix_ + key, field, least, most, context_);
        }
    }

    void whole_list(const char* key, std::vector<int>& field, int least, int most, const char*) {
        if (const SourceNode* node = take(key, field)) {
            read_whole_list(*node, prefix_ + key, field, least, most, context_);
        }
    }

    void flag(const char* key, bool& field, const char*) {
        if (const SourceNode* node = take(key, field)) {
            read_flag(*node, prefix_ + key, field, context_);
        }
    }

    void limit(const char* key, Limit& field, const FieldSpec& spec) {
        if (const SourceNode* node = take(key, field)) {
            read_limit(*node, prefix_ + key, field, spec, context_);
        }
    }

    template <class F>
    void table(const char* key, F&& visit_members) {
        known_.emplace_back(key);
        if (const SourceNode* node = table_.find(key)) {
            read_members(*node, key, visit_members);
        }
    }

    template <class F>
    void optional_table(const char* key, bool& present, F&& visit_members) {
        known_.emplace_back(key);
        const SourceNode* node = table_.find(key);
        if (node == nullptr) {
            return;
        }
        if (node->kind == SourceKind::removed) {
            present = false;
            erase_notes(context_.notes, context_.note_prefix + prefix_ + key);
            return;
        }
        present = true;
        read_members(*node, key, visit_members);
    }

    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char*) {
        known_.emplace_back(key);
        const SourceNode* node = table_.find(key);
        if (node == nullptr) {
            return;
        }
        if (node->kind == SourceKind::by_name) {
            patch_items(*node, key, items, visit_item);
        } else if (node->kind != SourceKind::list) {
            add_problem(context_, *node, prefix_ + key, "this is a list", typed_text(*node),
                        context_.file.command_line ? std::string(key) + "[NAME].KEY=..."
                                                   : "[[" + prefix_ + key + "]] before each item");
        } else {
            read_items(*node, key, items, visit_item);
        }
    }

private:
    // The node to read; null when there is none or when it takes the value away.
    template <class T>
    const SourceNode* take(const char* key, T& field) {
        known_.emplace_back(key);
        const SourceNode* node = table_.find(key);
        if (node != nullptr && node->kind == SourceKind::removed) {
            field = T{};
            context_.notes.erase(context_.note_prefix + prefix_ + key);
            return nullptr;
        }
        return node;
    }

    template <class F>
    void read_members(const SourceNode& node, const char* key, F& visit_members) {
        if (node.kind != SourceKind::table) {
            add_problem(context_, node, prefix_ + key, "this is the name of a table, not of a value", typed_text(node),
                        context_.file.command_line ? prefix_ + key + ".KEY=..." : "[" + prefix_ + key + "]");
            return;
        }
        FieldReader inner(node, prefix_ + key + ".", context_, new_item_);
        visit_members(inner);
        inner.finish();
    }

    template <class T, class F>
    void read_item(const SourceNode& node, const std::string& path, T& item, F& visit_item, bool new_item) {
        FieldReader inner(node, path + ".", context_, new_item);
        visit_item(item, inner);
        inner.finish();
    }

    template <class T, class F>
    void read_items(const SourceNode& node, const char* key, std::vector<T>& items, F& visit_item) {
        items.clear();
        erase_notes(context_.notes, context_.note_prefix + prefix_ + key);
        if (node.members.size() > most_list_items) {
            add_problem(context_, node, prefix_ + key, "this list is too long", {},
                        "at most " + std::to_string(most_list_items) + " items");
            return;
        }
        for (std::size_t i = 0; i < node.members.size(); ++i) {
            const SourceNode& item = node.members[i];
            const std::string name = find_item_name(item);
            const std::string path = prefix_ + key + "[" + (name.empty() ? std::to_string(i + 1) : name) + "]";
            if (item.kind != SourceKind::table) {
                add_problem(context_, item, path, "an item of this list is a table", typed_text(item), "[[" + prefix_ + key + "]]");
                // It keeps its number, so that those behind it keep theirs.
                items.emplace_back();
                continue;
            }
            read_item(item, path, items.emplace_back(), visit_item, true);
        }
    }

    template <class T>
    static std::vector<std::string> list_names(const std::vector<T>& items, const std::vector<bool>& gone) {
        std::vector<std::string> names;
        for (std::size_t i = 0; i < items.size(); ++i) {
            const bool away = i < gone.size() && gone[i];
            // A name nobody can type keeps the places of the others.
            names.push_back(away ? std::string(1, '\0') : items[i].name.empty() ? std::to_string(i + 1) : items[i].name);
        }
        return names;
    }

    // `--set upper_link_pin[+5].x=...`: an item that is not there yet, with all that it must have.
    template <class T, class F>
    void add_item(const SourceNode& member, const char* key, std::vector<T>& items, const std::vector<std::string>& names, F& visit_item) {
        const std::string name = member.key.substr(1), path = prefix_ + key + "[" + name + "]";
        if (name.empty() || std::find(names.begin(), names.end(), name) != names.end()) {
            add_problem(context_, member, path, name.empty() ? "the new item has no name" : "the list has an item of that name already",
                        {}, prefix_ + key + "[+NAME].KEY=... with a name of its own");
        } else if (items.size() >= most_list_items) {
            add_problem(context_, member, path, "this list is too long", {}, "at most " + std::to_string(most_list_items) + " items");
        } else if (member.kind != SourceKind::table) {
            add_problem(context_, member, path, "this is an item, not a value", typed_text(member), path + ".KEY=...");
        } else {
            SourceNode typed = member;
            typed.kind = SourceKind::text;
            typed.typed = name;
            T& item = items.emplace_back();
            read_text(typed, path + ".name", item.name, true, context_);
            read_item(member, path, item, visit_item, true);
        }
    }

    // `--set upper_link_pin[2].z=...`: single values of items that are there; `[2]=` takes one away, `[+5].x=` adds one.
    template <class T, class F>
    void patch_items(const SourceNode& node, const char* key, std::vector<T>& items, F& visit_item) {
        std::vector<bool> gone(items.size(), false);
        for (const SourceNode& member : node.members) {
            const std::vector<std::string> names = list_names(items, gone);
            if (member.key.starts_with('+')) {
                add_item(member, key, items, names, visit_item);
                continue;
            }
            const std::string path = prefix_ + key + "[" + member.key + "]";
            const auto found = std::find(names.begin(), names.end(), member.key);
            if (found == names.end()) {
                std::string all;
                for (const std::string& name : names) {
                    if (name.front() != '\0') all += (all.empty() ? "" : ", ") + name;
                }
                add_problem(context_, member, path, "the list has no item of that name", {},
                            all.empty() ? "the list is empty" : all, nearest_word(member.key, names));
                continue;
            }
            const auto place = static_cast<std::size_t>(found - names.begin());
            if (member.kind == SourceKind::removed) {
                gone.resize(items.size(), false);
                gone[place] = true;
                erase_notes(context_.notes, context_.note_prefix + path);
                continue;
            }
            if (member.kind != SourceKind::table) {
                add_problem(context_, member, path, "this is an item, not a value", typed_text(member), path + ".KEY=...");
                continue;
            }
            read_item(member, path, items[place], visit_item, false);
        }
        for (std::size_t i = gone.size(); i-- > 0;) {
            if (gone[i]) items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
        }
    }

    const SourceNode& table_;
    std::string prefix_;
    ReadContext& context_;
    bool new_item_ = false;
    std::vector<std::string> known_;
};

}  // namespace hitchwright
