// Layers of a set-up; see load_setup.h.
#include "presets/load_setup.h"
#include "presets/load_tree.h"

#include <functional>
#include <iterator>
#include <optional>

#include <fmt/format.h>

#include "geometry/do_both.h"
#include "presets/defaults.h"
#include "presets/field_reader.h"
#include "presets/file_header.h"
#include "presets/key_list.h"
#include "presets/machine_reader.h"
#include "presets/number_text.h"
#include "presets/overrides.h"
#include "presets/rules_reader.h"
#include "presets/setup_checks.h"
#include "presets/specification_list.h"
#include "presets/value_parts.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(LoadedSetup);

namespace {

/// What a set-up is put together from.
struct Sources {
    const Library& library;
    const SourceNode& root;       ///< of the set-up file
    const SourceNode& overrides;  ///< of --set
    SourceFile file;              ///< of the set-up file
    SourceFile command_line;
    std::string folder;  ///< of the set-up file, for relative paths
    ParsedFiles* kept = nullptr;
};

/// A part of the reading, and what was found in it.
struct Loading : Sources {
    explicit Loading(const Sources& sources) : Sources(sources) {}

    Findings findings;
    std::vector<UsedFile> files;
};

/// A name typed behind `use =` or `rules =`.
struct TypedName {
    std::string name;
    std::string folder;  ///< where its relative path begins
    SourceNode node;
    std::string file;
    bool from_command_line = false;
};

// A text member of a table; nothing when absent or wrong.
std::optional<TypedName> read_name(const SourceNode* table, const char* member, const std::string& key, const SourceFile& file,
                                   const std::string& folder, Findings& findings) {
    const bool is_table = table != nullptr && table->kind == SourceKind::table;
    const SourceNode* node = is_table ? table->find(member) : nullptr;
    if (node == nullptr) {
        return std::nullopt;
    }
    ReadContext context{file, findings.problems, findings.notes};
    if (node->kind == SourceKind::removed) {
        add_problem(context, *node, key, "a name is missing behind the =", {}, "a preset's name, or a path");
        return std::nullopt;
    }
    TypedName result{{}, folder, *node, file.name, file.command_line};
    read_text(*node, key, result.name, true, context);
    return result.name.empty() ? std::nullopt : std::optional(result);
}

// The text of a named file; its problems are said where the name was typed when there is no such file.
PresetText read_named(Loading& loading, FileKind kind, const TypedName& typed, const std::string& key) {
    PresetText text = loading.library.read(kind, typed.name, typed.folder);
    if (!text.ok()) {
        Problem& problem = text.problems.front();
        const bool whole_file = problem.line == 0;
        if (whole_file) {
            const std::string message = is_path(typed.name) ? fmt::format("{}: {}", text.file, problem.message) : problem.message;
            problem = {typed.file, typed.node.line, typed.node.column, key, message, typed_text(typed.node), problem.allowed, problem.nearest_key};
        }
        loading.findings.problems.insert(loading.findings.problems.end(), text.problems.begin(), text.problems.end());
    }
    return text;
}

// A table of the set-up file or of --set; anything else under that name is a problem.
const SourceNode* find_table(const SourceNode& root, const std::string& key, const SourceFile& file, Findings& findings) {
    const SourceNode* node = root.find(key);
    if (node != nullptr && node->kind != SourceKind::table) {
        ReadContext context{file, findings.problems, findings.notes};
        add_problem(context, *node, key, "this is the name of a table, not of a value", typed_text(*node),
                    file.command_line ? key + ".use=NAME or " + key + ".KEY=..." : "[" + key + "] and use = \"NAME\" below it");
        return nullptr;
    }
    return node;
}

template <class T>
void read_machine(Loading& loading, T& machine, const char* key, FileKind kind) {
    const std::string prefix = std::string(key) + ".";
    const SourceNode* own = find_table(loading.root, key, loading.file, loading.findings);
    const SourceNode* set = find_table(loading.overrides, key, loading.command_line, loading.findings);
    const auto own_use = read_name(own, "use", prefix + "use", loading.file, loading.folder, loading.findings);
    const auto set_use = read_name(set, "use", prefix + "use", loading.command_line, {}, loading.findings);
    const auto& use = set_use ? set_use : own_use;
    if (use) {
        const PresetText text = read_named(loading, kind, *use, prefix + "use");
        if (text.ok()) {
            machine.key = text.key;
            loading.files.push_back({kind, text.key, text.file});
            read_machine_file(machine, *parse_toml(text.text, text.file, loading.kept), text.file, text.origin(), prefix, loading.findings);
        }
    }
    const bool another = set_use && !(own_use && own_use->name == set_use->name);
    if (own != nullptr && !another) {
        read_machine_table(machine, *own, loading.file, prefix, loading.findings);
    }
    if (set != nullptr) {
        read_machine_table(machine, *set, loading.command_line, prefix, loading.findings);
    }
}

void need_table(Loading& loading, const char* key) {
    if (loading.root.find(key) == nullptr && loading.overrides.find(key) == nullptr) {
        ReadContext context{loading.file, loading.findings.problems, loading.findings.notes};
        add_problem(context, loading.root, key, "this table is missing", {}, fmt::format("[{}] and use = \"NAME\" below it", key));
    }
}

// "none" takes the driveline away; so does not naming one at all.
bool wants_driveline(const Loading& loading) {
    const SourceNode* own = loading.root.find("driveline");
    const SourceNode* set = loading.overrides.find("driveline");
    const SourceNode* set_use = set == nullptr ? nullptr : set->find("use");
    const SourceNode* own_use = own == nullptr ? nullptr : own->find("use");
    if (set_use != nullptr) {
        return set_use->typed != "none";
    }
    return own != nullptr ? own_use == nullptr || own_use->typed != "none" : set != nullptr;
}

void refuse_beside_none(Loading& loading, const SourceNode* table, const SourceFile& file) {
    for (std::size_t i = 0; table != nullptr && i < table->members.size(); ++i) {
        const SourceNode& member = table->members[i];
        if (member.key != "use") {
            ReadContext context{file, loading.findings.problems, loading.findings.notes};
            add_problem(context, member, "driveline." + member.key, "use = none leaves no driveline to set values of",
                        typed_text(member), "driveline.use names a driveline, or no values beside it");
        }
    }
}

void read_driveline(Loading& loading, Setup& setup) {
    setup.has_driveline = wants_driveline(loading);
    if (setup.has_driveline) {
        read_machine(loading, setup.driveline, "driveline", FileKind::driveline);
        return;
    }
    // Other values beside `none` would be lost without a word. Where --set says none, those of the file are meant to go.
    const SourceNode* own = loading.root.find("driveline");
    const SourceNode* set = loading.overrides.find("driveline");
    const bool set_none = set != nullptr && set->find("use") != nullptr;
    refuse_beside_none(loading, set, loading.command_line);
    refuse_beside_none(loading, set_none ? nullptr : own, loading.file);
}

void read_rules_of(Loading& loading, Setup& setup, const std::string& asked) {
    const auto own = read_name(&loading.root, "rules", "rules", loading.file, loading.folder, loading.findings);
    const auto set = read_name(&loading.overrides, "rules", "rules", loading.command_line, {}, loading.findings);
    TypedName use{general_rules, {}, {}, loading.file.name, false};
    use = set ? *set : (own ? *own : use);
    if (!asked.empty()) {
        use = TypedName{asked, {}, {}, "--rules", true};
    }
    LoadedRules rules = load_rules(use.name, loading.library, use.folder, loading.kept);
    for (Problem& problem : rules.problems) {
        // Without a position it is the file as a whole: said where the name was typed.
        if (problem.line == 0 && problem.key.empty()) {
            const std::string message = is_path(use.name) ? fmt::format("{}: {}", problem.file, problem.message) : problem.message;
            problem = {use.file, use.node.line, use.node.column, "rules", message, use.name, problem.allowed, problem.nearest_key};
        }
        loading.findings.problems.push_back(problem);
    }
    setup.rules = rules.rules;
    loading.files.push_back({FileKind::rules, rules.rules.key, rules.file});
}

void read_choices(Loading& loading, Setup& setup) {
    if (const SourceNode* own = find_table(loading.root, "choices", loading.file, loading.findings)) {
        read_machine_table(setup.choices, *own, loading.file, "choices.", loading.findings);
    }
    if (const SourceNode* set = find_table(loading.overrides, "choices", loading.command_line, loading.findings)) {
        read_machine_table(setup.choices, *set, loading.command_line, "choices.", loading.findings);
    }
}

// The add-on parts. A table of values without its switch says nothing: taken as off it would be lost, taken as on assumed.
void read_parts(Loading& loading, Setup& setup) {
    visit_parts(setup.parts, [&](const char* key, auto& part) {
        const std::string prefix = std::string(key) + ".";
        const SourceNode* own = find_table(loading.root, key, loading.file, loading.findings);
        const SourceNode* set = find_table(loading.overrides, key, loading.command_line, loading.findings);
        bool switched = false;
        for (const SourceNode* table : {own, set}) {
            if (table == nullptr) {
                continue;
            }
            read_machine_table(part, *table, table == own ? loading.file : loading.command_line, prefix, loading.findings);
            const SourceNode* fitted = table->find("fitted");
            switched = fitted == nullptr ? switched : fitted->kind != SourceKind::removed;
        }
        const SourceNode* last = set != nullptr ? set : own;
        if (last != nullptr && !switched) {
            ReadContext context{set != nullptr ? loading.command_line : loading.file, loading.findings.problems, loading.findings.notes};
            add_problem(context, *last, prefix + "fitted", "whether the part is fitted is not said", {}, "fitted = true or false");
        }
    });
}

// The names of `specification_lists`: one text, or a list of them; on the command line with commas between.
std::vector<TypedName> read_list_names(const SourceNode& root, const SourceFile& file, const std::string& folder, Findings& findings) {
    std::vector<TypedName> names;
    const SourceNode* node = root.find("specification_lists");
    if (node == nullptr || node->kind == SourceKind::removed) {
        return names;
    }
    ReadContext context{file, findings.problems, findings.notes};
    std::vector<SourceNode> items;
    if (node->kind == SourceKind::list) {
        items = node->members;
    } else if (file.command_line) {
        for (std::size_t at = 0; at <= node->typed.size();) {
            const std::size_t comma = std::min(node->typed.find(',', at), node->typed.size());
            items.push_back(*node);
            items.back().typed = std::string(trim(std::string_view(node->typed).substr(at, comma - at)));
            at = comma + 1;
        }
    } else {
        items.push_back(*node);
    }
    if (items.size() > most_specification_lists) {
        add_problem(context, *node, "specification_lists", "too many lists are named", {}, fmt::format("at most {}", most_specification_lists));
        return names;
    }
    for (const SourceNode& item : items) {
        TypedName typed{{}, folder, item, file.name, file.command_line};
        if (item.kind != SourceKind::text || item.typed.empty()) {
            add_problem(context, item, "specification_lists", "this is no name of a list", typed_text(item), "a preset's name or a path, in quotes");
            continue;
        }
        read_text(item, "specification_lists", typed.name, true, context);
        if (!typed.name.empty()) {
            names.push_back(std::move(typed));
        }
    }
    return names;
}

// Lines of the lists, then those of the set-up, which may add to a line of a list by its name, then `--set`.
void read_specification(Loading& loading, Setup& setup, const std::vector<std::string>& asked) {
    const bool set = loading.overrides.find("specification_lists") != nullptr;
    std::vector<TypedName> names = set ? read_list_names(loading.overrides, loading.command_line, {}, loading.findings)
                                       : read_list_names(loading.root, loading.file, loading.folder, loading.findings);
    for (const std::string& name : asked) {
        TypedName typed{name, {}, {}, "--list", true};
        typed.node.kind = SourceKind::text;
        typed.node.typed = name;
        names.push_back(std::move(typed));
    }
    for (const TypedName& typed : names) {
        const PresetText text = read_named(loading, FileKind::specification_list, typed, "specification_lists");
        if (!text.ok()) {
            continue;
        }
        const std::size_t before = loading.findings.problems.size();
        SpecificationList list = read_specification_list(*parse_toml(text.text, text.file, loading.kept), text.file, loading.findings.problems, text.origin());
        loading.files.push_back({FileKind::specification_list, text.key, text.file});
        for (SpecificationLine& line : list.lines) {
            line.list = text.key;
        }
        if (loading.findings.problems.size() == before) {
            setup.specification.insert(setup.specification.end(), list.lines.begin(), list.lines.end());
        }
    }
    if (const SourceNode* own = loading.root.find("specification")) {
        ReadContext context{loading.file, loading.findings.problems, loading.findings.notes};
        read_line_items(*own, "specification", setup.specification, context);
    }
    ReadContext context{loading.command_line, loading.findings.problems, loading.findings.notes};
    SourceNode members;
    if (const SourceNode* node = loading.overrides.find("specification")) {
        members.members.push_back(*node);
    }
    FieldReader reader(members, {}, context);
    visit_lines("specification", setup.specification, reader);
}

// Name, note, and the keys that do not belong at the top.
void read_top(Loading& loading, Setup& setup) {
    for (const bool set : {false, true}) {
        ReadContext context{set ? loading.command_line : loading.file, loading.findings.problems, loading.findings.notes};
        context.all_keys = [] {
            std::vector<std::string> keys = list_keys<Tractor>("tractor.");
            for (auto more : {list_keys<Implement>("implement."), list_keys<Driveline>("driveline."), list_keys<Choices>("choices."),
                              list_setup_keys()}) {
                keys.insert(keys.end(), more.begin(), more.end());
            }
            const std::vector<std::string> parts = list_part_keys();
            keys.insert(keys.end(), parts.begin(), parts.end());
            return keys;
        };
        FieldReader reader(set ? loading.overrides : loading.root, {}, context);
        reader.text("name", setup.name, "");
        reader.text("note", setup.note, "");
        visit_setup_own(setup.job, setup.direct_readings, setup.pose_readings, setup.turn_readings, reader);
        for (const char* key : {"rules", "tractor", "implement", "driveline", "choices", "specification", "specification_lists"}) {
            reader.leave(key);
        }
        visit_parts(setup.parts, [&reader](const char* key, const auto&) { reader.leave(key); });
        if (!set) {
            for (const std::string& key : header_keys()) {
                reader.leave(key.c_str());
            }
        }
        reader.finish();
    }
}

void read_tractor(Loading& loading, Setup& setup) {
    need_table(loading, "tractor");
    read_machine(loading, setup.tractor, "tractor", FileKind::tractor);
}

void read_implement(Loading& loading, Setup& setup) {
    need_table(loading, "implement");
    read_machine(loading, setup.implement, "implement", FileKind::implement);
}

/// Adds what was found in a part that comes later. No two parts have notes under one key.
void append(LoadedSetup& to, Loading&& part) {
    for (Problem& problem : part.findings.problems) {
        if (!is_said_already(to.problems, problem.file, problem.message)) to.problems.push_back(std::move(problem));
    }
    std::move(part.files.begin(), part.files.end(), std::back_inserter(to.files));
    to.notes.merge(part.findings.notes);
}

/// Reads the parts, of which none touches another's values, with what is most work first; told is of them in their own order.
void read_all(const Sources& sources, const LoadOptions& options, LoadedSetup& result) {
    Setup& s = result.setup;
    enum Part : std::size_t { top, tractor, implement, driveline, rules, add_ons, specification, count };
    std::vector<Loading> found(count, Loading(sources));
    const std::function<void(int)> pieces[] = {[&](int) { read_specification(found[specification], s, options.lists); },
                                               [&](int) { read_tractor(found[tractor], s); },
                                               [&](int) { read_rules_of(found[rules], s, options.rules); },
                                               [&](int) { read_implement(found[implement], s); },
                                               [&](int) { read_driveline(found[driveline], s); },
                                               [&](int) { read_top(found[top], s); },
                                               [&](int) {
                                                   read_parts(found[add_ons], s);
                                                   read_choices(found[add_ons], s);
                                               }};
    share_out(options.threads, pieces);
    for (Loading& part : found) append(result, std::move(part));
}

LoadedSetup load_tree(const SourceNode& root, std::vector<Problem> problems, const PresetText& place, const Library& library,
                      const LoadOptions& options, ParsedFiles* kept) {
    LoadedSetup result;
    const bool readable = problems.empty();
    result.problems = std::move(problems);
    const SourceNode overrides = parse_overrides(options.sets, result.problems);
    if (!readable) {
        return result;
    }
    const FileHeader header = read_header(root, FileKind::setup, place.file, place.origin(), result.problems);
    if (!header.readable) {
        return result;
    }
    result.files.push_back({FileKind::setup, place.key, place.file});
    const Sources sources{library, root, overrides, header.file, {command_line_name, header.file.unit, Origin::measured, true}, place.folder, kept};
    result.setup.key = place.key;
    read_all(sources, options, result);
    result.unit = header.file.unit;
    check_contradictions(result.setup, result.notes, result.problems);
    check_contradictions(result.setup.specification, "specification", result.notes, result.problems);
    fill_defaults(result.setup, result.notes);
    sort_problems(result.problems);
    return result;
}

LoadedSetup load_text(const PresetText& text, const Library& library, const LoadOptions& options, ParsedFiles* kept) {
    if (!text.ok()) return load_tree({}, text.problems, text, library, options, kept);
    const std::shared_ptr<const ParsedToml> parsed = parse_toml(text.text, text.file, kept);
    return load_tree(parsed->root, parsed->problems, text, library, options, kept);
}

}  // namespace

LoadedSetup load_setup(std::string_view name_or_path, const Library& library, const LoadOptions& options) {
    return load_setup(library.read(FileKind::setup, name_or_path), library, options);
}

LoadedSetup load_setup(const PresetText& text, const Library& library, const LoadOptions& options) {
    return load_text(text, library, options, nullptr);
}

LoadedSetup load_setup(std::string_view name_or_path, const Library& library, const LoadOptions& options, ParsedFiles& kept) {
    return load_setup(library.read(FileKind::setup, name_or_path), library, options, kept);
}

LoadedSetup load_setup(const PresetText& text, const Library& library, const LoadOptions& options, ParsedFiles& kept) {
    return load_text(text, library, options, &kept);
}

LoadedSetup load_setup_tree(const SourceNode& root, std::vector<Problem> problems, const PresetText& place, const Library& library,
                            const LoadOptions& options) {
    return load_tree(root, std::move(problems), place, library, options, nullptr);
}

}  // namespace hitchwright
