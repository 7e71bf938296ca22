#include "geometry/finding_difference.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hitchwright {
namespace {

constexpr double least_change = 1e-6;  ///< SI

bool belong_together(const Finding& a, const Finding& b) {
    return a.kind == b.kind && a.subject == b.subject && a.other == b.other;
}

bool same_number(double a, double b) { return std::fabs(a - b) < least_change; }

bool is_same(const Finding& a, const Finding& b) {
    const bool limits = a.has_limit == b.has_limit &&
                        (!a.has_limit || (same_number(a.limit, b.limit) && same_number(a.margin, b.margin)));
    return a.severity == b.severity && limits && same_number(a.value, b.value);
}

// `other` often says how it is broken ("no_work"), so that the same question can stand under another word. Parts that
// are near each other are told apart by it.
bool is_same_question(const Finding& a, const Finding& b) {
    return a.kind == b.kind && a.subject == b.subject && a.kind != FindingKind::clearance;
}

// One question of a set-up whose subject is the hole, position or part that it is answered for.
bool is_one_question(const Finding& a, const Finding& b) {
    return a.kind == b.kind && (a.kind == FindingKind::upper_link_reach || a.kind == FindingKind::drawbar_length ||
                                a.kind == FindingKind::drawbar_load || a.kind == FindingKind::ground_clearance);
}

/// Findings without a partner so far.
using Left = std::vector<const Finding*>;

// Where several are about the same, they are taken in order.
Left take_partners(Left& old_left, const Left& new_left, std::vector<FindingDifference>& pairs) {
    Left rest;
    for (const Finding* f : new_left) {
        const auto partner = std::find_if(old_left.begin(), old_left.end(),
                                          [&](const Finding* old) { return belong_together(*old, *f); });
        if (partner == old_left.end()) {
            rest.push_back(f);
            continue;
        }
        pairs.push_back({*partner, f});
        old_left.erase(partner);
    }
    return rest;
}

// Only where neither side has a second one of that question.
template <class Same>
Left take_questions(Left& old_left, const Left& new_left, const Same& is_same, std::vector<FindingDifference>& pairs) {
    Left rest;
    for (const Finding* f : new_left) {
        const auto same = [&](const Finding* other) { return is_same(*other, *f); };
        const bool alone = std::count_if(old_left.begin(), old_left.end(), same) == 1 &&
                           std::count_if(new_left.begin(), new_left.end(), same) == 1;
        if (!alone) {
            rest.push_back(f);
            continue;
        }
        const auto partner = std::find_if(old_left.begin(), old_left.end(), same);
        pairs.push_back({*partner, f});
        old_left.erase(partner);
    }
    return rest;
}

Left point_to(const std::vector<Finding>& findings) {
    Left all;
    for (const Finding& f : findings) all.push_back(&f);
    return all;
}

/// The findings of both sides put together.
struct Matched {
    std::vector<FindingDifference> appeared, gone, pairs;
};

Matched match(const std::vector<Finding>& old_findings, const std::vector<Finding>& new_findings) {
    Left old_left = point_to(old_findings);
    Matched m;
    const Left without = take_partners(old_left, point_to(new_findings), m.pairs);
    const Left other_words = take_questions(old_left, without, is_same_question, m.pairs);
    for (const Finding* f : take_questions(old_left, other_words, is_one_question, m.pairs)) m.appeared.push_back({nullptr, f});
    for (const Finding* f : old_left) m.gone.push_back({f, nullptr});
    return m;
}

}  // namespace

bool differs(const FindingDifference& d) { return !d.old_finding || !d.new_finding || !is_same(*d.old_finding, *d.new_finding); }

std::vector<FindingDifference> compare_findings(const std::vector<Finding>& old_findings,
                                                const std::vector<Finding>& new_findings) {
    Matched m = match(old_findings, new_findings);
    std::erase_if(m.pairs, [](const FindingDifference& d) { return !differs(d); });
    std::stable_sort(m.pairs.begin(), m.pairs.end(), [](const FindingDifference& a, const FindingDifference& b) {
        return a.changed_severity() != b.changed_severity() ? a.changed_severity() : a.new_finding < b.new_finding;
    });
    std::vector<FindingDifference> result = std::move(m.appeared);
    for (const auto* part : {&m.gone, &m.pairs}) result.insert(result.end(), part->begin(), part->end());
    return result;
}

std::vector<FindingDifference> match_findings(const std::vector<Finding>& old_findings,
                                              const std::vector<Finding>& new_findings) {
    Matched m = match(old_findings, new_findings);
    std::vector<FindingDifference> all = std::move(m.pairs);
    all.insert(all.end(), m.gone.begin(), m.gone.end());
    std::sort(all.begin(), all.end(), [](const FindingDifference& a, const FindingDifference& b) { return a.old_finding < b.old_finding; });
    all.insert(all.end(), m.appeared.begin(), m.appeared.end());
    const auto rank = [](const FindingDifference& d) { return d.flipped() ? 0 : differs(d) ? 1 : 2; };
    std::stable_sort(all.begin(), all.end(), [&](const FindingDifference& a, const FindingDifference& b) { return rank(a) < rank(b); });
    return all;
}

}  // namespace hitchwright
