// See trust_blocks.h.
#include "report/trust_blocks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/finding_band.h"
#include "report/caution_text.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr std::size_t longest_key = 60;

/// How far the limit is off, in bands to its side.
double find_distance(const Finding& f) {
    const double towards = (f.margin > 0.0) == (find_limit_side(f) == LimitSide::at_least) ? f.error.below : f.error.above;
    return std::fabs(f.margin) / std::max(towards, 1e-12);
}

/// Letters for the readings of a table that has no room for their keys: a, b, ... z, aa, ab.
class ReadingLetters {
public:
    std::string letter(const std::string& key) {
        if (key.empty()) return {};
        const auto found = std::find(keys_.begin(), keys_.end(), key);
        const auto place = static_cast<std::size_t>(found - keys_.begin());
        if (found == keys_.end()) keys_.push_back(key);
        return name(place);
    }
    std::string legend() const {
        std::string text;
        for (std::size_t i = 0; i < keys_.size(); ++i) text += fmt::format("{}{}={}", i == 0 ? "" : "; ", name(i), printable_text(keys_[i], longest_key));
        return text;
    }

private:
    static std::string name(std::size_t place) {
        const std::string last(1, static_cast<char>('a' + place % 26));
        return place < 26 ? last : name(place / 26 - 1) + last;
    }
    std::vector<std::string> keys_;
};

/// What is left to the limit is rounded down, what lacks up.
std::string say_margin(const Finding& f, UnitSystem units) {
    return f.margin < 0.0 ? "-" + format_shown(-f.margin, f.dimension, units, Rounding::up) : format_shown(f.margin, f.dimension, units, Rounding::down);
}

/// "< 1 in 1000": for a column.
std::string shorten_chance(const std::string& chance) {
    if (chance.starts_with("under ")) return "< " + chance.substr(6);
    return chance.starts_with("over ") ? "> " + chance.substr(5) : chance;
}

/// Columns; a name that leaves the numbers no room stands on a line of its own above them.
std::string format_table(const Rows& rows, std::size_t width) {
    std::vector<std::size_t> widths(rows.front().size());
    for (const std::vector<std::string>& row : rows) {
        for (std::size_t i = 1; i < row.size(); ++i) widths[i] = std::max(widths[i], count_columns(row[i]));
    }
    std::size_t numbers = 0;
    for (const std::size_t w : widths) numbers += w > 0 ? w + 2 : 0;
    std::size_t longest = 0;
    for (const std::vector<std::string>& row : rows) longest = std::max(longest, count_columns(row[0]));
    const std::size_t room = std::min(longest, width - 2 - numbers);
    std::string text;
    for (const std::vector<std::string>& row : rows) {
        const bool alone = count_columns(row[0]) > room;
        if (alone) text += format_paragraph(row[0], width, 2, 4);
        std::string line = "  " + pad_right(alone ? "" : row[0], room);
        for (std::size_t i = 1; i < row.size(); ++i) line += "  " + pad_left(row[i], widths[i]);
        text += line + "\n";
    }
    return text;
}

void add_findings(AnswerBuilder& out, const Analysis& a) {
    const UnitSystem units = out.style().units;
    const std::vector<const Finding*> sorted = list_by_trust(a);
    if (sorted.empty()) return out.words("No number that is held to a limit has an error band: readings without errors, or none at all.", 2, 2);
    Rows rows{{"", "", "95 % band", "limit broken", "most by"}}, printed{{"", "margin", "95 % band", "broken", "by"}};
    ReadingLetters letters;
    for (const Finding* f : sorted) {
        std::vector<std::string> row{name_question(*f), say_margin(*f, units), say_band(f->error, f->dimension, units), say_chance_of_breaking(*f), {}};
        const std::string first = letters.letter(f->error.widest.reading), second = letters.letter(f->error.second.reading);
        printed.push_back(row);
        printed.back()[3] = shorten_chance(row[3]);
        printed.back()[4] = first + (second.empty() ? "" : ", " + second);
        row[1] = "margin " + row[1];  // a narrow window puts it behind the question
        row[4] = say_contributors(*f, units);
        rows.push_back(std::move(row));
    }
    out.table(std::move(rows), format_table(printed, out.style().width));
    out.words("Least sure first. Margin: what is left to the limit. Broken: chance that it is broken in truth. By: what moves the number most: " + letters.legend() + ".", 2, 4, BlockPlace::terminal);
    out.words("The band comes from the readings' errors (two sigma), all else taken as right.", 2, 4);
}

std::string name_place(const FittedReading& r, bool drawn, UnitSystem units) {
    const bool end = r.kind == DirectKind::lowest_ball_height || r.kind == DirectKind::greatest_ball_height;
    if (end) return {};
    return drawn ? ", " + say_turn(r.turn) : fmt::format(" at ball height {}", format_length(r.ball_height, units));
}

std::string_view name_kind(DirectKind kind) {
    switch (kind) {
        case DirectKind::shaft_length: return "stub to input shaft";
        case DirectKind::pitch: return "pitch";
        case DirectKind::tail_height: return "height of the rear";
        case DirectKind::upper_link_length: return "upper link";
        case DirectKind::lowest_ball_height: return "lowest ball height";
        case DirectKind::greatest_ball_height: return "greatest ball height";
    }
    return "";
}

void add_direct(AnswerBuilder& out, const Analysis& a) {
    if (!a.fit || a.fit->readings.empty()) return;
    const UnitSystem units = out.style().units;
    out.gap();
    out.heading("Read directly, against the files and the fitted model", 2);
    for (const FittedReading& r : a.fit->readings) {
        const auto shown = [&](double v) { return format_shown(v, r.dimension, units); };
        const double off = r.read - r.fitted;
        out.item(r.fits ? "fits     " : "NO FIT   ",
                 fmt::format("{}, {}{}: read {}, by the files {} (+- {}), fitted {}: off by {}{}, {:.1f} sigma.", printable_text(r.key, longest_key), name_kind(r.kind),
                             name_place(r, a.drawn.has_value(), units), shown(r.read), shown(r.predicted), format_error_size(r.band, r.dimension, units, Rounding::up), shown(r.fitted),
                             off < 0.0 ? "-" : "", format_error_size(std::fabs(off), r.dimension, units, Rounding::nearest), std::fabs(r.misfit)),
                 2, 11)
            .severity = r.fits ? Severity::good : Severity::unknown;
    }
    for (const std::string& sentence :
         {say_fit_use(a), say_moved_inputs(*a.fit, units), say_misfits(*a.fit, units), say_unchecked(*a.fit, units)}) {
        if (!sentence.empty()) out.words(sentence, 2, 4);
    }
}

void add_next(AnswerBuilder& out, const Analysis& a) {
    if (a.next.empty()) return;
    const UnitSystem units = out.style().units;
    const Finding* of = find_decided_by(a);
    out.gap();
    out.heading("What to measure next", 2);
    if (of != nullptr) out.words(fmt::format("For \"{}\", the least sure of what decides; best first.", name_question(*of)), 2, 4);
    out.item("! ", std::string(caution_sentence(Caution::stop_before_touching)), 2, 4);
    const Dimension dimension = of != nullptr ? of->dimension : Dimension::length;
    int place = 0;
    for (const NextReading& n : a.next) {
        const std::string where = say_where_to_read(n, units);
        std::string text = fmt::format("{}{}{}", say_what_to_read(n), where.empty() ? "" : ", ", where);
        if (n.error > 0.0) text += ", to within " + format_error_size(n.error, n.dimension, units, Rounding::down);
        out.item(fmt::format("{}. ", ++place),
                 fmt::format("{}: band {} -> {}, {:.0f} % less.", text, format_error_size(n.band_now, dimension, units, Rounding::up),
                             format_error_size(n.band_after, dimension, units, Rounding::up), 100.0 * (1.0 - n.band_after / std::max(n.band_now, 1e-12))),
                 2, 5);
    }
}

}  // namespace

std::vector<const Finding*> list_by_trust(const Analysis& a) {
    std::vector<const Finding*> sorted;
    for (const Finding& f : a.findings) {
        if (find_chance_of_breaking(f)) sorted.push_back(&f);
    }
    std::stable_sort(sorted.begin(), sorted.end(), [](const Finding* l, const Finding* r) { return find_distance(*l) < find_distance(*r); });
    return sorted;
}

void add_trust(AnswerBuilder& out, const Analysis& a) {
    out.heading("How sure this is");
    add_findings(out, a);
    add_direct(out, a);
    add_next(out, a);
}

}  // namespace hitchwright
