#include "cli/seen_words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "cli/seen_phrases.h"
#include "geometry/visit_readings.h"
#include "presets/nearest.h"
#include "presets/problem.h"
#include "presets/quantity.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_characters = 200;
constexpr double longest_possible = 10.0;  ///< m

/// A dotted key, perhaps with spaces in the name of a list item: taken from the text itself.
struct KeyFound {
    std::string key, rest;
    Dimension dimension = Dimension::length;
    double tolerance = 0.0;
};
std::optional<KeyFound> find_key(const std::string& text, const Setup& setup) {
    const std::size_t begin = text.find_first_not_of(" \t\n\r");
    if (begin == std::string::npos) return std::nullopt;
    std::optional<KeyFound> best;
    Setup copy = setup;
    visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
        const std::string_view rest = std::string_view(text).substr(begin);
        if (!rest.starts_with(key)) return;
        const std::string_view behind = rest.substr(key.size());
        if (behind.empty() || (behind[0] != ' ' && behind[0] != '=' && behind[0] != '\t')) return;
        if (best && best->key.size() >= key.size()) return;
        best = KeyFound{key, std::string(behind), spec.dimension, r.tolerance > 0.0 ? r.tolerance : spec.tolerance};
    });
    return best;
}

class SeenReader {
public:
    SeenReader(const std::string& text, UnitSystem units, const Setup& setup, const std::vector<ComplaintLine>& lines)
        : text_(text), units_(units), setup_(setup), lines_(lines) {}

    SeenText read() {
        if (text_.size() > most_characters)
            return refuse(fmt::format("it has {} characters; allowed: up to {}", text_.size(), most_characters));
        seen_.words = text_;
        if (const auto key = find_key(text_, setup_)) return read_again(*key);
        if (!tag_words()) return try_lines(std::move(out_));
        SeenText read = has_number_ ? read_measured() : read_complaint();
        return read.problem.empty() ? read : try_lines(std::move(read));
    }

private:
    SeenText refuse(const std::string& why, std::string nearest = {}) {
        SeenText t;
        t.problem = fmt::format("{} was read: {}", in_quotes(text_), why);
        t.nearest = std::move(nearest);
        return t;
    }
    SeenText accept() {
        SeenText t;
        t.seen.push_back(seen_);
        return t;
    }

    /// Words that only a list of specifications knows.
    SeenText try_lines(SeenText read) {
        Seen stated = seen_;
        stated.kind = SeenKind::stated;
        const bool known =
            std::any_of(lines_.begin(), lines_.end(), [&](const ComplaintLine& l) { return matches_words(l, stated); });
        if (!known) return read;
        seen_ = stated;
        return accept();
    }

    // ---- words

    bool tag_words() {
        const std::vector<SeenWord> words = split_seen(text_);
        if (words.empty()) return out_ = refuse("nothing; " + list_seen_forms()), false;
        for (std::size_t i = 0; i < words.size();) {
            const std::size_t taken = take_number(words, i);
            if (taken == 0 && !out_.problem.empty()) return false;
            if (taken > 0) {
                i += taken;
                continue;
            }
            std::size_t length = 0;
            Tag tag{};
            for (std::size_t n = std::min(longest_phrase, words.size() - i); n > 0 && length == 0; --n) {
                std::string phrase = words[i].text;
                for (std::size_t k = 1; k < n; ++k) phrase += " " + words[i + k].text;
                for (const Phrase& p : seen_phrases()) {
                    if (p.words == phrase) length = n, tag = p.tag;
                }
            }
            if (length == 0) return refuse_word(words[i].typed), false;
            tags_.push_back(tag);
            i += length;
        }
        return true;
    }

    void refuse_word(const std::string& typed) {
        std::vector<std::string> known;
        for (const Phrase& p : seen_phrases()) known.emplace_back(p.words);
        out_ = refuse(fmt::format("{} is no word for what can be seen; {}", in_quotes(typed), list_seen_forms()),
                      nearest_word(typed, known));
    }

    /// Words of a number with its unit and error; 0: none begins here.
    std::size_t take_number(const std::vector<SeenWord>& words, std::size_t at) {
        if (!begins_number(words[at].text)) return 0;
        std::string number = words[at].typed;
        std::size_t n = 1;
        const auto next = [&]() -> std::string { return at + n < words.size() ? words[at + n].text : std::string(); };
        bool unit = false;
        while (at + n < words.size()) {
            const std::string w = next();
            const bool sign = w == "+-" || w == "+/-" || w.starts_with("+-") || w.starts_with("+/-");
            if (!(sign || (begins_number(w) && !unit) || (is_unit(w) && !unit))) break;
            unit = is_unit(w);
            if (sign) unit = false;
            number += " " + words[at + n].typed;
            ++n;
            // Behind a sign of error its number and its unit.
            if (sign && (w == "+-" || w == "+/-") && at + n < words.size()) number += " " + words[at + n].typed, ++n;
        }
        const bool height = !tags_.empty() && tags_.back() == Tag::at;
        if (height ? has_height_ : has_number_) {
            out_ = refuse(fmt::format("{} is a second number; say one thing at a time, each behind a --seen of its own",
                                      in_quotes(number)));
            return 0;
        }
        (height ? height_ : number_) = number;
        (height ? has_height_ : has_number_) = true;
        return n;
    }

    bool has(Tag tag) const { return std::find(tags_.begin(), tags_.end(), tag) != tags_.end(); }
    int count(Tag first, Tag last) const {
        std::vector<Tag> different;
        for (const Tag t : tags_)
            if (t >= first && t <= last && std::find(different.begin(), different.end(), t) == different.end())
                different.push_back(t);
        return static_cast<int>(different.size());
    }

    std::optional<double> read_number(const std::string& number, Dimension dimension, double* error,
                                      std::string& problem) const {
        const Quantity q = parse_quantity(number, dimension, units_ == UnitSystem::inch ? "in" : "mm");
        if (!q.ok()) {
            problem = fmt::format("{}: {}; allowed: {}", in_quotes(number), q.message, q.allowed);
            return std::nullopt;
        }
        const double most = dimension == Dimension::angle ? 1.6 : longest_possible;
        if (dimension != Dimension::length && dimension != Dimension::angle) return q.value;
        if (std::fabs(q.value) > most) {
            problem = fmt::format("{} is more than any machine can be out; allowed: up to {}", in_quotes(number),
                                  dimension == Dimension::angle ? "90 deg" : "10 m");
            return std::nullopt;
        }
        if (error && q.has_tolerance) *error = q.tolerance;
        return q.value;
    }

    // ---- places

    std::string read_place() {
        const int places = count(Tag::working, Tag::straight) + (has_height_ ? 1 : 0);
        if (places > 1) return "two places; say one, and the other behind a --seen of its own";
        if (has_height_) {
            std::string problem;
            const auto h = read_number(height_, Dimension::length, nullptr, problem);
            if (!h) return problem;
            seen_.place = SeenPlace::at_height;
            seen_.height = *h;
        } else if (has(Tag::at) && places == 0)
            return "\"at\" without a place; allowed: working height, lowest, raised, or a ball height";
        else if (has(Tag::working) || has(Tag::straight))
            seen_.place = SeenPlace::working;
        else if (has(Tag::lowest))
            seen_.place = SeenPlace::lowest;
        else if (has(Tag::raised))
            seen_.place = SeenPlace::raised;
        else if (has(Tag::dips))
            seen_.place = SeenPlace::in_dips;
        else if (has(Tag::turns))
            seen_.place = SeenPlace::in_turns;
        const bool drawn = setup_.implement.attachment == Attachment::drawn;
        const bool lift = seen_.place == SeenPlace::lowest || seen_.place == SeenPlace::raised ||
                          seen_.place == SeenPlace::at_height || has(Tag::stops);
        if (drawn && lift) return "a drawn implement is not lifted; allowed: straight, in dips, in turns";
        if (!drawn && seen_.place == SeenPlace::in_turns)
            return "a mounted implement turns with the tractor; allowed: working height, lowest, raised, or a ball "
                   "height";
        return {};
    }

    // ---- measured

    std::optional<SeenKind> find_measured() const {
        const bool sided = has(Tag::tail_up) || has(Tag::tail_down);
        if (has(Tag::overlap)) return SeenKind::overlap;
        if (has(Tag::gap)) return SeenKind::gap;
        if (has(Tag::distance)) return SeenKind::shaft_distance;
        if (has(Tag::pitch) || sided) return SeenKind::pitch;
        if (has(Tag::ball)) return SeenKind::ball_height;
        if (has(Tag::drawbar)) return SeenKind::drawbar_length;
        if (has(Tag::tail)) return SeenKind::tail_height;
        if (has(Tag::front) || has(Tag::deck)) return SeenKind::front_height;
        if (has(Tag::shaft)) return SeenKind::shaft_distance;
        return std::nullopt;
    }

    SeenText read_measured() {
        const auto kind = find_measured();
        if (!kind) return refuse("a number, but not of what; " + list_seen_forms());
        if (count(Tag::knocks, Tag::no_reach) > 0)
            return refuse("a complaint and a number; say them apart, each behind a --seen of its own");
        seen_.kind = *kind;
        seen_.error = usual_seen_error(*kind);
        std::string problem = read_place();
        const auto value =
            problem.empty() ? read_number(number_, seen_dimension(*kind), &seen_.error, problem) : std::nullopt;
        if (!value) return refuse(problem);
        const bool up = has(Tag::more) || has(Tag::too_long) || has(Tag::tail_up),
                   down = has(Tag::less) || has(Tag::too_short) || has(Tag::tail_down);
        if (up && down) return refuse("both ways at once; say high or low, long or short, nose up or nose down");
        const bool sided = has(Tag::tail_up) || has(Tag::tail_down);
        if (*kind == SeenKind::pitch && (up || down) && !sided)
            return refuse("a pitch is nose down (tail up) or nose up (tail down)");
        if ((up || down) && *value < 0.0) return refuse("a number below nothing and a sense; leave the minus off");
        const bool own = *kind == SeenKind::gap || *kind == SeenKind::overlap || *kind == SeenKind::drawbar_length;
        if (!up && !down && !has(Tag::is) && !own)
            return refuse(
                "which way: high or low, long or short, nose up or nose down? Or \"is\" for what was read itself");
        seen_.against_setup = (up || down) && !(has(Tag::is) && sided);
        seen_.value = down ? -*value : *value;
        if (!has(Tag::stops)) return accept();
        if (*kind != SeenKind::ball_height)
            return refuse("\"at the stops\" is for ball heights; allowed: lowest or raised");
        SeenText both;
        for (const SeenPlace place : {SeenPlace::lowest, SeenPlace::raised})
            both.seen.push_back(seen_), both.seen.back().place = place;
        return both;
    }

    /// A reading of the set-up taken again.
    SeenText read_again(const KeyFound& key) {
        std::string rest = key.rest;
        const std::size_t begin = rest.find_first_not_of(" \t=");
        rest = begin == std::string::npos ? std::string() : rest.substr(begin);
        for (const std::string_view word : {"is ", "reads ", "= "}) {
            if (rest.starts_with(word)) rest = rest.substr(word.size());
        }
        seen_.kind = SeenKind::reading;
        seen_.key = key.key;
        seen_.error = key.tolerance;
        std::string problem;
        const auto value = read_number(rest, key.dimension, &seen_.error, problem);
        if (!value) return refuse(problem);
        if (key.dimension != Dimension::length && key.dimension != Dimension::angle)
            return refuse("only lengths and angles are traced; allowed: a key of one");
        seen_.value = *value;
        return accept();
    }

    // ---- complaints

    std::optional<SeenKind> find_complaint() const {
        if (has(Tag::no_lift)) return SeenKind::will_not_lift;
        if (has(Tag::no_reach)) return SeenKind::link_out_of_reach;
        const bool touching = has(Tag::touches);
        if ((touching || has(Tag::knocks)) && has(Tag::tyre) && (has(Tag::tongue) || has(Tag::drawbar)))
            return SeenKind::tyre_meets_tongue;
        if (touching && (has(Tag::deck) || has(Tag::front)) && (has(Tag::shaft) || has(Tag::guard)))
            return SeenKind::deck_touches;
        if (has(Tag::drags) || (touching && has(Tag::ground))) return SeenKind::tail_drags;
        if (has(Tag::link) && has(Tag::too_short)) return SeenKind::link_too_short;
        if (has(Tag::link) && has(Tag::too_long)) return SeenKind::link_too_long;
        if (has(Tag::chatters)) return SeenKind::chatters;
        if (has(Tag::apart) || (has(Tag::shaft) && has(Tag::too_short))) return SeenKind::comes_apart;
        if (has(Tag::knocks) || (has(Tag::shaft) && has(Tag::too_long))) return SeenKind::knocks;
        return std::nullopt;
    }

    SeenText read_complaint() {
        const auto kind = find_complaint();
        if (!kind) return refuse("neither a number nor a sign of trouble that is known; " + list_seen_forms());
        seen_.kind = *kind;
        const std::string problem = read_place();
        if (!problem.empty()) return refuse(problem);
        if (has(Tag::stops)) return refuse("\"stops\" is for ball heights; allowed: lowest or raised");
        return accept();
    }

    const std::string& text_;
    UnitSystem units_;
    const Setup& setup_;
    const std::vector<ComplaintLine>& lines_;
    Seen seen_;
    SeenText out_;
    std::vector<Tag> tags_;
    bool has_number_ = false, has_height_ = false;
    std::string number_, height_;
};

}  // namespace

SeenText read_seen(const std::string& text, UnitSystem units, const Setup& setup,
                   const std::vector<ComplaintLine>& lines) {
    return SeenReader(text, units, setup, lines).read();
}

std::string list_seen_forms() {
    return "allowed: tail, front edge or ball height N high or low; pitch N nose up or nose down; shaft N long or "
           "short; gap, "
           "overlap or drawbar length N; each \"at working height\", \"lowest\", \"raised\" or \"at\" a ball height; "
           "KEY is N; or shaft knocks, "
           "shaft comes apart, chatters, tail drags, deck touches shaft, link will not reach, tyre meets tongue, will "
           "not lift";
}

}  // namespace hitchwright
