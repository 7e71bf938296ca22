// Method: a visitor of setup_fields.h that keeps lines table by table, since a value at the root must stand before the
// first header whatever the order of the fields.
#include "presets/machine_text.h"

#include <charconv>
#include <cmath>
#include <deque>

#include <fmt/format.h>

#include "geometry/setup_fields.h"
#include "presets/machine_kind.h"
#include "presets/setup_draft.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

constexpr double same_share = 1e-13;

/// Lines below one header; the root has none.
struct Section {
    std::string header, lines;
    bool always = false;  ///< written without lines as well
};

std::string_view unit_word(Dimension dimension, const std::string& file_unit) {
    const bool inches = file_unit == "in";
    switch (dimension) {
        case Dimension::length:
        case Dimension::length_per_turn:
            return file_unit;
        case Dimension::angle:
            return "deg";
        case Dimension::mass:
            return inches ? "lb" : "kg";
        case Dimension::force:
            return inches ? "lbf" : "N";
        case Dimension::power:
            return inches ? "hp" : "kW";
        case Dimension::rotation_speed:
            return "rpm";
        case Dimension::pressure:
            return inches ? "psi" : "kPa";
        case Dimension::torque:
            return "N m";
        case Dimension::ratio:
        case Dimension::count:
            break;
    }
    return "";
}

/// The number in the unit with ten digits where that is the value, else with all.
std::string format_number(double si, const Unit& unit) {
    const double number = unit.from_si(si);
    const std::string rounded = fmt::format("{:.10g}", number);
    double read = 0.0;
    std::from_chars(rounded.data(), rounded.data() + rounded.size(), read);
    const bool same = std::fabs(unit.to_si(read) - si) <= same_share * std::fabs(si);
    return same ? rounded : fmt::format("{:.17g}", number);
}

std::string format_quantity(double si, Dimension dimension, const std::string& file_unit) {
    const std::string_view word = unit_word(dimension, file_unit);
    const Unit* unit = find_unit(word, dimension);
    std::string text = format_number(si, *unit);
    if (!word.empty()) text += " " + std::string(word);
    if (dimension == Dimension::length_per_turn) text += "/turn";
    return quote_toml(text);
}

class MachineWriter {
public:
    MachineWriter(std::deque<Section>& sections, Section& section, const MachineTextOptions& options,
                  std::string header, std::string key)
        : sections_(sections), section_(section), options_(options), header_(std::move(header)), key_(std::move(key)) {}

    void reading(const char* key, Reading& r, const FieldSpec& spec) {
        if (!r.known || r.origin == Origin::computed || (options_.left_out && options_.left_out(key_ + key))) return;
        std::string parts = "value = " + format_quantity(r.value, spec.dimension, options_.unit);
        const bool usual = std::fabs(r.tolerance - spec.tolerance) <= same_share * spec.tolerance;
        if (!usual) parts += ", tolerance = " + format_quantity(r.tolerance, spec.dimension, options_.unit);
        if (r.origin != Origin::measured) parts += fmt::format(", origin = \"{}\"", origin_of(r.origin));
        const bool plain = usual && r.origin == Origin::measured;
        put(key, plain ? format_quantity(r.value, spec.dimension, options_.unit) : "{ " + parts + " }");
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& value, const ChoiceName<E> (&names)[N], const char*) {
        for (const ChoiceName<E>& name : names) {
            if (name.value == value) return put(key, quote_toml(name.word));
        }
    }
    void text(const char* key, std::string& value, const char*) {
        const bool root = header_.empty();
        const std::string& own = root && std::string_view(key) == "name" && !options_.name.empty()   ? options_.name
                                 : root && std::string_view(key) == "note" && !options_.note.empty() ? options_.note
                                                                                                     : value;
        if (!own.empty()) put(key, quote_toml(own));
    }
    void whole(const char* key, int& value, int least, int, const char*) {
        if (value != 0 || least < 0) put(key, std::to_string(value));
    }
    void whole_list(const char* key, std::vector<int>& list, int, int, const char*) {
        std::string all;
        for (const int value : list) all += (all.empty() ? "" : ", ") + std::to_string(value);
        if (!list.empty()) put(key, "[" + all + "]");
    }
    void flag(const char* key, bool& value, const char*) { put(key, value ? "true" : "false"); }
    template <class F>
    void table(const char* key, F&& visit_members) {
        open(key, false, visit_members);
    }
    template <class F>
    void optional_table(const char* key, bool& present, F&& visit_members) {
        if (present) open(key, true, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char*) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string name = items[i].name.empty() ? std::to_string(i + 1) : items[i].name;
            sections_.push_back({"[[" + header_ + key + "]]", {}, true});
            MachineWriter inner(sections_, sections_.back(), options_, header_ + key + ".",
                                fmt::format("{}{}[{}].", key_, key, name));
            visit_item(items[i], inner);
        }
    }

private:
    static std::string_view origin_of(Origin origin) {
        switch (origin) {
            case Origin::manual:
                return "manual";
            case Origin::preset:
                return "preset";
            case Origin::assumed:
                return "assumed";
            default:
                return "measured";
        }
    }
    void put(const char* key, const std::string& literal) { section_.lines += fmt::format("{} = {}\n", key, literal); }
    template <class F>
    void open(const char* key, bool always, F& visit_members) {
        sections_.push_back({"[" + header_ + key + "]", {}, always});
        MachineWriter inner(sections_, sections_.back(), options_, header_ + key + ".", key_ + key + ".");
        visit_members(inner);
    }

    std::deque<Section>& sections_;  // a deque: sections stay where they are while others are added
    Section& section_;
    const MachineTextOptions& options_;
    std::string header_, key_;
};

}  // namespace

template <class T>
std::string format_machine(const T& machine, const MachineTextOptions& options) {
    T copy = machine;
    std::deque<Section> sections(1);
    visit_fields(copy, MachineWriter(sections, sections.front(), options, {}, {}));
    std::string text = fmt::format("kind = \"{}\"\nversion = {}\nunit = \"{}\"\norigin = \"measured\"\n",
                                   file_kind_word(kind_of<T>), file_version, options.unit);
    for (const Section& section : sections) {
        if (section.lines.empty() && !section.always) continue;
        text += (section.header.empty() ? "" : "\n" + section.header + "\n") + section.lines;
    }
    return text;
}

template std::string format_machine(const Tractor&, const MachineTextOptions&);
template std::string format_machine(const Implement&, const MachineTextOptions&);
template std::string format_machine(const Driveline&, const MachineTextOptions&);

}  // namespace hitchwright
