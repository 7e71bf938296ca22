// Internal to finding_text: the sentences, one function per part of the question.
#pragma once

#include <string>

#include "report/finding_text.h"

namespace hitchwright {

/// What was found, in words.
struct Sentences {
    std::string headline, detail;
};

/// Missing readings, closure, upper link, pitch, dead centre, travel, floating link.
Sentences say_linkage(const Finding& finding, const FindingContext& context);
/// Gap, overlap, separation, cut, guards, evenness of rotation.
Sentences say_shaft(const Finding& finding, const FindingContext& context);
/// Joint angles in work and over the travel.
Sentences say_joint(const Finding& finding, const FindingContext& context);
/// Category, pins, span, mast, PTO, power.
Sentences say_match(const Finding& finding, const FindingContext& context);
/// Coupler, extender of the lower links, floating link on humps and hollows.
Sentences say_part(const Finding& finding, const FindingContext& context);
/// Direct readings, and pins found from ball readings.
Sentences say_reading(const Finding& finding, const FindingContext& context);
/// Drawbar, turns, articulation and ditches of a drawn implement.
Sentences say_drawn(const Finding& finding, const FindingContext& context);
/// Lift, front and rear axle, what axles and tyres carry.
Sentences say_load(const Finding& finding, const FindingContext& context);
/// Lines measured against a specification.
Sentences say_specification(const Finding& finding, const FindingContext& context);
/// The step that sets such a line right.
std::string format_specification_step(const Remedy& remedy, const Finding& finding, UnitSystem units);
/// Attitude in words: "35.0 deg of turn to the left, 25.0 deg rear down"; "straight and level".
std::string format_attitude(const Attitude& attitude);
/// Level from side to side, sway, check chains, room beside the tyres.
Sentences say_space(const Finding& finding, const FindingContext& context);
/// Clearance through the travel, room above the ground, kinds that are not computed.
Sentences say_room(const Finding& finding, const FindingContext& context);

/// Value of the term with that symbol, or `fallback`.
double find_term(const Finding& finding, std::string_view symbol, double fallback = 0.0);
bool has_term(const Finding& finding, std::string_view symbol);

/// "at ball height 8 in"; empty without a height.
std::string format_where(const Finding& finding, const SafeWords& words);

/// Ball heights inside a limit: "8 in to 24 5/16 in", several joined by "and"; low ends rounded up, high ends down.
std::string format_heights(const std::vector<HeightRange>& heights, const SafeWords& words);

/// "Tractor joint": first letter upper case, printable.
std::string capitalized(std::string_view text);

}  // namespace hitchwright
