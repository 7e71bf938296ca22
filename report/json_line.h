// JSON for streams: an answer on one line, and the answer of `fit` as a tree to stand inside another.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "geometry/setup.h"
#include "report/format_length.h"
#include "report/json_value.h"

namespace hitchwright {

/// The value on one line without blanks, in ASCII, line ended.
std::string format_json_line(const JsonValue& value);

/// What format_fit_json writes where nobody asked for more.
JsonValue make_fit_json(const Setup& setup, const Analysis& analysis, UnitSystem units);

}  // namespace hitchwright
