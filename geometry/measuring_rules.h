// Which station a key belongs to, and whether this job asks for it. Internal to measuring_round.
#pragma once

#include <optional>
#include <string_view>

#include "geometry/measuring_round.h"

namespace hitchwright {

/// How much a card wants a field.
enum class Asked {
    by_need,   ///< as its FieldSpec says: required or not
    required,
    offered,   ///< makes an answer better or opens another one
    if_given,  ///< only where a value is there already
    left_out
};

/// Station and wish for one plain key; nothing for a table no rule knows.
struct MeasuringRule {
    Station station;
    Asked asked;
};
std::optional<MeasuringRule> find_measuring_rule(std::string_view plain_key, const Setup& setup, const MeasuringJob& job);

}  // namespace hitchwright
