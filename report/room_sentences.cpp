// Sentences about room through the travel, and about what is not computed; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

Sentences say_clearance(const Finding& f, const SafeWords& w) {
    const std::string pair = fmt::format("{} to {}", capitalized(f.subject), printable_text(f.other));
    const std::string where = f.has_height ? fmt::format(" {}", format_where(f, w)) : std::string();
    const std::string moved =
        f.band > std::fabs(f.value) ? fmt::format("The readings may move it by {}: they may touch or not.", w.need(f.band)) : "";
    const std::string passing = has_term(f, "side_view_only")
                                    ? "Seen from the side only: widths are not given, they may pass beside each other."
                                    : "";
    const std::string beside = fmt::format("{}{}{}", moved, moved.empty() || passing.empty() ? "" : " ", passing);
    if (f.value <= 0.0) return {fmt::format("{}: touch, {} into each other{}", pair, w.need(-f.value), where), beside};
    const ShownPair p = w.have_need(f.value, f.limit);
    const std::string wanted = f.has_limit && f.limit > 0.0 ? fmt::format(", {} wanted", p.limit) : "";
    return {fmt::format("{}: {} of room{}{}", pair, p.value, where, wanted), beside};
}

Sentences say_ground(const Finding& f, const SafeWords& w) {
    const std::string part = capitalized(f.subject);
    if (f.other == "working") {
        return {fmt::format("{}: {} below the ground at the working height", part, w.need(-f.value)),
                "Check the working height, and where that point was measured."};
    }
    if (f.value <= 0.0) {
        return {fmt::format("{}: does not clear the ground with the hitch fully up", part),
                fmt::format("It still lacks {}, level ground.", w.need(-f.value))};
    }
    return {
        fmt::format("Lowest point fully raised: {}, {} above the ground", printable_text(f.subject), w.have(f.value)),
        ""};
}

Sentences say_not_computed(const Finding& f) {
    if (f.other == "wide_angle_at_both_ends") {
        return {"Wide-angle joints at both ends: not computed",
                "Length, gap and angles of such a shaft are not known here."};
    }
    if (f.other == "wide_angle_at_bearing") {
        return {"A wide-angle joint at a steady bearing: not computed", "Length, gap and angles of such a shaft are not known here."};
    }
    if (f.other == "no_fixed_shaft") {
        return {"Steady bearing and input shaft: no fixed shaft between them",
                "Less than 10 mm lies between the bearing and the joint at the input shaft. Read both places and the joint's offset again."};
    }
    return {"Not computed: " + printable_text(f.subject), ""};
}

}  // namespace

Sentences say_room(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::clearance:
            return say_clearance(f, w);
        case FindingKind::ground_clearance:
            return say_ground(f, w);
        case FindingKind::joint_model:
            return say_not_computed(f);
        default:
            return {};
    }
}

}  // namespace hitchwright
