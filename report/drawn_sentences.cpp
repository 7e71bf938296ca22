// Sentences about drawn implements: drawbar, turns, articulation, ditches; see finding_sentences.h.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

constexpr double level = 0.00087;  ///< rad, 0.05 deg: below what is printed

/// "At 35.0 deg of turn to the left, 25.0 deg rear up".
std::string say_where(const Finding& f, const SafeWords& w) {
    std::string text = format_where(f, w);
    if (!text.empty()) text.front() = 'A';
    return text;
}

Sentences say_length(const Finding& f, const SafeWords& w) {
    const std::string pin = f.subject.empty() ? "" : fmt::format(", position {}", printable_text(f.subject, 24));
    const double off = f.value - f.limit;
    Sentences s{fmt::format("Drawbar {} from the PTO to the pin{}; the figure for this PTO is {}", w.place(f.value), pin, w.place(f.limit)), ""};
    if (f.severity != Severity::good)
        s.headline += fmt::format(": {} too {}", w.place(std::fabs(off)), off > 0.0 ? "long" : "short");
    s.detail = fmt::format("Printed figures differ by up to {}.", w.place(find_term(f, "tolerance")));
    if (f.severity != Severity::good) s.detail += " What the shaft does with it is judged below by itself.";
    return s;
}

Sentences say_band(const Finding& f, const SafeWords& w) {
    const std::string what = f.kind == FindingKind::drawbar_height ? "Top of the drawbar" : "PTO above the top of the drawbar";
    return {fmt::format("{}: {}, usual {} to {}", what, w.place(f.value), w.place(find_term(f, "low")), w.place(find_term(f, "high"))),
            f.severity == Severity::good ? "" : "Turned over or in another position it may come right; the implement then stands otherwise."};
}

Sentences say_load(const Finding& f, const SafeWords& w) {
    const std::string load = format_mass(f.value, w.units, Rounding::up), most = format_mass(f.limit, w.units, Rounding::down);
    if (f.severity == Severity::unknown)
        return {fmt::format("Vertical load on the drawbar: too close to call, {} of {} allowed", load, most), "Weigh it under the hitch."};
    return {fmt::format("Vertical load on the drawbar {}, {} allowed in this position", load, most),
            f.severity == Severity::good ? "" : "A longer drawbar carries less; a shorter position may carry it."};
}

std::string stop_words(const std::string& word) {
    if (word == "tractor_joint") return "the tractor joint passes its limit";
    if (word == "implement_joint") return "the implement joint passes its limit";
    if (word == "bottoming") return "the shaft has too little gap left";
    if (word == "separation") return "the shaft has too little overlap left";
    return "a tyre meets the tongue";
}

/// "right", and for a tyre what meets what.
std::string side_of(const Finding& f) { return f.subject.substr(0, f.subject.find(':')); }

std::string meeting(const Finding& f) {
    const std::size_t one = f.subject.find(':');
    if (one == std::string::npos) return stop_words(f.other);
    const std::size_t two = f.subject.find(':', one + 1);
    return fmt::format("{} comes near {}", printable_text(f.subject.substr(one + 1, two - one - 1), 30), printable_text(f.subject.substr(two + 1), 40));
}

/// What would stop the turn after its first stop, in the order it comes.
std::vector<Term> list_later_stops(const Finding& f) {
    std::vector<Term> later;
    for (const Term& t : f.terms) {
        const bool stop = t.symbol == "tyre" || t.symbol == "tractor_joint" || t.symbol == "implement_joint" || t.symbol == "bottoming" ||
                          t.symbol == "separation";
        if (stop && t.symbol != f.other) later.push_back(t);
    }
    std::stable_sort(later.begin(), later.end(), [](const Term& a, const Term& b) { return a.value < b.value; });
    return later;
}

Sentences say_turn(const Finding& f) {
    const std::string side = side_of(f), driven = format_angle(f.limit);
    Sentences s;
    if (f.other.empty()) {
        s.headline = fmt::format("Turn to the {}: nothing stops it up to {}", side, format_angle(f.value, Rounding::down));
    } else if (f.severity == Severity::good) {
        s.headline = fmt::format("Turn to the {} stops at {}: {}; driven up to {}, {} in hand", side, format_angle(f.value, Rounding::down),
                                 meeting(f), driven, format_angle(f.margin, Rounding::down));
    } else if (f.severity == Severity::forbids) {
        s.headline = fmt::format("Straight on, before any turn to the {}: {}", side, meeting(f));
    } else {
        const double allowance = find_term(f, "allowance");
        s.headline = fmt::format("PTO off beyond {} of turn to the {}: {}", format_angle(std::max(0.0, f.value - allowance), Rounding::down), side, meeting(f));
        s.detail = fmt::format("Wanted up to {}{}.", driven, find_term(f, "typed") > 0.0 ? "" : ", the rule set's figure");
        if (allowance > 0.0) s.detail += fmt::format(" The turn allows {} for the readings' errors.", format_angle(allowance, Rounding::up));
    }
    if (f.severity == Severity::good && f.band > 0.0)
        s.detail = fmt::format("The readings may move it by {} (95 %).", format_angle(f.band, Rounding::up));
    for (const Term& t : list_later_stops(f))
        s.detail += fmt::format("{}Then at {} {}.", s.detail.empty() ? "" : " ", format_angle(t.value, Rounding::down), stop_words(t.symbol));
    if (has_term(f, "steady")) {
        s.detail += s.detail.empty() ? "" : " ";
        s.detail += find_term(f, "folds") > 0.0 ? "In the tightest circle forward it goes on folding up until something meets."
                                                : fmt::format("The tightest circle forward comes to {}; backing comes to any.",
                                                              format_angle(find_term(f, "steady"), Rounding::up));
    }
    return s;
}

Sentences say_angle(const Finding& f, const SafeWords& w) {
    Sentences s;
    s.headline = fmt::format("{} bends {} at most over all turns and dips together", capitalized(f.subject), format_angle(f.value, Rounding::up));
    if (f.has_limit && f.margin < 0.0) s.headline += fmt::format(", {} is its end", format_angle(f.limit, Rounding::down));
    s.detail = fmt::format("{}. Over the level turn {} at most.", say_where(f, w), format_angle(find_term(f, "turn"), Rounding::up));
    const double off = find_term(f, "pto_off");
    if (off > 0.0 && f.value > off) s.detail += fmt::format(" PTO off beyond {}.", format_angle(off, Rounding::down));
    if (has_term(f, "amber")) {
        s.detail += fmt::format(" In the turn it passes {}: ", format_angle(find_term(f, "amber"), Rounding::down));
        s.detail += find_term(f, "partner") > 0.0 ? "all the ripple is this joint's own. That is the drawbar's geometry and no fault; the nearer the "
                                                    "pin stands under the wide-angle joint, the less."
                                                  : "near its end.";
    }
    return s;
}

std::string failure_words(const std::string& word) {
    if (word == "bottoming") return "the shaft bottoms out";
    if (word == "separation") return "the shaft comes apart or near it";
    if (word == "implement_joint") return "the implement joint comes to its end";
    if (word == "tractor_joint") return "the tractor joint comes to its end";
    if (word == "play") return "the clevis comes to the end of its play";
    return "the wheels find no stand";
}

Sentences say_ditch(const Finding& f, const SafeWords& w) {
    if (f.other == "missing") return {"Ditch: what stands on the ground is not known", "Wheels of both machines are needed for the way across."};
    if (f.other == "no_ground") return {"Ditch: its measures make no ground", "A depth wants sides with a slope above 0; points want x rising from one to the next."};
    const std::string steep = fmt::format("Against the tractor the implement pitches {} up and {} down at most on the way.",
                                          format_angle(std::max(0.0, find_term(f, "pitch_up")), Rounding::up),
                                          format_angle(std::max(0.0, -find_term(f, "pitch_down")), Rounding::up));
    if (f.severity == Severity::good) return {"Ditch: passes, driving over and backing", steep};
    if (f.other == "shaft_unknown") return {"Ditch: whether the shaft serves is not known", steep + " Its length and tubes are wanted."};
    Sentences s{fmt::format("Ditch: {} on the way across", failure_words(f.other)), ""};
    if (has_term(f, "short_by")) s.headline += fmt::format(", {} short", w.need(find_term(f, "short_by")));
    s.detail = steep;
    if (has_term(f, "place")) {
        const double place = find_term(f, "place");
        s.detail += fmt::format(" It happens {}, with the rear axle {} {} {}.", format_where(f, w), w.place(std::fabs(place)),
                                place > 0.0 ? "before" : "past", has_term(f, "by_points") ? "x = 0 of the ground's points" : "the middle of the ditch");
    }
    return s;
}

}  // namespace

Sentences say_drawn(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::drawbar_length: return say_length(f, w);
        case FindingKind::drawbar_height:
        case FindingKind::drawbar_drop: return say_band(f, w);
        case FindingKind::drawbar_load: return say_load(f, w);
        case FindingKind::hitch_play:
            return {fmt::format("The clevis {} the implement stand level: {} needed, {} of play",
                                f.severity == Severity::unknown ? "may not let" : "does not let", format_angle(f.value, Rounding::up),
                                format_angle(f.limit, Rounding::down)),
                    "Another drawbar height, another hitch height of the implement, or a hitch that pitches freely."};
        case FindingKind::turn_limit: return say_turn(f);
        case FindingKind::articulation_angle: return say_angle(f, w);
        case FindingKind::ditch_crossing: return say_ditch(f, w);
        default: return {};
    }
}

std::string format_attitude(const Attitude& a) {
    std::string text;
    const auto add = [&](double angle, const char* positive, const char* negative) {
        if (std::fabs(angle) < level) return;
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", format_angle(std::fabs(angle)), angle > 0.0 ? positive : negative);
    };
    add(a.yaw, "of turn to the right", "of turn to the left");
    add(a.pitch, "rear up", "rear down");
    add(a.roll, "rolled right side up", "rolled left side up");
    return text.empty() ? "straight and level" : text;
}

}  // namespace hitchwright
