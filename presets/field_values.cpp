// Values with their table form, range, origin and note.
#include "presets/field_values.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "presets/nearest.h"
#include "presets/number_text.h"
#include "presets/quantity.h"
#include "presets/units.h"
#include "presets/value_parts.h"

namespace hitchwright {

void erase_notes(FieldNotes& notes, const std::string& key) {
    for (auto at = notes.lower_bound(key); at != notes.end() && at->first.rfind(key, 0) == 0;) {
        const char after = at->first.size() > key.size() ? at->first[key.size()] : '.';
        at = after == '.' || after == '[' ? notes.erase(at) : std::next(at);
    }
}

void add_problem(ReadContext& context, const SourceNode& node, const std::string& key, std::string message,
                 std::string read, std::string allowed, std::string nearest) {
    context.problems.push_back({context.file.name, node.line, node.column, key, std::move(message), std::move(read),
                                std::move(allowed), std::move(nearest)});
}

std::string typed_text(const SourceNode& node) {
    switch (node.kind) {
        case SourceKind::table: return "{ ... }";
        case SourceKind::list: return "[ ... ]";
        case SourceKind::by_name: return "[name]";
        case SourceKind::text: return "\"" + node.typed + "\"";
        case SourceKind::removed: return {};
        default: break;
    }
    return node.typed.empty() ? fmt::format("{}", node.number) : node.typed;
}

namespace {

// One problem stands for all bare lengths of a file.
constexpr const char* missing_unit_message = "a length without unit, in a file that states none (said once for the whole file)";

}  // namespace

bool is_said_already(const std::vector<Problem>& said, std::string_view file, std::string_view message) {
    return message == missing_unit_message &&
           std::any_of(said.begin(), said.end(), [&](const Problem& p) { return p.file == file && p.message == message; });
}

namespace {

// A quantity from a number or a text; false after a problem.
bool read_quantity(const SourceNode& node, const std::string& key, Dimension dimension, Quantity& quantity, ReadContext& context) {
    if (node.kind == SourceKind::text) {
        quantity = parse_quantity(node.typed, dimension, context.file.unit);
    } else if (node.kind == SourceKind::number || node.kind == SourceKind::whole) {
        quantity = make_quantity(node.number, dimension, context.file.unit);
    } else {
        refuse_kind(node, key, std::string(dimension_example(dimension)), context);
        return false;
    }
    if (quantity.ok()) {
        return true;
    }
    const bool length = dimension == Dimension::length || dimension == Dimension::length_per_turn;
    if (quantity.status == QuantityStatus::no_unit && length && !context.file.command_line && context.file.unit.empty()) {
        quantity.message = missing_unit_message;
        if (is_said_already(context.problems, context.file.name, quantity.message)) return false;
    }
    add_problem(context, node, key, quantity.message, typed_text(node), quantity.allowed);
    return false;
}

std::string format_range(const FieldSpec& spec, const Quantity& quantity, const ReadContext& context) {
    const std::string unit = quantity.unit.empty() ? context.file.unit : quantity.unit;
    const std::string fallback = spec.dimension == Dimension::angle ? "deg" : unit;
    const std::string& shown = quantity.unit.empty() ? fallback : unit;
    return fmt::format("{} to {}", format_in_unit(spec.least, spec.dimension, shown),
                       format_in_unit(spec.most, spec.dimension, shown));
}

bool check_range(const SourceNode& node, const std::string& key, const FieldSpec& spec, const Quantity& quantity, ReadContext& context) {
    if (quantity.value >= spec.least && quantity.value <= spec.most) {
        return true;
    }
    add_problem(context, node, key, fmt::format("this {} is outside what is possible", dimension_name(spec.dimension)),
                typed_text(node), format_range(spec, quantity, context));
    return false;
}

// The tolerance as typed in either place, or the usual one; false after a problem.
bool read_tolerance(const ValueParts& parts, const std::string& key, const FieldSpec& spec, const Quantity& quantity,
                    double& tolerance, ReadContext& context) {
    tolerance = quantity.has_tolerance ? quantity.tolerance : spec.tolerance;
    const SourceNode& place = parts.tolerance == nullptr ? *parts.value : *parts.tolerance;
    const std::string place_key = parts.tolerance == nullptr ? key : key + ".tolerance";
    if (parts.tolerance != nullptr) {
        if (quantity.has_tolerance) {
            add_problem(context, place, place_key, "the tolerance is given twice, here and in the value", typed_text(place));
            return false;
        }
        Quantity typed;
        if (!read_quantity(place, place_key, spec.dimension, typed, context)) {
            return false;
        }
        tolerance = typed.has_tolerance ? -1.0 : typed.value;
    }
    if (tolerance >= 0.0 && tolerance <= spec.most - spec.least) {
        return true;
    }
    add_problem(context, place, place_key, "this is no possible tolerance", typed_text(place),
                fmt::format("0 to {}", format_in_unit(spec.most - spec.least, spec.dimension, quantity.unit)));
    return false;
}

// Whole number from a whole node, or from the text of the command line.
std::optional<long long> take_whole(const SourceNode& node, const ReadContext& context) {
    if (node.kind == SourceKind::whole) {
        return node.whole;
    }
    if (node.kind != SourceKind::text || !context.file.command_line) {
        return std::nullopt;
    }
    const std::string_view text = trim(node.typed);
    long long value = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool all = read.ec == std::errc{} && read.ptr == text.data() + text.size();
    return all ? std::optional(value) : std::nullopt;
}

std::optional<int> read_whole_value(const SourceNode& node, const std::string& key, int least, int most, ReadContext& context) {
    const std::optional<long long> value = take_whole(node, context);
    if (value && *value >= least && *value <= most) {
        return static_cast<int>(*value);
    }
    add_problem(context, node, key, value ? "this number is outside what is possible" : "this is no whole number",
                typed_text(node), fmt::format("a whole number from {} to {}", least, most));
    return std::nullopt;
}

// The command line's list: "540, 1000".
SourceNode split_list(const SourceNode& node) {
    SourceNode list = node;
    list.kind = SourceKind::list;
    std::string_view rest = node.typed;
    while (true) {
        const std::size_t comma = rest.find(',');
        SourceNode item = node;
        item.typed = std::string(trim(rest.substr(0, comma)));
        list.members.push_back(std::move(item));
        if (comma == std::string_view::npos) {
            return list;
        }
        rest.remove_prefix(comma + 1);
    }
}

}  // namespace

void read_reading(const SourceNode& node, const std::string& key, Reading& field, const FieldSpec& spec, ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::origin_and_tolerance, context);
    if (parts.value == nullptr) {
        return;
    }
    Quantity quantity;
    double tolerance = 0.0;
    const bool fine = read_quantity(*parts.value, key, spec.dimension, quantity, context) &&
                      check_range(*parts.value, key, spec, quantity, context);
    if (fine && read_tolerance(parts, key, spec, quantity, tolerance, context)) {
        field = make_reading(quantity.value, parts.note.origin, tolerance);
        keep_note(key, parts, context);
    }
}

void read_text(const SourceNode& node, const std::string& key, std::string& field, bool one_line, ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::origin, context);
    if (parts.value == nullptr) {
        return;
    }
    const std::size_t most = one_line ? most_text_bytes : most_note_bytes;
    const std::string allowed = fmt::format("a text in quotes of up to {} characters{}", most, one_line ? " on one line" : "");
    const SourceNode& value = *parts.value;
    // Holes are often called 1, 2, 3: a bare whole number is a name, too.
    if (value.kind != SourceKind::text && value.kind != SourceKind::whole) {
        refuse_kind(value, key, allowed, context);
    } else if (value.typed.size() > most) {
        add_problem(context, value, key, "this text is too long", typed_text(value), allowed);
    } else if (has_control_characters(value.typed, one_line)) {
        add_problem(context, value, key, "this text holds characters that cannot be printed", typed_text(value), allowed);
    } else {
        field = value.typed;
        keep_note(key, parts, context);
    }
}

void read_whole(const SourceNode& node, const std::string& key, int& field, int least, int most, ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::origin, context);
    if (parts.value == nullptr) {
        return;
    }
    if (const auto value = read_whole_value(*parts.value, key, least, most, context)) {
        field = *value;
        keep_note(key, parts, context);
    }
}

void read_whole_list(const SourceNode& node, const std::string& key, std::vector<int>& field, int least, int most,
                     ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::origin, context);
    if (parts.value == nullptr) {
        return;
    }
    const bool typed_line = parts.value->kind == SourceKind::text && context.file.command_line;
    const SourceNode list = typed_line ? split_list(*parts.value) : *parts.value;
    if (list.kind != SourceKind::list) {
        refuse_kind(list, key, fmt::format("a list of whole numbers from {} to {}, such as [540, 1000]", least, most), context);
        return;
    }
    std::vector<int> values;
    for (const SourceNode& item : list.members) {
        if (const auto value = read_whole_value(item, key, least, most, context)) {
            values.push_back(*value);
        }
    }
    if (values.size() == list.members.size()) {
        field = std::move(values);
        keep_note(key, parts, context);
    }
}

void read_flag(const SourceNode& node, const std::string& key, bool& field, ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::origin, context);
    if (parts.value == nullptr) {
        return;
    }
    const SourceNode& value = *parts.value;
    const bool word = context.file.command_line && (value.typed == "true" || value.typed == "false");
    if (value.kind != SourceKind::flag && !word) {
        refuse_kind(value, key, "true or false, without quotes", context);
        return;
    }
    field = word ? value.typed == "true" : value.flag;
    keep_note(key, parts, context);
}

void read_limit(const SourceNode& node, const std::string& key, Limit& field, const FieldSpec& spec, ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::grade_and_source, context);
    if (parts.value == nullptr) {
        return;
    }
    // "none" is not a blank: this rule set has no such limit, and none is taken from another set.
    if (parts.value->kind == SourceKind::text && parts.value->typed == "none") {
        field = Limit{0.0, false, parts.grade, parts.source};
        keep_note(key, parts, context);
        return;
    }
    Quantity quantity;
    if (!read_quantity(*parts.value, key, spec.dimension, quantity, context) ||
        !check_range(*parts.value, key, spec, quantity, context)) {
        return;
    }
    if (quantity.has_tolerance) {
        add_problem(context, *parts.value, key, "a limit has no tolerance", typed_text(*parts.value));
        return;
    }
    field = Limit{quantity.value, true, parts.grade, parts.source};
    keep_note(key, parts, context);
}

std::string format_typed(const SourceNode& node, Dimension dimension, const SourceFile& file) {
    if (node.kind == SourceKind::table) {
        const SourceNode* value = node.find("value");
        const SourceNode* tolerance = node.find("tolerance");
        if (value == nullptr) return {};
        const std::string text = format_typed(*value, dimension, file);
        return tolerance == nullptr ? text : text + " +- " + format_typed(*tolerance, dimension, file);
    }
    std::string text = node.kind == SourceKind::text ? node.typed : typed_text(node);
    const Quantity q = node.kind == SourceKind::text ? parse_quantity(node.typed, dimension, file.unit) : Quantity{};
    const bool plain = node.kind != SourceKind::text || (q.ok() && q.plain);
    const Unit* unit = plain ? plain_unit(dimension, file.unit) : nullptr;
    if (unit == nullptr || unit->name.empty()) return text;
    return fmt::format("{} {}{}", text, unit->name, dimension == Dimension::length_per_turn ? "/turn" : "");
}

std::optional<std::size_t> read_word(const SourceNode& node, const std::string& key, const std::vector<std::string>& words,
                                     ReadContext& context) {
    const ValueParts parts = take_apart(node, key, Beside::origin, context);
    if (parts.value == nullptr) {
        return std::nullopt;
    }
    const SourceNode& value = *parts.value;
    // category = 1 means the same as category = "1".
    const bool readable = value.kind == SourceKind::text || value.kind == SourceKind::whole;
    for (std::size_t i = 0; readable && i < words.size(); ++i) {
        if (value.typed == words[i]) {
            keep_note(key, parts, context);
            return i;
        }
    }
    add_problem(context, value, key, "this is not one of the words allowed here", typed_text(value), join_words(words),
                readable ? nearest_word(value.typed, words) : std::string{});
    return std::nullopt;
}

}  // namespace hitchwright
