// Key tables by visiting the fields.
#include "presets/key_table.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "presets/defaults.h"
#include "presets/key_list.h"
#include "presets/specification_list.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

/// One line of a table.
struct Row {
    std::string key, form, range, error, fallback, need, meaning;
};

std::string format_row(const Row& row) {
    return fmt::format("| `{}` | {} | {} | {} | {} | {} | {} |\n", row.key, row.form, row.range, row.error, row.fallback, row.need,
                       row.meaning);
}

std::string_view table_unit(Dimension dimension) {
    switch (dimension) {
        case Dimension::length:
        case Dimension::length_per_turn: return "mm";
        case Dimension::angle: return "deg";
        case Dimension::mass: return "kg";
        case Dimension::force: return "kN";
        case Dimension::power: return "kW";
        case Dimension::rotation_speed: return "rpm";
        case Dimension::pressure: return "kPa";
        case Dimension::torque: return "N m";
        case Dimension::count:
        case Dimension::ratio: break;
    }
    return "";
}

std::string format_range(const FieldSpec& spec) {
    const std::string_view unit = table_unit(spec.dimension);
    std::string least = format_in_unit(spec.least, spec.dimension, unit);
    // "200 to 2500 mm": the unit once, at the end.
    least.resize(std::min(least.find(' '), least.size()));
    return fmt::format("{} to {}", least, format_in_unit(spec.most, spec.dimension, unit));
}

std::string format_error(const FieldSpec& spec) {
    if (spec.tolerance == 0.0) {
        return "-";
    }
    // Usual errors of lengths are sixteenths of an inch.
    const double sixteenths = spec.tolerance / (field::inch / 16);
    const bool exact = spec.dimension == Dimension::length && std::fabs(sixteenths - std::round(sixteenths)) < 1e-9;
    if (!exact) {
        return format_in_unit(spec.tolerance, spec.dimension, table_unit(spec.dimension));
    }
    int above = static_cast<int>(std::lround(sixteenths)), below = 16;
    while (above % 2 == 0 && below > 1) {
        above /= 2;
        below /= 2;
    }
    return below == 1 ? fmt::format("{} in", above) : fmt::format("{}/{} in", above, below);
}

std::string format_need(Need need) {
    switch (need) {
        case Need::file: return "every item";
        case Need::linkage: return "linkage";
        case Need::driveline: return "driveline";
        case Need::part: return "set-ups that have it";
        case Need::optional: break;
    }
    return "-";
}

std::string format_measure(const FieldSpec& spec) {
    return spec.measure_drawn == nullptr ? spec.measure
                                         : fmt::format("{}; drawn: {}", spec.measure, spec.measure_drawn);
}

std::string_view grade_letter(Grade grade) {
    for (const auto& name : grades) {
        if (name.value == grade) {
            return name.word;
        }
    }
    return "C";
}

// The default of a full key such as "tractor.pto.stub_slope".
std::string format_default(const std::string& full_key, Dimension dimension) {
    for (const DefaultValue& value : default_values()) {
        if (value.key == full_key) {
            return fmt::format("{} (grade {})", format_in_unit(value.value, dimension, table_unit(dimension)),
                               grade_letter(value.grade));
        }
    }
    return "unknown";
}

/// The visitor that makes rows.
class RowCollector {
public:
    RowCollector(std::string& rows, std::string prefix, std::string shown)
        : rows_(rows), prefix_(std::move(prefix)), shown_(std::move(shown)) {}

    void reading(const char* key, Reading&, const FieldSpec& spec) {
        if (spec.by_quantity) {
            const bool error = spec.tolerance > 0.0;
            add({shown_ + key, "figure", "by `quantity`", error ? "by `quantity`" : "-", "unknown", "-", spec.measure});
            return;
        }
        add({shown_ + key, std::string(dimension_name(spec.dimension)), format_range(spec), format_error(spec),
             format_default(prefix_ + key, spec.dimension), format_need(spec.need), format_measure(spec)});
    }
    void limit(const char* key, Limit&, const FieldSpec& spec) {
        add({shown_ + key, std::string(dimension_name(spec.dimension)) + " or `none`", format_range(spec), "-", "that of `general`", "-",
             spec.measure});
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& field, const ChoiceName<E> (&names)[N], const char* what) {
        std::string words, first;
        for (const ChoiceName<E>& name : names) {
            words += fmt::format("{}`{}`", words.empty() ? "" : ", ", name.word);
            first = name.value == field ? fmt::format("`{}`", name.word) : first;
        }
        // Nothing is read into a shaft length whose end points nobody named.
        const bool must = std::string_view(key) == "reference";
        add({shown_ + key, "word", words, "-", must ? "none: must be given" : first, must ? "driveline" : "-", what});
    }
    void text(const char* key, std::string&, const char* what) {
        const bool note = std::string_view(key) == "note";
        add({shown_ + key, "text", fmt::format("up to {} characters", note ? most_note_bytes : most_text_bytes), "-", "empty", "-", what});
    }
    void whole(const char* key, int&, int least, int most, const char* what) {
        add({shown_ + key, "whole number", fmt::format("{} to {}", least, most), "-", "unknown", "-", what});
    }
    void whole_list(const char* key, std::vector<int>&, int least, int most, const char* what) {
        add({shown_ + key, "list of whole numbers", fmt::format("each {} to {}", least, most), "-", "unknown", "-", what});
    }
    void flag(const char* key, bool&, const char* what) {
        // A part that is listed has its switch; see load_setup.cpp.
        const bool must = std::string_view(key) == "fitted";
        add({shown_ + key, "true or false", "-", "-", must ? "none: must be given" : "`false`", must ? "the part" : "-", what});
    }
    template <class F>
    void table(const char* key, F&& visit_members) {
        RowCollector inner(rows_, prefix_ + key + ".", shown_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        add({shown_ + key, "table", "-", "-", "absent", "-", "may be left out as a whole"});
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>&, F&& visit_item, const char* what) {
        add({shown_ + key, "list", "up to 64 items", "-", "empty", "-", what});
        RowCollector inner(rows_, prefix_ + key + "[].", shown_ + key + "[].");
        T item{};
        visit_item(item, inner);
    }

private:
    void add(const Row& row) { rows_ += format_row(row); }

    std::string& rows_;
    std::string prefix_;  ///< as in a set-up, for defaults
    std::string shown_;   ///< as in this file
};

template <class T>
void add_fields(std::string& rows, const std::string& prefix, const std::string& shown) {
    T value{};
    visit_fields(value, RowCollector(rows, prefix, shown));
}

std::string header_rows(FileKind kind) {
    const bool rules = kind == FileKind::rules;
    std::string rows = format_row({"kind", "word", fmt::format("`{}`", file_kind_word(kind)), "-", "none: must be given", "file", "what the file describes"});
    rows += format_row({"version", "whole number", std::to_string(file_version), "-", "none: must be given", "file", "version of this format"});
    rows += format_row({"unit", "word", "`in`, `mm`, `cm`, `m`", "-", "none", "bare lengths", "unit of lengths without one"});
    if (rules) {
        rows += format_row({"grade", "word", "`A`, `B`, `C`, `D`, `P`", "-", "`C`", "-", "grade of limits that state none"});
        rows += format_row({"source", "text", fmt::format("up to {} characters", most_text_bytes), "-", "empty", "-", "source of limits that state none"});
    } else {
        rows += format_row({"origin", "word", "`measured`, `manual`, `preset`, `assumed`", "-", "`measured`; `preset` in built-in files", "-", "origin of values that state none"});
    }
    return rows;
}

void add_setup_rows(std::string& rows) {
    const auto text = [&](const char* key, const char* fallback, const char* need, const char* what) {
        rows += format_row({key, "text", fmt::format("up to {} characters", most_text_bytes), "-", fallback, need, what});
    };
    text("name", "empty", "-", "name shown");
    rows += format_row({"note", "text", fmt::format("up to {} characters", most_note_bytes), "-", "empty", "-", "free text"});
    text("rules", "`general`", "-", "rule set, by name or path");
    text("tractor.use", "none", "-", "tractor, by name or path; any key of a tractor file may stand beside it");
    text("implement.use", "none", "-", "implement, by name or path; any key of an implement file may stand beside it");
    text("driveline.use", "none", "-", "driveline, by name or path, or `none`; any key of a driveline file may stand beside it");
    add_fields<Choices>(rows, "choices.", "choices.");
    JobDetails job;
    std::vector<DirectReading> readings;
    std::vector<PoseReading> poses;
    std::vector<TurnReading> turns;
    visit_setup_own(job, readings, poses, turns, RowCollector(rows, {}, {}));
    rows += format_row({"specification_lists", "list of texts", fmt::format("up to {} names", most_specification_lists), "-", "empty", "-", "specification lists, by name or path"});
    std::vector<SpecificationLine> lines;
    visit_lines("specification", lines, RowCollector(rows, {}, {}));
    Parts parts;
    visit_parts(parts, [&rows](const char* key, auto& part) {
        const std::string prefix = std::string(key) + ".";
        visit_fields(part, RowCollector(rows, prefix, prefix));
    });
}

}  // namespace

std::string format_key_table(FileKind kind) {
    std::string rows = "| key | form | range | usual error | default | needed for | meaning, or from where to where to measure |\n";
    rows += "|---|---|---|---|---|---|---|\n";
    rows += header_rows(kind);
    switch (kind) {
        case FileKind::tractor: add_fields<Tractor>(rows, "tractor.", ""); break;
        case FileKind::implement: add_fields<Implement>(rows, "implement.", ""); break;
        case FileKind::driveline: add_fields<Driveline>(rows, "driveline.", ""); break;
        case FileKind::rules: add_fields<RuleSet>(rows, "rules.", ""); break;
        case FileKind::specification_list: add_fields<SpecificationList>(rows, "", ""); break;
        case FileKind::setup: add_setup_rows(rows); break;
    }
    return rows;
}

}  // namespace hitchwright
