// Value tables; see value_parts.h.
#include "presets/value_parts.h"

#include <algorithm>

#include <fmt/format.h>

#include "presets/nearest.h"

namespace hitchwright {
namespace {

std::vector<std::string> allowed_parts(Beside beside) {
    switch (beside) {
        case Beside::origin_and_tolerance: return {"value", "tolerance", "origin", "note"};
        case Beside::grade_and_source: return {"value", "grade", "source", "note"};
        case Beside::origin: break;
    }
    return {"value", "origin", "note"};
}

template <class E, std::size_t N>
void read_choice_part(const SourceNode& node, const std::string& key, E& field, const ChoiceName<E> (&names)[N], ReadContext& context) {
    std::vector<std::string> words;
    for (const ChoiceName<E>& name : names) {
        words.emplace_back(name.word);
    }
    if (const auto index = read_word(node, key, words, context)) {
        field = names[*index].value;
    }
}

// Origin, grade, note and source have no notes of their own.
void read_part(const SourceNode& part, const std::string& key, ValueParts& parts, ReadContext& outer) {
    FieldNotes none;
    ReadContext context{outer.file, outer.problems, none};
    if (part.key == "value") {
        parts.value = &part;
    } else if (part.key == "tolerance") {
        parts.tolerance = &part;
        parts.note.tolerance_typed = part.typed;
    } else if (part.key == "origin") {
        read_choice_part(part, key, parts.note.origin, origins, context);
    } else if (part.key == "grade") {
        read_choice_part(part, key, parts.grade, grades, context);
    } else {
        read_text(part, key, part.key == "note" ? parts.note.note : parts.source, part.key != "note", context);
    }
}

}  // namespace

std::string find_item_name(const SourceNode& item) {
    const SourceNode* name = item.find("name");
    if (name != nullptr && name->kind == SourceKind::table) name = name->find("value");
    return name == nullptr ? std::string() : name->typed;
}

std::string join_words(const std::vector<std::string>& words) {
    std::string result;
    for (const std::string& word : words) {
        result += (result.empty() ? "" : ", ") + word;
    }
    return result;
}

ValueParts take_apart(const SourceNode& node, const std::string& key, Beside beside, ReadContext& context) {
    ValueParts parts;
    parts.note.file = context.file.name;
    parts.note.origin = context.file.origin;
    parts.grade = context.grade;
    parts.source = context.source;
    parts.value = &node;
    if (node.kind == SourceKind::table) {
        parts.value = nullptr;
        const std::vector<std::string> allowed = allowed_parts(beside);
        for (const SourceNode& part : node.members) {
            const bool known = std::find(allowed.begin(), allowed.end(), part.key) != allowed.end();
            if (known) {
                read_part(part, key + "." + part.key, parts, context);
                continue;
            }
            SourceNode at_key = part;
            at_key.line = part.key_line;
            at_key.column = part.key_column;
            add_problem(context, at_key, key + "." + part.key, "a value's table has no such key", {}, join_words(allowed),
                        nearest_word(part.key, allowed));
        }
        if (parts.value == nullptr) {
            add_problem(context, node, key, "this table has no value", typed_text(node), "{ value = ..., note = \"...\" }");
            return parts;
        }
    }
    parts.note.line = parts.value->line;
    parts.note.column = parts.value->column;
    parts.note.typed = parts.value->typed;
    return parts;
}

void keep_note(const std::string& key, const ValueParts& parts, ReadContext& context) {
    context.notes[context.note_prefix + key] = parts.note;
}

void refuse_kind(const SourceNode& node, const std::string& key, std::string allowed, ReadContext& context) {
    add_problem(context, node, key, fmt::format("{} stands here", kind_name(node.kind)), typed_text(node), std::move(allowed));
}

}  // namespace hitchwright
