#include "geometry/rule_set.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(RuleSet);

}  // namespace hitchwright
