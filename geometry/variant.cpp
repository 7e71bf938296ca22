// See variant.h.
#include "geometry/variant.h"

#include <algorithm>
#include <array>
#include <utility>

#include "geometry/tractor_lift.h"
#include "geometry/tyre_change.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(VariantAnswer);

namespace {

constexpr std::array<std::pair<VariantKind, std::string_view>, 10> kind_words{{{VariantKind::link_extender, "link_extender"},
                                                                               {VariantKind::coupler, "coupler"},
                                                                               {VariantKind::overrunning_clutch, "overrunning_clutch"},
                                                                               {VariantKind::spline_extender, "spline_extender"},
                                                                               {VariantKind::tyres, "tyres"},
                                                                               {VariantKind::upper_link_pin, "upper_link_pin"},
                                                                               {VariantKind::lift_rod_hole, "lift_rod_hole"},
                                                                               {VariantKind::mast_pin, "mast_pin"},
                                                                               {VariantKind::drawbar_pin, "drawbar_pin"},
                                                                               {VariantKind::driveline, "driveline"}}};

bool is_measured(const Coupler& c) { return c.set_back.known && c.hook_height.known && c.pin_height.known; }
bool is_measured(const LinkExtender& e) { return e.length.known; }
bool is_measured(const PtoAddOn& a) { return a.added_length.known; }

/// The name in force of a list: the one chosen, else the only one.
template <class T>
std::string name_in_use(const std::vector<T>& items, const std::string& chosen) {
    return chosen.empty() && items.size() == 1 ? items.front().name : chosen;
}

class Lister {
public:
    explicit Lister(const Setup& setup) : s_(setup), mounted_(setup.implement.attachment == Attachment::mounted) {}

    std::vector<Variant> run(const std::vector<ShaftCandidate>& shafts) {
        const Parts& p = s_.parts;
        if (mounted_) part(VariantKind::link_extender, p.link_extender);
        if (mounted_) part(VariantKind::coupler, p.coupler);
        if (s_.implement.pic.fitted) {
            part(VariantKind::overrunning_clutch, p.overrunning_clutch);
            part(VariantKind::spline_extender, p.spline_extender);
        }
        tyres();
        if (mounted_) holes();
        else others(VariantKind::drawbar_pin, s_.tractor.drawbar_pins, s_.choices.drawn.drawbar_pin);
        if (s_.implement.pic.fitted) drivelines(shafts);
        return std::move(found_);
    }

private:
    template <class P>
    void part(VariantKind kind, const P& p) {
        if (p.fitted || is_measured(p)) found_.push_back({kind, !p.fitted, {}, p.name, {}});
    }

    void tyres() {
        const std::string& now = s_.choices.tyre_set;
        for (const TyreSet& set : s_.tractor.tyre_sets) {
            if (set.name != now && !set.name.empty() && s_.tractor.tyre.rear_radius.known) found_.push_back({VariantKind::tyres, false, now, set.name, {}});
        }
        if (!now.empty()) found_.push_back({VariantKind::tyres, false, now, {}, {}});
    }

    void holes() {
        others(VariantKind::upper_link_pin, s_.tractor.upper_link_pins, s_.choices.upper_link_pin);
        const RodHoles rod = find_rod_holes(s_);
        if (rod.status == RodHoles::Status::ok) others(VariantKind::lift_rod_hole, s_.tractor.lift_rod_holes, s_.tractor.lift_rod_holes[rod.chosen].name);
        else others(VariantKind::lift_rod_hole, s_.tractor.lift_rod_holes, s_.choices.lift_rod_hole);
        others(VariantKind::mast_pin, s_.implement.mast_pins, s_.choices.mast_pin);
    }

    template <class T>
    void others(VariantKind kind, const std::vector<T>& items, const std::string& chosen) {
        const std::string now = name_in_use(items, chosen);
        for (const T& item : items) {
            if (item.name != now && !item.name.empty()) found_.push_back({kind, false, now, item.name, {}});
        }
    }

    void drivelines(const std::vector<ShaftCandidate>& shafts) {
        const std::string now = s_.has_driveline ? s_.driveline.key : std::string();
        for (const ShaftCandidate& shaft : shafts) {
            if (!shaft.own) found_.push_back({VariantKind::driveline, false, now, shaft.setup.driveline.key, shaft.setup.driveline});
        }
    }

    const Setup& s_;
    bool mounted_;
    std::vector<Variant> found_;
};

/// How much a finding matters for the verdict: what is allowed without a condition does not.
bool matters(const Finding* f) { return f != nullptr && f->severity < Severity::watch; }

}  // namespace

std::string_view variant_word(VariantKind kind) {
    const auto found = std::find_if(kind_words.begin(), kind_words.end(), [&](const auto& k) { return k.first == kind; });
    return found->second;
}

bool find_variant_kind(std::string_view word, VariantKind& kind) {
    const auto found = std::find_if(kind_words.begin(), kind_words.end(), [&](const auto& k) { return k.second == word; });
    if (found == kind_words.end()) return false;
    kind = found->first;
    return true;
}

bool is_part(VariantKind kind) {
    return kind == VariantKind::link_extender || kind == VariantKind::coupler || kind == VariantKind::overrunning_clutch ||
           kind == VariantKind::spline_extender;
}

std::string format_switch(const Variant& v) {
    const std::string word(variant_word(v.kind));
    return is_part(v.kind) ? word : word + "=" + v.to;
}

std::vector<Variant> list_variants(const Setup& setup, const std::vector<ShaftCandidate>& shafts) { return Lister(setup).run(shafts); }

Setup apply_variant(const Setup& setup, const Variant& v) {
    Setup s = setup;
    Choices& c = s.choices;
    if (drops_distances(setup, v)) {
        s.direct_readings.clear();
        s.pose_readings.clear();
        s.turn_readings.clear();
    }
    switch (v.kind) {
        case VariantKind::link_extender: s.parts.link_extender.fitted = v.fitted; break;
        case VariantKind::coupler: s.parts.coupler.fitted = v.fitted; break;
        case VariantKind::overrunning_clutch: s.parts.overrunning_clutch.fitted = v.fitted; break;
        case VariantKind::spline_extender: s.parts.spline_extender.fitted = v.fitted; break;
        case VariantKind::tyres: c.tyre_set = v.to; break;
        case VariantKind::upper_link_pin: c.upper_link_pin = v.to; break;
        case VariantKind::lift_rod_hole: c.lift_rod_hole = v.to; break;
        case VariantKind::mast_pin: c.mast_pin = v.to; break;
        case VariantKind::drawbar_pin: c.drawn.drawbar_pin = v.to; break;
        case VariantKind::driveline:
            s.has_driveline = true;
            s.driveline = v.driveline;
            c.cut_tractor_half = c.cut_implement_half = Reading{};
            break;
    }
    return s;
}

bool sets_link_anew(const Setup& s, const Variant& v) {
    if (s.implement.attachment == Attachment::drawn || s.choices.upper_link_length.known) return false;
    return v.kind == VariantKind::link_extender || v.kind == VariantKind::coupler || v.kind == VariantKind::tyres ||
           v.kind == VariantKind::upper_link_pin || v.kind == VariantKind::mast_pin;
}

bool drops_distances(const Setup& s, const Variant& v) {
    return (!s.direct_readings.empty() || !s.pose_readings.empty() || !s.turn_readings.empty()) && v.kind != VariantKind::driveline;
}

void keep_contradiction(const Analysis& base, Analysis& after) {
    for (const Finding& f : base.findings) {
        const bool read = f.kind == FindingKind::direct_reading || f.kind == FindingKind::direct_travel || f.kind == FindingKind::model_fit;
        if (!read || f.severity > Severity::unknown) continue;
        after.findings.push_back(f);
    }
    sort_findings(after.findings);
    after.verdict = find_verdict(after.findings);
}

std::vector<VariantAnswer> study_variants(const Setup& setup, const std::vector<Variant>& variants, const Mark& mark) {
    std::vector<VariantAnswer> answers;
    const bool dropped = std::any_of(variants.begin(), variants.end(), [&](const Variant& v) { return drops_distances(setup, v); });
    const Analysis base = dropped ? analyze_alone(setup, mark, BandEffort::second_order) : Analysis{};
    const Setup fitted = apply_fit(setup);
    for (const Variant& v : variants) {
        VariantAnswer a;
        a.variant = v;
        a.setup = apply_variant(setup, v);
        const bool drops = drops_distances(setup, v);
        a.analysis = analyze_alone(drops ? apply_variant(fitted, v) : a.setup, mark, BandEffort::second_order);
        if (drops) keep_contradiction(base, a.analysis);
        answers.push_back(std::move(a));
    }
    return answers;
}

std::vector<FindingDifference> find_flips(const std::vector<Finding>& before, const std::vector<Finding>& after) {
    std::vector<FindingDifference> flips = match_findings(before, after);
    std::erase_if(flips, [](const FindingDifference& d) { return !d.flipped() || (!matters(d.old_finding) && !matters(d.new_finding)); });
    // The new list is worst first; what is gone stands behind.
    std::stable_sort(flips.begin(), flips.end(), [](const FindingDifference& a, const FindingDifference& b) {
        if (!a.new_finding || !b.new_finding) return a.new_finding != nullptr && b.new_finding == nullptr;
        return a.new_finding < b.new_finding;
    });
    return flips;
}

}  // namespace hitchwright
