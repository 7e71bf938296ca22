// Findings of two runs beside each other: which belong together, and what counts as another number.

#include <catch2/catch.hpp>

#include "geometry/analysis.h"
#include "geometry/finding_difference.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Finding make_finding(FindingKind kind, Severity severity, const char* subject, const char* other, double value) {
    Finding f;
    f.kind = kind;
    f.severity = severity;
    f.subject = subject;
    f.other = other;
    f.value = value;
    return f;
}

using List = std::vector<Finding>;

}  // namespace

TEST_CASE("finding difference: the same run twice differs in nothing", "[metamorphic]") {
    const List a = analyze(make_setup_a(), millimetre_mark).findings, b = analyze(make_setup_a(), millimetre_mark).findings;
    REQUIRE(a.size() >= 3);
    CHECK(compare_findings(a, b).empty());
    // Order is a matter of severity and margins, not of what was found.
    CHECK(compare_findings(a, List(b.rbegin(), b.rend())).empty());
    CHECK(compare_findings({}, a).size() == a.size());
    CHECK(compare_findings(a, {}).size() == a.size());
}

TEST_CASE("finding difference: appeared, gone, another weight, another number, in this order", "[analytic]") {
    const List a = {make_finding(FindingKind::gap_at_shortest, Severity::change, "shaft", "", 0.01),
                    make_finding(FindingKind::clearance, Severity::good, "hood", "tyre", 0.3),
                    make_finding(FindingKind::clearance, Severity::good, "hood", "cab", 0.4),
                    make_finding(FindingKind::pitch_range, Severity::good, "pitch", "", 0.1),
                    make_finding(FindingKind::joint_angle_over_travel, Severity::good, "tractor joint", "", 0.3),
                    make_finding(FindingKind::missing_reading, Severity::unknown, "a", "", 0.0)};
    const List b = {
        make_finding(FindingKind::joint_angle_over_travel, Severity::condition, "tractor joint", "no_work", 0.5),
        make_finding(FindingKind::clearance, Severity::good, "hood", "link", 0.3),
        make_finding(FindingKind::clearance, Severity::good, "hood", "tyre", 0.3),
        make_finding(FindingKind::pitch_range, Severity::good, "pitch", "", 0.2),
        make_finding(FindingKind::gap_at_shortest, Severity::good, "shaft", "", 0.02),
        make_finding(FindingKind::missing_reading, Severity::unknown, "b", "", 0.0)};
    const std::vector<FindingDifference> d = compare_findings(a, b);
    REQUIRE(d.size() == 7);
    // Appeared: rooms of other pairs are other questions.
    CHECK((d[0].old_finding == nullptr && d[0].new_finding == &b[1]));
    CHECK((d[1].old_finding == nullptr && d[1].new_finding == &b[5]));
    CHECK((d[2].old_finding == &a[2] && d[2].new_finding == nullptr));
    CHECK((d[3].old_finding == &a[5] && d[3].new_finding == nullptr));
    // The same question under another word, then the same one by its words.
    CHECK((d[4].old_finding == &a[4] && d[4].new_finding == &b[0] && d[4].changed_severity()));
    CHECK((d[5].old_finding == &a[0] && d[5].new_finding == &b[4] && d[5].changed_severity()));
    CHECK((d[6].old_finding == &a[3] && d[6].new_finding == &b[3] && !d[6].changed_severity()));
}

TEST_CASE("finding difference: value, limit and margin count from a millionth on", "[analytic]") {
    Finding f = make_finding(FindingKind::gap_at_shortest, Severity::good, "shaft", "", 0.01);
    f.has_limit = true;
    f.limit = 0.025;
    f.margin = -0.015;
    const auto differs = [&](double Finding::*member, double by) {
        Finding g = f;
        g.*member += by;
        return !compare_findings({f}, {g}).empty();
    };
    for (double Finding::*member : {&Finding::value, &Finding::limit, &Finding::margin}) {
        CHECK_FALSE(differs(member, 0.9e-6));
        CHECK(differs(member, 1.1e-6));
        CHECK(differs(member, -1.1e-6));
    }
    CHECK_FALSE(differs(&Finding::band, 1.0));
    Finding none = f;
    none.has_limit = false;
    CHECK(compare_findings({f}, {none}).size() == 1);
}

TEST_CASE("finding difference: findings that have not changed follow the others in the order of the old ones", "[analytic]") {
    const List a = {make_finding(FindingKind::gap_at_shortest, Severity::good, "shaft", "", 0.01),
                    make_finding(FindingKind::clearance, Severity::good, "hood", "tyre", 0.3),
                    make_finding(FindingKind::pitch_range, Severity::good, "pitch", "", 0.1)};
    const List b(a.rbegin(), a.rend());
    const std::vector<FindingDifference> d = match_findings(a, b);
    REQUIRE(d.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) CHECK((d[i].old_finding == &a[i] && d[i].new_finding != nullptr && !differs(d[i])));
}
