// See setup_draft_text.h. Keys and words are those of setup_fields.h; what is needed, that of card_lines.h.
#include "presets/setup_draft_text.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "geometry/card_lines.h"
#include "geometry/setup_fields.h"
#include "presets/key_list.h"
#include "presets/number_text.h"
#include "presets/setup_draft.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

constexpr std::size_t line_width = 100;

std::string break_comment(const std::string& text) {
    std::string result, line = "#";
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        if (line.size() + 1 + word.size() > line_width && line.size() > 1) {
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
        case Dimension::length: return unit;
        case Dimension::angle: return "deg";
        case Dimension::ratio: return "0 to 1";
        case Dimension::rotation_speed: return "rpm";
        default: break;
    }
    return "with its unit: " + format_units(spec.dimension);
}

// Errors of a tape in inches are parts of an inch; all others need two places.
std::string describe_error(const FieldSpec& spec, const std::string& unit) {
    if (!(spec.tolerance > 0.0)) return {};
    const bool length = spec.dimension == Dimension::length || spec.dimension == Dimension::length_per_turn;
    const double shown = !length ? spec.tolerance / (spec.dimension == Dimension::angle ? field::degree : 1.0)
                         : unit == "in" ? spec.tolerance / field::inch
                                        : spec.tolerance * 1000.0;
    const long sixteenths = std::lround(shown * 16.0);
    if (length && unit == "in" && sixteenths > 0 && sixteenths < 16 && std::fabs(shown * 16.0 - static_cast<double>(sixteenths)) < 1e-6) {
        const long part = sixteenths % 8 == 0 ? 8 : sixteenths % 4 == 0 ? 4 : sixteenths % 2 == 0 ? 2 : 1;
        return fmt::format(", +-{}/{}", sixteenths / part, 16 / part);
    }
    return fmt::format(", +-{:.2g}", shown);
}

/// Patterns of the keys without which an answer of the job cannot be given.
std::set<std::string> list_needed(const SetupDraft& draft) {
    std::set<std::string> needed;
    Setup blank =
        make_blank_setup(draft.with_pto || draft.with_driveline, draft.drawn ? Attachment::drawn : Attachment::mounted);
    // Something about a ditch makes the rest of it needed; a bearing that is fitted, its place.
    blank.choices.drawn.ditch.crossing_angle.known = draft.with_ditch;
    blank.implement.drawn.steady_bearing.fitted = true;
    Parts& p = blank.parts;
    p.coupler.fitted = p.link_extender.fitted = p.overrunning_clutch.fitted = p.spline_extender.fitted = true;
    for (const CardLine& line : list_card_lines(blank)) {
        if (line.needed) needed.insert(line.pattern);
    }
    // A machine from a file says itself how high it works.
    if (!draft.implement.empty()) needed.erase("choices.working_ball_height");
    if (draft.choose_pin) needed.insert("choices.drawbar_pin");
    return needed;
}

/// What all writers of one file share.
struct DraftContext {
    const SetupDraft& draft;
    std::set<std::string> needed;

    std::string answer(const std::string& key) const { return find_draft_answer(draft.answers, key); }
};

/// Writes the fields of one part that is not taken from a file.
class DraftWriter {
public:
    DraftWriter(const DraftContext& context, std::string& out, std::string key, std::string pattern)
        : context_(context), out_(out), key_(std::move(key)), pattern_(std::move(pattern)) {}

    void stand_at(Station, Asked asked, Hitched hitched) {
        asked_ = asked;
        hitched_ = hitched;
    }

    void reading(const char* key, Reading&, const FieldSpec& spec) {
        if (is_left_out(key, spec.own_job ? spec.asked : asked_)) return;
        const bool item = spec.need == Need::file;
        const std::string typed = answer(key);
        if (typed.empty() && item) complete_ = false;
        put(key, typed.empty() || is_toml_number(typed) ? typed : quote_toml(typed),
            fmt::format("{} ({}{})", spec.measure_for(context_.draft.drawn), describe_unit(spec, context_.draft.unit),
                        describe_error(spec, context_.draft.unit)),
            item || is_needed(key));
    }
    template <class E, std::size_t N>
    void choice(const char* key, E&, const ChoiceName<E> (&names)[N], const char* what) {
        if (is_left_out(key, asked_)) return;
        std::string words;
        for (const ChoiceName<E>& name : names) words += (words.empty() ? "" : ", ") + std::string(name.word);
        put_text(key, fmt::format("{} (one of: {})", what, words), is_needed(key));
    }
    void text(const char* key, std::string&, const char* what) {
        if (!is_left_out(key, Asked::always))
            put_text(key, what, (in_item_ && std::string_view(key) == "name") || is_needed(key));
    }
    void whole(const char* key, int&, int least, int most, const char* what) {
        if (!is_left_out(key, asked_)) put(key, answer(key), fmt::format("{} ({} to {})", what, least, most), false);
    }
    void whole_list(const char* key, std::vector<int>&, int least, int most, const char* what) {
        if (is_left_out(key, asked_)) return;
        const std::string typed = answer(key);
        put(key, typed.empty() ? typed : "[" + typed + "]", fmt::format("{} ({} to {}, such as [540, 1000])", what, least, most), false);
    }
    void flag(const char* key, bool&, const char* what) {
        put(key, answer(key), fmt::format("{} (true or false)", what), std::string_view(key) == "fitted");
    }
    template <class F>
    void table(const char* key, F&& visit_members) {
        const std::string members = write_members(key, visit_members);
        if (!members.empty()) out_ += fmt::format("\n[{}{}]\n{}", pattern_, key, members);
    }
    template <class F>
    void optional_table(const char* key, bool& present, F&& visit_members) {
        if (present) return table(key, visit_members);
        const std::string members = write_members(key, visit_members);
        if (!members.empty())
            out_ += fmt::format("\n# Only where it is fitted:\n{}",
                                comment_out(fmt::format("[{}{}]\n{}", pattern_, key, members)));
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>&, F&& visit_item, const char* what) {
        if (is_left_out(std::string(key) + ".name", asked_)) return;
        finish();
        out_ += "\n" + break_comment(fmt::format("A block for {}:", what));
        const std::size_t typed = count_draft_items(context_.draft.answers, key_ + key);
        // One empty block at the end, to copy from.
        for (std::size_t i = 1; i <= typed + 1; ++i) {
            std::string block = fmt::format("[[{}{}]]\n", pattern_, key);
            DraftWriter inner(context_, block, fmt::format("{}{}[{}].", key_, key, i), pattern_ + key + ".");
            inner.in_item_ = true;
            inner.stand_at(Station::none, asked_, hitched_);
            T item{};
            visit_item(item, inner);
            inner.finish();
            const bool whole = i <= typed && inner.complete_;
            if (i <= typed && !whole) out_ += "# Not complete yet, so it stands as a comment:\n";
            out_ += whole ? block : comment_out(block);
            if (i <= typed) out_ += "\n";
        }
    }

    /// Puts what need not be there behind what must; once all fields before a table or a list are visited.
    void finish() {
        if (!optional_.empty() && has_needed_ && !in_item_) out_ += "# and, as far as known:\n";
        out_ += optional_;
        optional_.clear();
    }

private:
    template <class F>
    std::string write_members(const char* key, F& visit_members) {
        finish();
        std::string members;
        DraftWriter inner(context_, members, key_ + key + ".", pattern_ + key + ".");
        inner.stand_at(Station::none, asked_, hitched_);
        visit_members(inner);
        inner.finish();
        return members;
    }

    /// The kind of job has no use for it, and nobody typed it.
    bool is_left_out(const std::string& key, Asked asked) const {
        if (!answer(key).empty()) return false;
        if (hitched_ != Hitched::either && (hitched_ == Hitched::drawn) != context_.draft.drawn) return true;
        if (asked == Asked::from_stub && context_.draft.drawn) return false;
        if (context_.draft.with_pto || context_.draft.with_driveline) return false;
        switch (asked) {
            case Asked::with_shaft:
            case Asked::from_stub:
            case Asked::steady_bearing:
            case Asked::direct_check:
            case Asked::wide_angle:
            case Asked::locking_grooves:
            case Asked::shaft_ends: return true;
            default: break;
        }
        return false;
    }
    bool is_needed(const std::string& key) const { return context_.needed.contains(pattern_ + key); }
    std::string answer(const std::string& key) const { return context_.answer(key_ + key); }

    void put(const std::string& key, const std::string& value, const std::string& what, bool needed) {
        const std::string line = value.empty() ? fmt::format("# {} =", key) : fmt::format("{} = {}", key, value);
        if (needed) {
            has_needed_ = true;
            out_ += break_comment(what + (is_needed(key) || in_item_ ? ": NEEDED" : "")) + line + "\n";
        } else if (line.size() + what.size() + 4 <= line_width) {
            optional_ += fmt::format("{}  # {}\n", line, what);
        } else {
            optional_ += break_comment(what) + line + "\n";
        }
    }
    void put_text(const std::string& key, const std::string& what, bool needed) {
        const std::string typed = answer(key);
        put(key, typed.empty() ? typed : quote_toml(typed), what, needed);
    }

    const DraftContext& context_;
    std::string& out_;
    std::string key_, pattern_;  ///< items by their place, and without
    std::string optional_;
    Asked asked_ = Asked::always;
    Hitched hitched_ = Hitched::either;
    bool complete_ = true, in_item_ = false, has_needed_ = false;
};

/// Writes the keys an answer needs of a machine that is taken from a file, from its table on: lower_link.pivot_x.
class NeededWriter {
public:
    NeededWriter(const DraftContext& context, std::string& out, std::string table, std::string key = {})
        : context_(context), out_(out), table_(std::move(table)), key_(std::move(key)) {}

    void reading(const char* key, Reading&, const FieldSpec& spec) {
        if (!context_.needed.contains(table_ + key_ + key)) return;
        const std::string line = fmt::format("# {}{} =", key_, key);
        const std::string what =
            fmt::format("{} ({}{})", spec.measure_for(context_.draft.drawn), describe_unit(spec, context_.draft.unit),
                        describe_error(spec, context_.draft.unit));
        const bool room = line.size() + what.size() + 4 <= line_width;
        out_ += room ? fmt::format("{}  # {}\n", line, what) : break_comment(what) + line + "\n";
    }
    template <class E, std::size_t N>
    void choice(const char*, E&, const ChoiceName<E> (&)[N], const char*) {}
    void text(const char*, std::string&, const char*) {}
    void whole(const char*, int&, int, int, const char*) {}
    void whole_list(const char*, std::vector<int>&, int, int, const char*) {}
    void flag(const char*, bool&, const char*) {}
    template <class F>
    void table(const char* key, F&& visit_members) {
        NeededWriter inner(context_, out_, table_, key_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char*, std::vector<T>&, F&&, const char*) {}

private:
    const DraftContext& context_;
    std::string& out_;
    std::string table_, key_;
};

template <class T>
void write_machine(const DraftContext& context, std::string& out, const std::string& table, const std::string& use, T machine) {
    out += fmt::format("\n[{}]\n", table);
    if (!use.empty()) {
        out += fmt::format("use = {}\n", quote_toml(use));
        out += break_comment(fmt::format("Readings of your own go before those of that file; the keys are those of the measuring card "
                                         "without \"{}.\". First of all:", table));
        return visit_fields(machine, NeededWriter(context, out, table + "."));
    }
    DraftWriter writer(context, out, table + ".", table + ".");
    visit_fields(machine, writer);
    writer.finish();
}

void write_parts(const DraftContext& context, std::string& out) {
    const bool shaft = context.draft.with_pto || context.draft.with_driveline;
    if (context.draft.drawn && !shaft) return;
    out += "\n# Parts between tractor and implement. Take the # away from a whole block, its switch first.\n";
    Parts parts;
    visit_parts(parts, [&](const std::string& key, auto& part) {
        const bool on_stub = key == "overrunning_clutch" || key == "spline_extender";
        if (on_stub ? !shaft : context.draft.drawn) return;
        std::string block = fmt::format("[{}]\n", key);
        DraftWriter writer(context, block, key + ".", key + ".");
        visit_fields(part, writer);
        writer.finish();
        out += comment_out(block) + "\n";
    });
}

constexpr std::string_view preface =
    "# A set-up for hitchwright. Lines behind # are comments; a key behind # has not been measured: take\n"
    "# the # away and type what you read. Lengths: 14.5, \"14 1/2 in\", \"14-1/2\", \"3'2 1/2\\\"\", \"368 mm\";\n"
    "# with their error \"14 1/2 in +- 1/8\"; without it the usual one counts, which stands in brackets\n"
    "# behind +-. A number alone is in the unit below. NEEDED: an answer cannot do without it. A value\n"
    "# that is missing is better than one that is guessed: the answers that need it say so.\n"
    "# Measure with the engine off, the key out, and the implement on the ground or on stands.\n";

}  // namespace

std::string find_draft_answer(const std::map<std::string, std::string>& answers, const std::string& key) {
    const auto found = answers.find(key);
    return found == answers.end() ? std::string{} : found->second;
}

std::size_t count_draft_items(const std::map<std::string, std::string>& answers, const std::string& list) {
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
    out += draft.name.empty() ? "# name =  # name shown\n" : fmt::format("name = {}\n", quote_toml(draft.name));
    out += fmt::format("rules = {}  # limits to judge by: a name from \"hitchwright rules list\", or a path\n",
                       quote_toml(!draft.rules.empty() ? draft.rules
                                  : draft.drawn        ? "drawn-machine"
                                                       : "general"));
    const DraftContext context{draft, list_needed(draft)};
    write_machine(context, out, "tractor", draft.tractor, Tractor{});
    Implement implement;
    // An empty table would give the implement an input.
    implement.pic.fitted = draft.with_pto;
    implement.drawn.steady_bearing.fitted = draft.with_steady_bearing;
    write_machine(context, out, "implement", draft.implement, implement);
    if (draft.with_driveline) {
        write_machine(context, out, "driveline", draft.driveline, Driveline{});
    } else {
        out += "\n[driveline]\nuse = \"none\"\n";
    }
    out += "\n[choices]\n";
    Choices choices;
    DraftWriter choice_writer(context, out, "choices.", "choices.");
    visit_fields(choices, choice_writer);
    choice_writer.finish();
    JobDetails job;
    std::vector<DirectReading> direct;
    std::vector<PoseReading> poses;
    std::vector<TurnReading> turns;
    visit_setup_own(job, direct, poses, turns, DraftWriter(context, out, "", ""));
    write_parts(context, out);
    return out;
}

}  // namespace hitchwright
