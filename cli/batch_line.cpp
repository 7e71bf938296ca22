// See batch_line.h. The set-up in a line becomes the tree that a file would be, and is loaded and judged as one.
#include "cli/batch_line.h"

#include <algorithm>
#include <limits>

#include <fmt/format.h>

#include "cli/records.h"
#include "geometry/analysis.h"
#include "presets/json_tree.h"
#include "presets/load_tree.h"
#include "presets/nearest.h"
#include "report/fit_numbers.h"
#include "report/json_line.h"

namespace hitchwright {
namespace {

constexpr const char* input_name = "standard input";
constexpr const char* line_form = "{\"setup\": \"NAME or path\", \"set\": {\"KEY\": value}} or a set-up with the tables of a file";

/// A line taken apart: what to load, with what on top.
struct Request {
    std::string id = "null";  ///< as JSON
    SourceNode root;          ///< a set-up in the line; its own keys of a line are taken out
    std::string name;         ///< a set-up named by the line; empty: it is in the line
    LoadOptions options;
    std::vector<Problem> problems;
    bool readable = true;  ///< false: there is nothing to load
};

int find_place_line(std::int64_t number) {
    return static_cast<int>(std::min<std::int64_t>(number, std::numeric_limits<int>::max()));
}

Problem make_problem(const SourceNode& node, const std::string& key, std::string message, std::string allowed) {
    return {input_name, node.line, node.column, key, std::move(message), format_source_json(node), std::move(allowed), {}};
}

/// Takes a member out of a table.
std::optional<SourceNode> take_member(SourceNode& table, std::string_view key) {
    const auto found = std::find_if(table.members.begin(), table.members.end(), [&](const SourceNode& m) { return m.key == key; });
    if (found == table.members.end()) return std::nullopt;
    SourceNode member = std::move(*found);
    table.members.erase(found);
    return member;
}

/// A name; empty after a problem, or where there is none.
std::string take_name(Request& request, const char* key, const char* allowed) {
    const std::optional<SourceNode> node = take_member(request.root, key);
    if (!node) return {};
    if (node->kind == SourceKind::text && !node->typed.empty()) return node->typed;
    request.problems.push_back(make_problem(*node, key, "this is no name", allowed));
    return {};
}

/// {"KEY": value} as the KEY=VALUE of --set; null takes the value away.
void take_sets(Request& request) {
    const std::optional<SourceNode> node = take_member(request.root, "set");
    if (!node) return;
    if (node->kind != SourceKind::table) {
        request.problems.push_back(make_problem(*node, "set", "this is no object of keys and values", "{\"choices.lift_stop\": \"26 in\"}"));
        return;
    }
    for (const SourceNode& m : node->members) {
        const bool plain = m.kind != SourceKind::table && m.kind != SourceKind::list && m.key.find('=') == std::string::npos;
        if (plain) request.options.sets.push_back(fmt::format("{}={}", m.key, m.typed));
        else request.problems.push_back(make_problem(m, "set." + m.key, "this is not one value of one key", "\"KEY\": a text, a number, true, false, or null to take the value away"));
    }
}

/// Beside the name of a set-up nothing of a set-up may stand: it would be lost without a word.
void refuse_beside_name(Request& request) {
    for (const SourceNode& m : request.root.members) {
        Problem problem = make_problem(m, m.key, "this stands beside \"setup\", which names the whole set-up", "id, setup, set, rules; values of the set-up go into \"set\"");
        problem.nearest_key = nearest_word(m.key, {"id", "setup", "set", "rules"});
        request.problems.push_back(std::move(problem));
    }
}

/// A file knows no null.
void refuse_nulls(const SourceNode& node, const std::string& path, std::vector<Problem>& problems) {
    for (const SourceNode& m : node.members) {
        const std::string key = path.empty() ? m.key : m.key.empty() ? path : path + "." + m.key;
        if (m.kind == SourceKind::removed) problems.push_back(make_problem(m, key, "null is no value of a set-up", "a value, or no such key; \"set\" takes null to take a value away"));
        refuse_nulls(m, key, problems);
    }
}

/// What every file has to say of itself goes without saying here.
void add_header(SourceNode& root) {
    const auto add = [&](const char* key, SourceKind kind, std::string typed) {
        if (root.find(key) != nullptr) return;
        SourceNode node;
        node.kind = kind;
        node.key = key;
        node.typed = std::move(typed);
        node.whole = file_version;
        node.line = node.key_line = root.line;
        node.column = node.key_column = root.column;
        root.members.push_back(std::move(node));
    };
    add("kind", SourceKind::text, std::string(file_kind_word(FileKind::setup)));
    add("version", SourceKind::whole, std::to_string(file_version));
}

Request read_request(const InputLine& line, const BatchOptions& options) {
    Request request;
    const int place = find_place_line(line.number);
    if (line.too_long) {
        request.problems.push_back({input_name, place, 0, {}, "the line is too long; the rest of it was skipped", {}, fmt::format("at most {} bytes (1 MiB)", most_line_bytes), {}});
        request.readable = false;
        return request;
    }
    ParsedJson parsed = parse_json(line.text, input_name, place);
    request.root = std::move(parsed.root);
    request.problems = std::move(parsed.problems);
    request.readable = parsed.readable;
    if (const auto id = take_member(request.root, "id")) request.id = format_source_json(*id);
    if (!request.readable) return request;
    if (request.root.kind != SourceKind::table) {
        request.problems.push_back(make_problem(request.root, {}, "a line is one object", line_form));
        request.readable = false;
        return request;
    }
    request.options.sets = options.common.sets;
    take_sets(request);
    const bool named = request.root.find("setup") != nullptr;
    request.name = take_name(request, "setup", "a name from \"hitchwright presets list setup\", or a path");
    request.readable = !named || !request.name.empty();
    if (named) {
        request.options.rules = take_name(request, "rules", "a name from \"hitchwright rules list\", or a path");
        if (request.options.rules.empty()) request.options.rules = options.common.rules;
        refuse_beside_name(request);
    } else {
        if (request.root.find("rules") == nullptr) request.options.rules = options.common.rules;
        refuse_nulls(request.root, {}, request.problems);
        add_header(request.root);
    }
    return request;
}

LoadedSetup load_request(const Request& request, const Library& library) {
    if (!request.name.empty()) return load_setup(request.name, library, request.options);
    PresetText place;
    place.file = input_name;
    return load_setup_tree(request.root, {}, place, library, request.options);
}

/// {"line": ..., "id": ...} and the members of `rest`.
std::string begin_answer(const InputLine& line, const std::string& id, JsonObject& rest) {
    return fmt::format("{{\"line\":{},\"id\":{},{}", line.number, id, std::string_view(format_json_line(rest.build())).substr(1));
}

/// A line may be wrong in a hundred thousand places, with a value of a megabyte in each: its answer stays one to be read.
constexpr std::size_t most_errors = 50, most_shown = 200;

/// At most so many characters (UTF-8), "..." in place of the rest.
std::string shorten(const std::string& text) {
    std::size_t characters = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool begins = (static_cast<unsigned char>(text[i]) & 0xc0U) != 0x80U;
        if (begins && ++characters > most_shown) return text.substr(0, i) + "...";
    }
    return text;
}

BatchAnswer make_error_answer(const InputLine& line, const std::string& id, const std::vector<Problem>& problems) {
    JsonArray list;
    for (std::size_t i = 0; i < std::min(problems.size(), most_errors); ++i) {
        Problem problem = problems[i];
        for (std::string* text : {&problem.key, &problem.message, &problem.read}) *text = shorten(*text);
        list.push_back(make_problem_json(problem));
    }
    JsonObject o;
    o.add("errors", std::move(list));
    if (problems.size() > most_errors) o.add("more_errors", static_cast<int>(problems.size() - most_errors));
    return {begin_answer(line, id, o), true};
}

BatchAnswer answer_request(const InputLine& line, Request& request, const BatchOptions& options) {
    LoadedSetup loaded;
    if (request.readable) loaded = load_request(request, options.library);
    request.problems.insert(request.problems.end(), loaded.problems.begin(), loaded.problems.end());
    if (!request.problems.empty()) return make_error_answer(line, request.id, request.problems);
    const UnitSystem units = options.common.units;
    const Analysis analysis = analyze(loaded.setup, options.common.mark);
    JsonObject o;
    if (options.full) o.add("fit", make_fit_json(loaded.setup, analysis, units));
    else add_brief_fit(o, loaded.setup, analysis, units);
    return {begin_answer(line, request.id, o), false};
}

}  // namespace

BatchAnswer answer_batch_line(const InputLine& line, const BatchOptions& options) {
    std::string id = "null";
    try {
        Request request = read_request(line, options);
        id = request.id;
        return answer_request(line, request, options);
    } catch (const std::exception& error) {
        // What nobody foresaw costs this line its answer, not the others theirs.
        return make_error_answer(line, id, {{input_name, find_place_line(line.number), 0, {}, fmt::format("an error of the program, no answer was given: {}", escape_text(error.what())), {}, {}, {}}});
    }
}

}  // namespace hitchwright
