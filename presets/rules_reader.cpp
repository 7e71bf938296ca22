// Rule sets.
#include "presets/rules_reader.h"

#include "presets/field_reader.h"
#include "presets/file_header.h"
#include "presets/key_list.h"
#include "presets/parsed_files.h"

namespace hitchwright {
namespace {

// Grade and source that hold for the whole file.
void read_file_grade(const SourceNode& root, ReadContext& context) {
    FieldNotes none;
    ReadContext plain{context.file, context.problems, none};
    FieldReader reader(root, {}, plain);
    reader.choice("grade", context.grade, grades, "");
    reader.text("source", context.source, "");
}

bool is_own(const FieldNotes& notes, const char* key) { return notes.contains(key); }

// Where one of two limits is inherited and contradicts the set's own, the own figure holds for both.
void give_way(RuleSet& rules, const FieldNotes& notes) {
    const auto raise = [&](const char* key, Limit& inherited, const char* own_key, const Limit& own) {
        if (!is_own(notes, key) && is_own(notes, own_key) && inherited.set && own.set && inherited.value < own.value) {
            inherited = own;
        }
    };
    const auto lower = [&](const char* key, Limit& inherited, const char* own_key, const Limit& own) {
        if (!is_own(notes, key) && is_own(notes, own_key) && inherited.set && own.set && inherited.value > own.value) {
            inherited = own;
        }
    };
    raise("gap_aimed", rules.gap_aimed, "gap_required", rules.gap_required);
    raise("overlap_fraction_aimed", rules.overlap_fraction_aimed, "overlap_fraction", rules.overlap_fraction);
    lower("angle_free", rules.angle_free, "angle_pto_off", rules.angle_pto_off);
    raise("angle_stop", rules.angle_stop, "angle_pto_off", rules.angle_pto_off);
    lower("angle_pto_off", rules.angle_pto_off, "angle_stop", rules.angle_stop);
    lower("angle_free", rules.angle_free, "angle_stop", rules.angle_stop);
    raise("angle_pto_off", rules.angle_pto_off, "angle_free", rules.angle_free);
}

// Two limits of one set that cannot both be meant.
void check_order(const Limit& less, const char* less_key, const Limit& more, const char* more_key, const FieldNotes& notes,
                 const std::string& file, std::vector<Problem>& problems) {
    if (!less.set || !more.set || less.value <= more.value) {
        return;
    }
    const auto note = notes.find(is_own(notes, less_key) ? less_key : more_key);
    Problem problem{file, 0, 0, less_key, std::string("this limit is greater than ") + more_key, {}, {}, {}};
    if (note != notes.end()) {
        problem.line = note->second.line;
        problem.column = note->second.column;
        problem.key = note->first;
        problem.read = note->second.typed;
        problem.message = std::string(less_key) + " is greater than " + more_key;
    }
    problem.allowed = std::string(less_key) + " at most as great as " + more_key;
    problems.push_back(std::move(problem));
}

}  // namespace

RuleSet read_rules(const RuleSet& base, std::string_view text, const std::string& file, std::vector<Problem>& problems) {
    return read_rules(base, parse_toml(text, file), file, problems);
}

RuleSet read_rules(const RuleSet& base, const ParsedToml& parsed, const std::string& file, std::vector<Problem>& problems) {
    RuleSet rules = base;
    problems.insert(problems.end(), parsed.problems.begin(), parsed.problems.end());
    if (!parsed.ok()) {
        return rules;
    }
    const FileHeader header = read_header(parsed.root, FileKind::rules, file, Origin::measured, problems);
    if (!header.readable) {
        return rules;
    }
    rules.name.clear();
    rules.note.clear();
    FieldNotes notes;
    ReadContext context{header.file, problems, notes};
    context.all_keys = [] { return list_keys<RuleSet>(); };
    read_file_grade(parsed.root, context);
    FieldReader reader(parsed.root, {}, context);
    for (const char* key : {"kind", "version", "unit", "grade", "source"}) {
        reader.leave(key);
    }
    visit_fields(rules, reader);
    reader.finish();
    give_way(rules, notes);
    check_order(rules.gap_required, "gap_required", rules.gap_aimed, "gap_aimed", notes, file, problems);
    check_order(rules.angle_free, "angle_free", rules.angle_pto_off, "angle_pto_off", notes, file, problems);
    check_order(rules.angle_pto_off, "angle_pto_off", rules.angle_stop, "angle_stop", notes, file, problems);
    return rules;
}

LoadedRules load_rules(std::string_view name, const Library& library, std::string_view folder, ParsedFiles* kept) {
    LoadedRules result;
    const auto read_over = [&](const PresetText& text) {
        result.problems.insert(result.problems.end(), text.problems.begin(), text.problems.end());
        if (text.ok()) {
            result.rules = read_rules(result.rules, *parse_toml(text.text, text.file, kept), text.file, result.problems);
            result.rules.key = text.key;
            result.file = text.file;
        }
    };
    // The built-in general, then the user's own one, then the set asked for.
    const std::vector<PresetEntry> all = library.list(FileKind::rules);
    for (auto entry = all.rbegin(); entry != all.rend(); ++entry) {
        if (entry->key == general_rules) {
            read_over(library.read(*entry));
        }
    }
    const bool tried = !result.file.empty() || !result.problems.empty();
    if (name != general_rules || !tried) {
        read_over(library.read(FileKind::rules, name, folder));
    }
    return result;
}

}  // namespace hitchwright
