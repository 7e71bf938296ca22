// Looking things up in an analysis, for tests of findings.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"

namespace hitchwright::test {

inline Analysis answer(const Setup& s) { return analyze(s, millimetre_mark); }

/// First finding of a kind, and of a subject and other part unless these are empty; nullptr: none.
inline const Finding* find_finding(const Analysis& a, FindingKind kind, const std::string& subject = "",
                                   const std::string& other = "") {
    for (const Finding& f : a.findings) {
        if (f.kind == kind && (subject.empty() || f.subject == subject) && (other.empty() || f.other == other)) return &f;
    }
    return nullptr;
}

/// First remedy of a kind; nullptr: none.
inline const Remedy* find_remedy(const Finding& f, RemedyKind kind) {
    for (const Remedy& r : f.remedies) {
        if (r.kind == kind) return &r;
    }
    return nullptr;
}

}  // namespace hitchwright::test
