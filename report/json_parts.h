// Internal to json_writer: the parts of the answers as JSON trees. Keys: docs/json.md.
#pragma once

#include "geometry/analysis.h"
#include "geometry/hole_study.h"
#include "geometry/setup.h"
#include "geometry/verdict_room.h"
#include "report/finding_text.h"
#include "report/json_value.h"
#include "report/sweep_table.h"

namespace hitchwright {

JsonValue make_finding_json(const Finding& finding, const FindingContext& context);
JsonValue make_attitude_json(const Attitude& attitude);
JsonValue make_remedy_json(const Remedy& remedy, const Finding& finding, const FindingContext& context);
JsonValue make_cautions_json(const std::vector<Caution>& cautions);
JsonValue make_linkage_json(const Setup& setup, const Analysis& analysis);
JsonValue make_shaft_json(const Analysis& analysis);
JsonValue make_cut_json(const CutCase& cut_case, UnitSystem units);
JsonValue make_pose_json(const PoseReport& pose, const SweepContents& contents);
/// One combination of a study, by its place in study.results.
JsonValue make_hole_json(const Setup& setup, const HoleStudy& study, std::size_t index, UnitSystem units);
JsonValue make_clearances_json(const Analysis& analysis);
JsonValue make_floating_json(const Analysis& analysis);
/// Level, sway and tyre room; null where the set-up says nothing of them.
JsonValue make_space_json(const Analysis& analysis);
JsonValue make_part_effects_json(const Analysis& analysis);
/// The figures that add-on parts and other switches change.
JsonValue make_part_figures_json(const PartFigures& figures);
JsonValue make_unjudged_json(const Analysis& analysis);
JsonValue make_ground_json(const Analysis& analysis);
/// Every known reading with value, unit, origin and tolerance.
JsonValue make_inputs_json(const Setup& setup);
JsonValue make_setup_json(const Setup& setup);
/// How far readings may be off before the verdict changes.
/// Null where the finding has no band.
JsonValue make_error_json(const Finding& finding);
/// Null without direct or pose readings.
JsonValue make_model_fit_json(const Analysis& analysis, UnitSystem units);
JsonValue make_next_readings_json(const Analysis& analysis, UnitSystem units);
JsonValue make_how_far_json(const std::vector<ReadingRoom>& rooms);
/// What a drawn set-up has in place of a linkage; null for a mounted one.
JsonValue make_drawn_json(const Setup& setup, const Analysis& analysis);
JsonValue make_drawn_extremes_json(const DrawnExtremes& extremes);
JsonValue make_drawbar_lengths_json(const DrawbarInterval& interval);

/// An extreme found over the travel; `dimension` chooses the unit in the keys.
JsonValue make_extreme_json(const TravelExtreme& extreme, Dimension dimension);
JsonValue make_heights_json(const std::vector<HeightRange>& heights);
JsonValue make_range_json(const HeightRange& range);

}  // namespace hitchwright
