#include "cli/interview.h"

#include <algorithm>
#include <istream>
#include <optional>
#include <ostream>
#include <set>
#include <vector>

#include <fmt/format.h>

#include "cli/outcome.h"
#include "cli/question_words.h"
#include "geometry/card_lines.h"
#include "presets/field_values.h"
#include "presets/number_text.h"
#include "presets/units.h"
#include "presets/utf8.h"
#include "report/card_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_line = 300;          ///< bytes of an answer; no value is longer
constexpr std::size_t most_thrown_away = 1 << 20;  ///< of one endless line, before it counts as the end
constexpr int most_tries = 5;                   ///< refusals of one question before it is left open

bool is_utf8(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Character c = decode_utf8(text, at);
        if (c.size == 0) return false;
        at += c.size;
    }
    return true;
}

/// What can be gone back to.
struct State {
    SetupDraft draft;
    std::set<std::string> asked;   ///< keys that had their turn
    std::set<std::string> closed;  ///< lists without further items
};

enum class Turn { answered, open, back, quit };

class Interview {
public:
    Interview(std::istream& in, std::ostream& out, SetupDraft draft, const Library& library, std::string folder)
        : in_(in), out_(out), library_(library), folder_(std::move(folder)) {
        state_.draft = std::move(draft);
    }

    InterviewResult hold(const KnownAnswers& known) {
        greet();
        ask_beginning(known);
        while (!ended_) {
            const std::optional<CardLine> next = find_next();
            if (!next) break;
            take_turn(*next);
        }
        InterviewResult result;
        result.draft = state_.draft;
        result.ended_early = ended_;
        result.answered = state_.draft.answers.size();
        return result;
    }

private:
    void say(std::string_view text, std::size_t indent = 0) {
        out_ << format_paragraph(text, page_width, indent, indent);
        out_.flush();
    }

    void greet() {
        say("A set-up from questions, in walking order. * an answer depends on it. Enter alone: not measured, the line stays open in the file. ? says "
            "what is allowed, < goes back, quit or the end of the input writes what there is.");
        for (const std::string& caution : opening_cautions()) out_ << format_labelled("! ", caution, page_width, 0, 2);
    }

    /// A line without its end and the blanks around it; nothing at the end of the input.
    std::optional<std::string> read_line() {
        std::string line;
        std::size_t thrown = 0;
        for (int c = in_.get(); c != std::istream::traits_type::eof(); c = in_.get()) {
            if (c == '\n') return std::string(trim(without_return(line)));
            if (line.size() < most_line) {
                line += static_cast<char>(c);
            } else if (++thrown > most_thrown_away) {
                break;
            }
        }
        ended_ = true;
        return line.empty() || thrown > 0 ? std::nullopt : std::optional(std::string(trim(without_return(line))));
    }
    static std::string_view without_return(std::string_view line) {
        return line.ends_with('\r') ? line.substr(0, line.size() - 1) : line;
    }

    std::optional<std::string> prompt() {
        out_ << "  > ";
        out_.flush();
        std::optional<std::string> line = read_line();
        // Whatever was typed before the input ended counts; "quit" is not an answer.
        if (line && *line == "quit") {
            ended_ = true;
            return std::nullopt;
        }
        return line;
    }

    // --- the beginning: what the set-up is made of -------------------------------------------------------------------

    /// Asks until `take` accepts (it returns what is wrong, or nothing). Enter accepts what is there.
    template <class F>
    void ask_simple(const std::string& question, F&& take) {
        for (int tries = 0; !ended_ && tries < most_tries; ++tries) {
            say(question);
            const std::optional<std::string> line = prompt();
            if (!line || line->empty()) return;
            const std::string wrong = take(*line);
            if (wrong.empty()) return;
            say("Not taken: " + wrong + ".", 2);
        }
    }

    void ask_beginning(const KnownAnswers& known) {
        SetupDraft& d = state_.draft;
        if (!known.name) ask_simple("Name of this set-up? (Enter: none)", [&](const std::string& a) { return take_changed(a, &SetupDraft::name); });
        if (!known.units) {
            ask_simple("Unit of lengths typed without one, in or mm? (Enter: in)", [&](const std::string& a) {
                if (a != "in" && a != "mm") return in_quotes(a) + " was read; allowed: in or mm";
                d.unit = a;
                return std::string{};
            });
        }
        if (!known.tractor) ask_machine("tractor", &SetupDraft::tractor);
        if (!known.implement && !known.kind) ask_machine("implement", &SetupDraft::implement);
        if (!known.implement) find_job_of_preset();
        if (d.implement.empty() && !known.kind) {
            ask_attachment();
            if (!known.driveline) ask_input();
        }
        if (!known.driveline && d.with_pto) ask_machine("driveline", &SetupDraft::driveline);
        if (d.drawn) ask_about_drawn();
    }

    void ask_about_drawn() {
        SetupDraft& d = state_.draft;
        if (d.implement.empty() && d.with_pto)
            ask_yes_no(
                "Does the shaft end at a bearing on the tongue, with a second shaft behind it, yes or no? (Enter: no)",
                [&d](bool yes) { d.with_steady_bearing = yes; });
        ask_yes_no("Is a ditch or ridge to be judged, yes or no? (Enter: no)", [&d](bool yes) { d.with_ditch = yes; });
        d.choose_pin = needs_pin_chosen(d, library_, folder_);
    }

    template <class F>
    void ask_yes_no(const std::string& question, F&& use) {
        ask_simple(question, [&](const std::string& a) {
            if (a != "yes" && a != "no") return in_quotes(a) + " was read; allowed: yes or no";
            use(a == "yes");
            return std::string{};
        });
    }

    void ask_machine(const std::string& kind, std::string SetupDraft::*member) {
        ask_simple(fmt::format("Which {}: a name from \"hitchwright presets list {}\", a path, or Enter for your own, measured?", kind, kind),
                   [&](const std::string& a) { return a == "measured" ? std::string{} : take_changed(a, member); });
    }

    // A blade among the presets has no input, so no shaft is asked for; a drawn one has no three-point hitch.
    void find_job_of_preset() {
        SetupDraft& d = state_.draft;
        if (d.implement.empty()) return;
        const bool driven = has_driven_implement(d, library_, folder_);
        d.with_pto = driven;
        d.with_driveline = driven;
        d.drawn = has_drawn_implement(d, library_, folder_);
    }

    void ask_attachment() {
        ask_simple("Is it carried by the three-point hitch or drawn by the drawbar, mounted or drawn? (Enter: mounted)", [&](const std::string& a) {
            if (a != "mounted" && a != "drawn") return in_quotes(a) + " was read; allowed: mounted or drawn";
            set_attachment(state_.draft, a == "drawn");
            return std::string{};
        });
    }

    void ask_input() {
        ask_yes_no("Is the implement driven by the PTO, yes or no? (Enter: yes)",
                   [this](bool yes) { state_.draft.with_pto = state_.draft.with_driveline = yes; });
    }

    std::string take_changed(const std::string& answer, std::string SetupDraft::*member) {
        SetupDraft changed = state_.draft;
        changed.*member = answer;
        const std::string wrong = check_draft(changed, answer);
        if (wrong.empty()) state_.draft = changed;
        return wrong;
    }

    /// What the reader says about a draft with a new answer; empty: nothing.
    std::string check_draft(const SetupDraft& draft, const std::string& answer) const {
        if (!is_utf8(answer)) return "this is not readable text (UTF-8)";
        if (has_control_characters(answer, true)) return "it holds characters that cannot be printed";
        const LoadedSetup loaded = load_setup_draft(draft, library_, folder_);
        return loaded.ok() ? std::string{} : describe(loaded.problems.front());
    }

    static std::string describe(const Problem& p) {
        std::string text = escape_text(p.message);
        if (!p.allowed.empty()) text += "; allowed: " + escape_text(p.allowed);
        if (!p.nearest_key.empty()) text += "; nearest: " + escape_text(p.nearest_key);
        return text;
    }

    // --- the readings ------------------------------------------------------------------------------------------------

    bool is_asked_part(const std::string& key) const {
        const SetupDraft& d = state_.draft;
        if (key.starts_with("tractor.")) return d.tractor.empty();
        if (key.starts_with("implement.")) return d.implement.empty();
        if (key.starts_with("driveline.")) return d.driveline.empty() && d.with_driveline;
        return key.starts_with("choices.") || key.starts_with("direct_reading[");
    }

    /// The first question that had no turn yet.
    std::optional<CardLine> find_next() const {
        const Setup specimen = make_draft_specimen(state_.draft, load_setup_draft(state_.draft, library_, folder_));
        for (CardLine& line : list_card_lines(specimen, BlankItems::one_more)) {
            if (!is_asked_part(line.key) || state_.asked.contains(line.key)) continue;
            if (is_for_ditch(line) && !state_.draft.with_ditch) continue;
            const std::string item = item_of(line.key);
            if (!item.empty() && state_.closed.contains(list_of(line.key)) && !has_item(item)) continue;
            // With one hole there is nothing to choose.
            if (item.empty() && line.form == CardForm::name && !line.needed) continue;
            return std::move(line);  // cppcheck-suppress returnStdMoveLocal ; a reference: else the line would be copied
        }
        return std::nullopt;
    }

    bool has_item(const std::string& item) const {
        const auto& answers = state_.draft.answers;
        const auto at = answers.lower_bound(item + ".");
        return at != answers.end() && at->first.starts_with(item + ".");
    }

    void take_turn(const CardLine& q) {
        announce(q.station);
        const State before = state_;
        for (int tries = 0; tries < most_tries && !ended_; ++tries) {
            const Turn turn = ask(q);
            if (turn == Turn::open) continue;
            if (turn == Turn::back) return go_back();
            if (turn == Turn::answered) history_.push_back(before);
            return;
        }
        if (ended_) return;
        say("Left open for now.", 2);
        state_.asked.insert(q.key);
        // Nor is a further hole asked for: whatever answers here, it does not measure holes.
        if (!item_of(q.key).empty()) state_.closed.insert(list_of(q.key));
        history_.push_back(before);
    }

    void announce(Station station) {
        if (station_ == station) return;
        station_ = station;
        out_ << "\n" << station_title(station) << "\n";
        say(station_method(station, state_.draft.drawn), 2);
        for (const std::string& caution : station_cautions(station)) {
            out_ << format_labelled("  ! ", caution, page_width, 0, 4);
        }
    }

    void go_back() {
        if (history_.empty()) {
            say("This is the first one.", 2);
            return;
        }
        state_ = history_.back();
        history_.pop_back();
        station_.reset();
    }

    std::string question_text(const CardLine& q) const {
        if (is_item_name(q)) return ask_for_item(q.key);
        std::string text = q.what;
        const std::string name = find_answer(item_of(q.key) + ".name");
        if (!name.empty()) text = fmt::format("{} {}: {}", item_word(q.key), printable_text(name, 30), q.what);
        if (q.form == CardForm::name) text += list_choices(q.key);
        if (!q.words.empty()) return text + " (" + join_words(q.words) + (q.needed ? ") *" : ")");
        const UnitSystem units = state_.draft.unit == "mm" ? UnitSystem::millimetre : UnitSystem::inch;
        const std::string unit = card_unit(q, units), error = card_error(q, units);
        if (!unit.empty()) text += fmt::format(" [{}{}{}]", unit, error.empty() ? "" : "; usual error ", error);
        return q.needed ? text + " *" : text;
    }

    /// The holes or positions there are to choose from, in brackets; empty: no such question.
    std::string list_choices(const std::string& key) const {
        const Setup setup = load_setup_draft(state_.draft, library_, folder_).setup;
        std::vector<std::string> names;
        const auto add = [&names](const auto& items) {
            for (const auto& item : items) names.push_back(printable_text(item.name, 24));
        };
        if (key == "choices.drawbar_pin") add(setup.tractor.drawbar_pins);
        if (key == "choices.upper_link_pin") add(setup.tractor.upper_link_pins);
        if (key == "choices.mast_pin") add(setup.implement.mast_pins);
        return names.empty() ? std::string{} : " (" + join_words(names) + ")";
    }

    std::string find_answer(const std::string& key) const {
        const auto found = state_.draft.answers.find(key);
        return found == state_.draft.answers.end() ? std::string{} : found->second;
    }

    Turn ask(const CardLine& q) {
        say(question_text(q));
        const std::optional<std::string> line = prompt();
        if (!line) return Turn::quit;
        if (*line == "?") {
            const std::string choices = q.form == CardForm::name ? list_choices(q.key) : std::string{};
            say(choices.empty() ? say_allowed(q) : "allowed:" + choices, 2);
            return Turn::open;
        }
        if (*line == "<") return Turn::back;
        if (line->empty()) {
            state_.asked.insert(q.key);
            if (is_item_name(q)) state_.closed.insert(list_of(q.key));
            return Turn::answered;
        }
        const std::string answer = add_unit(q, *line);
        const std::string wrong = check_answer(q, answer);
        if (!wrong.empty()) {
            say(fmt::format("Not taken: {} was read: {}.", in_quotes(*line), wrong), 2);
            return Turn::open;
        }
        state_.asked.insert(q.key);
        state_.draft.answers[q.key] = answer;
        return Turn::answered;
    }

    /// Where the file must state a unit, a bare number is in the unit that was asked for.
    std::string add_unit(const CardLine& q, const std::string& answer) const {
        if (q.form != CardForm::quantity) return answer;
        switch (q.spec.dimension) {
            case Dimension::mass:
            case Dimension::force:
            case Dimension::power:
            case Dimension::pressure:
            case Dimension::torque:
            case Dimension::length_per_turn: break;
            default: return answer;
        }
        const auto in_number = [](char c) { return is_digit(c) || c == '.' || c == '/' || c == '-' || c == ' '; };
        if (!is_digit(answer.back()) || !std::all_of(answer.begin(), answer.end(), in_number)) return answer;
        return answer + " " + card_unit(q, state_.draft.unit == "mm" ? UnitSystem::millimetre : UnitSystem::inch);
    }

    std::string check_answer(const CardLine& q, const std::string& answer) const {
        if (!is_utf8(answer)) return "this is not readable text (UTF-8)";
        if (has_control_characters(answer, true)) return "it holds characters that cannot be printed";
        if (q.form == CardForm::quantity) {
            const std::string wrong = check_reading(q, answer);
            if (!wrong.empty()) return wrong;
        }
        // What stands in the file without quotes must not be anything else there.
        const auto listed = [](char c) { return is_digit(c) || c == ',' || c == ' '; };
        const bool digits = std::all_of(answer.begin(), answer.end(), is_digit);
        const bool list = std::all_of(answer.begin(), answer.end(), listed);
        const bool count = q.form == CardForm::whole, counts = q.form == CardForm::whole_list;
        if ((count && !digits) || (counts && !list) || ((count || counts) && answer.size() > 40)) return say_allowed(q);
        if (!q.words.empty() && std::find(q.words.begin(), q.words.end(), answer) == q.words.end()) {
            return "allowed: " + join_words(q.words);
        }
        SetupDraft changed = state_.draft;
        changed.answers[q.key] = answer;
        return check_draft(changed, answer);
    }

    // A hole is only read from the file once it is complete, so each value is looked at by itself first.
    std::string check_reading(const CardLine& q, const std::string& answer) const {
        SourceNode node;
        node.kind = SourceKind::text;
        node.typed = answer;
        const SourceFile file{"new", state_.draft.unit, Origin::measured, true};
        std::vector<Problem> problems;
        FieldNotes notes;
        ReadContext context{file, problems, notes};
        Reading reading;
        read_reading(node, q.key, reading, q.spec, context);
        return problems.empty() ? std::string{} : describe(problems.front());
    }

    std::istream& in_;
    std::ostream& out_;
    const Library& library_;
    std::string folder_;
    State state_;
    std::vector<State> history_;
    std::optional<Station> station_;
    bool ended_ = false;
};

}  // namespace

InterviewResult hold_interview(std::istream& in, std::ostream& out, SetupDraft draft, const KnownAnswers& known,
                               const Library& library, const std::string& folder) {
    return Interview(in, out, std::move(draft), library, folder).hold(known);
}

}  // namespace hitchwright
