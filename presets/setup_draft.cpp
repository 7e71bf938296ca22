#include "presets/setup_draft.h"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>

#include "geometry/setup_fields.h"
#include "presets/key_list.h"
#include "presets/number_text.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

constexpr std::size_t comment_width = 100;

using Answers = std::map<std::string, std::string>;

std::string find_answer(const Answers& answers, const std::string& key) {
    const auto found = answers.find(key);
    return found == answers.end() ? std::string{} : found->second;
}

// The greatest place that has an answer: "tractor.upper_link_pin[3].x" counts three for "tractor.upper_link_pin".
std::size_t count_items(const Answers& answers, const std::string& list) {
    std::size_t most = 0;
    const std::string start = list + "[";
    for (auto at = answers.lower_bound(start); at != answers.end() && at->first.starts_with(start); ++at) {
        std::size_t place = 0;
        const char* begin = at->first.data() + start.size();
        std::from_chars(begin, at->first.data() + at->first.size(), place);
        most = std::max(most, place);
    }
    return most;
}

// What TOML takes as a number without more ado; all else stays as typed, in quotes.
bool is_plain_number(const std::string& text) {
    std::string_view rest = text;
    if (rest.starts_with('-')) rest.remove_prefix(1);
    const std::string_view whole = rest.substr(0, rest.find('.'));
    const std::string_view part = whole.size() == rest.size() ? std::string_view("0") : rest.substr(whole.size() + 1);
    const auto digits = [](std::string_view s) {
        return !s.empty() && s.size() <= 15 && std::all_of(s.begin(), s.end(), is_digit);
    };
    return digits(whole) && digits(part) && (whole == "0" || whole.front() != '0');
}

std::string break_comment(const std::string& text) {
    std::string result, line = "#";
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        if (line.size() + 1 + word.size() > comment_width && line.size() > 1) {
            result += line + "\n";
            line = "#";
        }
        line += " " + word;
        at = end + 1;
    }
    return result + line + "\n";
}

std::string comment_out(const std::string& text) {
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string line = text.substr(at, end - at);
        result += (line.empty() || line.front() == '#' ? line : "# " + line) + "\n";
        at = end + 1;
    }
    return result;
}

std::string describe_unit(const FieldSpec& spec, const std::string& unit) {
    switch (spec.dimension) {
        case Dimension::length: return "length, " + unit;
        case Dimension::angle: return "angle, deg";
        case Dimension::ratio: return "share, 0 to 1";
        case Dimension::rotation_speed: return "speed, rpm";
        default: break;
    }
    return fmt::format("{}, with its unit: {}", dimension_name(spec.dimension), format_units(spec.dimension));
}

std::string describe_error(const FieldSpec& spec, const std::string& unit) {
    if (!(spec.tolerance > 0.0)) return {};
    const std::string shown = spec.dimension == Dimension::length_per_turn
                                  ? format_in_unit(spec.tolerance, Dimension::length, unit)
                                  : format_in_unit(spec.tolerance, spec.dimension,
                                                   spec.dimension == Dimension::angle ? "deg" : std::string_view(unit));
    return "; usual error " + shown;
}

std::string_view describe_need(Need need) {
    switch (need) {
        case Need::file: return "; each item must have it";
        case Need::linkage: return "; needed";
        case Need::driveline: return "; needed for the shaft";
        case Need::part: return "; needed where it is fitted";
        case Need::optional: break;
    }
    return "";
}

/// Writes the fields of one part.
class DraftWriter {
public:
    DraftWriter(const SetupDraft& draft, std::string& out, std::string key, std::string header)
        : draft_(draft), out_(out), key_(std::move(key)), header_(std::move(header)) {}

    void reading(const char* key, Reading&, const FieldSpec& spec) {
        if (is_left_out(key)) return;
        comment(fmt::format("{} ({}{}{})", spec.measure, describe_unit(spec, draft_.unit),
                            describe_error(spec, draft_.unit), describe_need(spec.need)));
        const std::string answer = find(key);
        if (answer.empty() && spec.need == Need::file) complete_ = false;
        put(key, answer.empty() ? answer : is_plain_number(answer) ? answer : quote_toml(answer));
    }
    template <class E, std::size_t N>
    void choice(const char* key, E&, const ChoiceName<E> (&names)[N], const char* what) {
        if (is_left_out(key)) return;
        std::string words;
        for (const ChoiceName<E>& name : names) words += (words.empty() ? "" : ", ") + std::string(name.word);
        comment(fmt::format("{} (one of: {})", what, words));
        put_text(key);
    }
    void text(const char* key, std::string&, const char* what) {
        if (is_left_out(key)) return;
        comment(what);
        put_text(key);
    }
    void whole(const char* key, int&, int least, int most, const char* what) {
        comment(fmt::format("{} (a whole number from {} to {})", what, least, most));
        put(key, find(key));
    }
    void whole_list(const char* key, std::vector<int>&, int least, int most, const char* what) {
        comment(fmt::format("{} (whole numbers from {} to {}, such as [540, 1000])", what, least, most));
        const std::string answer = find(key);
        put(key, answer.empty() ? answer : "[" + answer + "]");
    }
    void flag(const char* key, bool&, const char* what) {
        comment(fmt::format("{} (true or false)", what));
        put(key, find(key));
    }
    template <class F>
    void table(const char* key, F&& visit_members) {
        std::string members;
        DraftWriter inner(draft_, members, key_ + key + ".", header_ + key + ".");
        visit_members(inner);
        if (!members.empty()) out_ += fmt::format("\n[{}{}]\n{}", header_, key, members);
    }
    template <class F>
    void optional_table(const char* key, bool& present, F&& visit_members) {
        std::string members;
        DraftWriter inner(draft_, members, key_ + key + ".", header_ + key + ".");
        visit_members(inner);
        if (members.empty()) return;
        out_ += present ? fmt::format("\n[{}{}]\n{}", header_, key, members)
                        : fmt::format("\n# [{}{}] is left out: not fitted.\n", header_, key);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>&, F&& visit_item, const char* what) {
        if (is_left_out(std::string(key) + ".name")) return;
        out_ += "\n" + break_comment(fmt::format("A block for {}:", what));
        const std::size_t typed = count_items(draft_.answers, key_ + key);
        // One empty block at the end, to copy from.
        for (std::size_t i = 1; i <= typed + 1; ++i) {
            std::string item_text = fmt::format("[[{}{}]]\n", header_, key);
            DraftWriter inner(draft_, item_text, fmt::format("{}{}[{}].", key_, key, i), header_ + key + ".");
            T item{};
            visit_item(item, inner);
            const bool whole = i <= typed && inner.complete_;
            if (i <= typed && !whole) out_ += "# Not complete yet, so it stands as a comment:\n";
            out_ += whole ? item_text : comment_out(item_text);
            if (i <= typed) out_ += "\n";
        }
    }

private:
    /// Mounted work has no use for it, and nobody typed it.
    bool is_left_out(const std::string& key) const {
        return !draft_.drawn && is_drawn_key(key_ + key) && find_answer(draft_.answers, key_ + key).empty();
    }
    std::string find(const char* key) const { return find_answer(draft_.answers, key_ + key); }
    void comment(const std::string& text) { out_ += break_comment(text); }
    void put(const char* key, const std::string& value) {
        out_ += value.empty() ? fmt::format("# {} =\n", key) : fmt::format("{} = {}\n", key, value);
    }
    void put_text(const char* key) {
        const std::string answer = find(key);
        put(key, answer.empty() ? answer : quote_toml(answer));
    }

    const SetupDraft& draft_;
    std::string& out_;
    std::string key_, header_;
    bool complete_ = true;
};

/// Takes answered kinds, names and counts over into a set-up.
class SpecimenFiller {
public:
    SpecimenFiller(const Answers& answers, std::string key) : answers_(answers), key_(std::move(key)) {}

    void reading(const char* key, Reading& r, const FieldSpec&) {
        if (!find(key).empty()) r.known = true;
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& value, const ChoiceName<E> (&names)[N], const char*) {
        for (const ChoiceName<E>& name : names) {
            if (find(key) == name.word) value = name.value;
        }
    }
    void text(const char*, std::string&, const char*) {}
    void whole(const char*, int&, int, int, const char*) {}
    void whole_list(const char*, std::vector<int>&, int, int, const char*) {}
    void flag(const char*, bool&, const char*) {}
    template <class F>
    void table(const char* key, F&& visit_members) {
        SpecimenFiller inner(answers_, key_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char*) {
        const std::size_t typed = count_items(answers_, key_ + key);
        if (typed == 0) return;
        items.assign(typed, T{});
        for (std::size_t i = 0; i < typed; ++i) {
            SpecimenFiller inner(answers_, fmt::format("{}{}[{}].", key_, key, i + 1));
            visit_item(items[i], inner);
        }
    }

private:
    std::string find(const char* key) const { return find_answer(answers_, key_ + key); }

    const Answers& answers_;
    std::string key_;
};

template <class T>
void write_machine(const SetupDraft& draft, std::string& out, const char* table, const std::string& use, T machine) {
    out += fmt::format("\n[{}]\n", table);
    if (!use.empty()) {
        out += fmt::format("use = {}\n", quote_toml(use));
        out += "# Values typed below go before those of that file. Take the # away and type your reading.\n";
    }
    visit_fields(machine, DraftWriter(draft, out, std::string(table) + ".", std::string(table) + "."));
}

constexpr std::string_view preface =
    "# A set-up for hitchwright. Lines behind # are comments; a key behind # has not been measured: take\n"
    "# the # away and type what you read. Lengths: 14.5, \"14 1/2 in\", \"14-1/2\", \"3'2 1/2\\\"\", \"368 mm\";\n"
    "# with their error \"14 1/2 in +- 1/8\". A number alone is in the unit below. A value that is missing is\n"
    "# better than one that is guessed: the answers that need it say so.\n"
    "# Measure with the engine off, the key out, and the implement on the ground or on stands.\n";

}  // namespace

std::string quote_toml(const std::string& text) {
    std::string quoted = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') quoted += '\\';
        if (byte < 0x20 || byte == 0x7F) {
            quoted += fmt::format("\\u{:04X}", byte);
        } else {
            quoted += c;
        }
    }
    return quoted + '"';
}

std::string format_setup_draft(const SetupDraft& draft) {
    std::string out(preface);
    out += fmt::format("kind = \"setup\"\nversion = {}\nunit = {}\n", file_version, quote_toml(draft.unit));
    out += draft.name.empty() ? "# name shown\n# name =\n" : fmt::format("name = {}\n", quote_toml(draft.name));
    out += "# the rule set to judge by: a name from \"hitchwright rules list\", or a path\n";
    out += fmt::format("rules = {}\n", quote_toml(draft.rules.empty() ? "general" : draft.rules));
    write_machine(draft, out, "tractor", draft.tractor, Tractor{});
    Implement implement;
    // An empty table would give the implement an input.
    implement.pic.fitted = draft.with_pto;
    write_machine(draft, out, "implement", draft.implement, implement);
    if (draft.with_driveline) {
        write_machine(draft, out, "driveline", draft.driveline, Driveline{});
    } else {
        out += "\n[driveline]\nuse = \"none\"\n";
    }
    out += "\n[choices]\n";
    Choices choices;
    visit_fields(choices, DraftWriter(draft, out, "choices.", "choices."));
    std::vector<DirectReading> direct;
    visit_setup_lists(direct, DraftWriter(draft, out, "", ""));
    Parts parts;
    out += "\n# Parts between tractor and implement. Take the # away from a whole block, its switch first.\n";
    visit_parts(parts, [&](const char* key, auto& part) {
        std::string block = fmt::format("[{}]\n", key);
        visit_fields(part, DraftWriter(draft, block, std::string(key) + ".", std::string(key) + "."));
        out += comment_out(block) + "\n";
    });
    return out;
}

LoadedSetup load_setup_draft(const SetupDraft& draft, const Library& library, const std::string& folder) {
    PresetText text;
    text.text = format_setup_draft(draft);
    text.file = "new";
    text.folder = folder;
    return load_setup(text, library);
}

bool has_driven_implement(const SetupDraft& draft, const Library& library, const std::string& folder) {
    if (draft.implement.empty()) return draft.with_pto;
    // Without a table of the draft's own, which would give it an input whatever it is.
    SetupDraft bare = draft;
    bare.with_pto = bare.with_driveline = false;
    bare.answers.clear();
    return load_setup_draft(bare, library, folder).setup.implement.pic.fitted;
}

Setup make_draft_specimen(const SetupDraft& draft, const LoadedSetup& loaded) {
    Setup setup = loaded.setup;
    setup.implement.pic.fitted = draft.with_pto;
    setup.has_driveline = draft.with_driveline;
    // What stands in the file of its own is filled in from the answers, items that are not complete included.
    if (draft.tractor.empty()) setup.tractor = Tractor{};
    if (draft.implement.empty()) {
        setup.implement = Implement{};
        setup.implement.pic.fitted = draft.with_pto;
    }
    if (draft.driveline.empty()) setup.driveline = Driveline{};
    setup.choices = Choices{};
    visit_fields(setup.tractor, SpecimenFiller(draft.answers, "tractor."));
    visit_fields(setup.implement, SpecimenFiller(draft.answers, "implement."));
    visit_fields(setup.driveline, SpecimenFiller(draft.answers, "driveline."));
    visit_fields(setup.choices, SpecimenFiller(draft.answers, "choices."));
    setup.direct_readings.clear();
    visit_setup_lists(setup.direct_readings, SpecimenFiller(draft.answers, {}));
    return setup;
}

}  // namespace hitchwright
