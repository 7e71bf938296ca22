// See specification_list.h.
#include "presets/specification_list.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "presets/field_reader.h"
#include "presets/file_header.h"
#include "presets/key_list.h"
#include "presets/quantity.h"
#include "presets/value_parts.h"

namespace hitchwright {
namespace {

constexpr const char* figure_keys[] = {"nominal", "at_least", "at_most", "measured"};

/// The text of a figure, whether it stands alone or in a table; null: it is no text.
const SourceNode* find_text(const SourceNode& item, const char* key) {
    const SourceNode* node = item.find(key);
    if (node != nullptr && node->kind == SourceKind::table) node = node->find("value");
    return node != nullptr && node->kind == SourceKind::text ? node : nullptr;
}

/// The kind of figure that the first typed unit of a new line means; length where none tells.
Dimension infer_quantity(const SourceNode& item) {
    for (const char* key : figure_keys) {
        const SourceNode* node = find_text(item, key);
        if (node == nullptr) continue;
        for (const auto& choice : field::quantities) {
            const Quantity q = parse_quantity(node->typed, choice.value, "in");
            if (q.ok() && !q.plain && !q.unit.empty()) return choice.value;
        }
    }
    return Dimension::length;
}

/// A line without a name, or without anything asked for, is of no use to anybody.
void refuse_empty_line(const SourceNode& item, const std::string& path, ReadContext& context) {
    if (item.find("name") == nullptr)
        add_problem(context, item, path + ".name", "this line has no name", {}, "name = \"...\"");
    const bool asks = std::any_of(std::begin(figure_keys), std::end(figure_keys), [&](const char* key) {
        return std::string_view(key) != "measured" && item.find(key) != nullptr;
    });
    if (!asks && item.find("specification") == nullptr) {
        add_problem(context, item, path, "this line asks for nothing", {},
                    "specification = \"...\", nominal = \"4 in +- 1/8 in\", or at_least and at_most");
    }
}

/// Sentence and what is right instead, and the keys it may be placed at, best first.
struct FaultWords {
    const char* message;
    const char* allowed;
    std::vector<const char*> keys;
};

FaultWords find_words(LineFault fault) {
    switch (fault) {
        case LineFault::band_upside_down:
            return {
                "at_least is greater than at_most", "at_least at most as great as at_most", {"at_most", "at_least"}};
        case LineFault::band_and_deviation:
            return {"this line states both a permitted deviation and a band",
                    "nominal with +-, or at_least and at_most beside a nominal without",
                    {"nominal", "at_least", "at_most"}};
        case LineFault::limit_with_deviation:
            return {"a limit of the band has no deviation of its own",
                    "at_least and at_most without +-",
                    {"at_least", "at_most"}};
        case LineFault::nominal_outside_band:
            return {"nominal lies outside at_least and at_most",
                    "a figure inside the band",
                    {"nominal", "at_least", "at_most"}};
        case LineFault::measured_words:
            return {"this line asks for no figure that a reading could be held against",
                    "as_specified = \"yes\" or \"no\", or a nominal or a band",
                    {"measured"}};
        case LineFault::figure_answered_in_words:
            return {"this line asks for a figure, which only a reading answers",
                    "measured = ...",
                    {"as_specified", "nominal"}};
        case LineFault::adjuster_of_no_length:
            return {"turns and holes are counted for lengths only",
                    "advance_per_turn and hole_spacing beside a length, or in words in adjuster",
                    {"advance_per_turn", "hole_spacing"}};
        case LineFault::no_name:
            return {"this line has no name", "name = \"...\"", {"name", "specification", "nominal"}};
        case LineFault::asks_for_nothing:
            return {"this line asks for nothing",
                    "specification = \"...\", nominal = \"4 in +- 1/8 in\", or at_least and at_most",
                    {"nominal", "specification", "name"}};
        case LineFault::not_a_number:
            return {"this value is no finite number", "a finite number", {"nominal", "measured"}};
        case LineFault::none:
            break;
    }
    return {"", "", {}};
}

bool has_problem(const std::vector<Problem>& problems, const std::string& path) {
    return std::any_of(problems.begin(), problems.end(),
                       [&](const Problem& p) { return p.key == path || p.key.rfind(path + ".", 0) == 0; });
}

/// The problem at the last typed of the values it is about: `--set` before a file.
void add_fault(const std::string& path, const FaultWords& words, const FieldNotes& notes,
               std::vector<Problem>& problems) {
    Problem problem{{}, 0, 0, path, words.message, {}, words.allowed, {}};
    bool placed = false;
    for (const char* key : words.keys) {
        const auto note = notes.find(path + "." + key);
        const bool better = note != notes.end() && (!placed || (note->second.line == 0 && problem.line != 0));
        if (!better) continue;
        placed = true;
        problem.key = note->first;
        problem.file = note->second.file;
        problem.line = note->second.line;
        problem.column = note->second.column;
        problem.read = note->second.typed;
    }
    problems.push_back(std::move(problem));
}

}  // namespace

void read_line_items(const SourceNode& node, const std::string& key, std::vector<SpecificationLine>& lines,
                     ReadContext& context) {
    if (node.kind != SourceKind::list) {
        add_problem(context, node, key, "this is a list", typed_text(node), "[[" + key + "]] before each item");
        return;
    }
    if (node.members.size() > most_list_items) {
        add_problem(context, node, key, "this list is too long", {}, fmt::format("at most {} items", most_list_items));
        return;
    }
    const std::size_t of_lists = lines.size();
    for (std::size_t i = 0; i < node.members.size(); ++i) {
        const SourceNode& item = node.members[i];
        const std::string name = find_item_name(item);
        const std::string path = key + "[" + (name.empty() ? std::to_string(i + 1) : name) + "]";
        if (item.kind != SourceKind::table) {
            add_problem(context, item, path, "an item of this list is a table", typed_text(item), "[[" + key + "]]");
            continue;
        }
        const auto end = lines.begin() + static_cast<std::ptrdiff_t>(of_lists);
        const auto same = std::find_if(lines.begin(), end,
                                       [&](const SpecificationLine& l) { return !name.empty() && l.name == name; });
        const bool is_new = same == end;
        SpecificationLine& line = is_new ? lines.emplace_back() : *same;
        if (is_new) line.quantity = infer_quantity(item);
        FieldReader reader(item, path + ".", context, is_new);
        visit_line(line, reader);
        reader.finish();
        if (is_new) refuse_empty_line(item, path, context);
    }
}

void check_contradictions(const std::vector<SpecificationLine>& lines, const std::string& key, const FieldNotes& notes,
                          std::vector<Problem>& problems) {
    std::set<std::string> seen;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const SpecificationLine& l = lines[i];
        const std::string path = fmt::format("{}[{}]", key, l.name.empty() ? std::to_string(i + 1) : l.name);
        if (has_problem(problems, path)) continue;
        if (!l.name.empty() && !seen.insert(l.name).second) {
            add_fault(path, {"two lines have the same name", "each name once", {"name"}}, notes, problems);
        }
        const LineFault fault = find_fault(l);
        // A name that was refused leaves the line without one, and says so already.
        const bool refused =
            fault == LineFault::no_name && std::any_of(problems.begin(), problems.end(), [&](const Problem& p) {
                return p.key.rfind(key + "[", 0) == 0 && p.key.ends_with("].name");
            });
        if (refused) continue;
        if (fault != LineFault::none) add_fault(path, find_words(fault), notes, problems);
    }
}

SpecificationList read_specification_list(std::string_view text, const std::string& file,
                                          std::vector<Problem>& problems, Origin origin) {
    return read_specification_list(parse_toml(text, file), file, problems, origin);
}

SpecificationList read_specification_list(const ParsedToml& parsed, const std::string& file, std::vector<Problem>& problems, Origin origin) {
    SpecificationList list;
    problems.insert(problems.end(), parsed.problems.begin(), parsed.problems.end());
    if (!parsed.ok()) {
        return list;
    }
    const FileHeader header = read_header(parsed.root, FileKind::specification_list, file, origin, problems);
    if (!header.readable) {
        return list;
    }
    FieldNotes notes;
    std::vector<Problem> own;
    ReadContext context{header.file, own, notes};
    context.all_keys = [] { return list_keys<SpecificationList>(); };
    FieldReader reader(parsed.root, {}, context);
    for (const std::string& key : header_keys()) {
        reader.leave(key.c_str());
    }
    reader.text("name", list.name, "");
    reader.text("note", list.note, "");
    reader.leave("line");
    reader.finish();
    if (const SourceNode* node = parsed.root.find("line")) read_line_items(*node, "line", list.lines, context);
    check_contradictions(list.lines, "line", notes, own);
    problems.insert(problems.end(), own.begin(), own.end());
    sort_problems(problems);
    return list;
}

}  // namespace hitchwright
