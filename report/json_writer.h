// Answers as JSON. Every key: docs/json.md.
//
// Units are always mm, deg, kg, kW, rpm, whatever the reader prefers; the unit stands at the end of the key, or in
// `unit` beside numbers of changing dimension. Numbers are printed so that they read back exactly. A number that is not
// known is null, with the reason in `KEY_reason`. Text is ASCII with escapes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/hole_study.h"
#include "geometry/setup.h"
#include "geometry/verdict_room.h"
#include "report/cut_words.h"
#include "report/json_value.h"
#include "report/sweep_table.h"

namespace hitchwright {

/// Version of the forms below; a key once published stays as long as it is the same.
inline constexpr int json_version = 1;

struct VariantStudy;

/// A value as JSON text, indented by two spaces, line ended.
std::string format_json_value(const JsonValue& value);

/// `fit`: schema hitchwright.fit. `units` only chooses the wording of the sentences. `rooms`, `variants`: nullptr where nobody
/// asked.
std::string format_fit_json(const Setup& setup, const Analysis& analysis, UnitSystem units,
                            const std::vector<ReadingRoom>* rooms = nullptr, const VariantStudy* variants = nullptr);

/// `cut`: schema hitchwright.cut. `title` as in the text report.
std::string format_cut_json(const CutCase& cut_case, std::string_view title, const std::vector<Remedy>& ways_out,
                            UnitSystem units);

/// `sweep`: schema hitchwright.sweep.
std::string format_sweep_json(const Setup& setup, const std::vector<PoseReport>& rows, const SweepContents& contents);

/// `holes`: schema hitchwright.holes. `units` only chooses the wording of the sentences.
std::string format_holes_json(const Setup& setup, const HoleStudy& study, UnitSystem units);

}  // namespace hitchwright
