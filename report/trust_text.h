// How sure a number is, in words: its band and how that was found, the chance that its limit is broken, the readings it
// hangs on; and what was read directly of the coupled machine: what it says of the model, and what to read next.
//
// An error that is allowed is rounded down, one that there is, up. A chance is rounded towards broken.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "report/safe_words.h"

namespace hitchwright {

/// An error of a reading or a number, >= 0, SI: "1/8 in"; a length below 1/16 in in thousandths of an inch, millimetres in
/// tenths, an angle below 0.1 deg in hundredths.
std::string format_error_size(double error, Dimension dimension, UnitSystem units, Rounding rounding);

/// A number of any dimension as a person reads it: "28 15/16 in", "-0.4 deg".
std::string format_shown(double value, Dimension dimension, UnitSystem units, Rounding rounding = Rounding::nearest);

/// "+- 1/2 in"; where its two sides are not as wide as printed "-11/16 in / +1/2 in". Rounded up.
std::string say_band(const ErrorBand& band, Dimension dimension, UnitSystem units);
/// The same in decimals, for a line that is to be checked with a calculator.
std::string say_band_in_decimals(const ErrorBand& band, Dimension dimension, UnitSystem units);

/// "first order"; "second order: it bends within the errors"; "4000 draws: it bends or changes its place within the errors".
std::string say_band_method(const ErrorBand& band);

/// "1 in 40", "39 in 40"; "under 1 in 1000", "over 999 in 1000".
std::string say_chance(double chance);

/// Chance that the finding's limit is broken in truth; empty where no band or no limit is known.
std::string say_chance_of_breaking(const Finding& finding);

/// "tractor.pto.stub_x (3/8 in), implement.pic.z (1/4 in)": by how much each moves the number; empty: there are none.
std::string say_contributors(const Finding& finding, UnitSystem units);

/// The question a finding answers, for tables: "gap at shortest", "clearance, guard to drawbar".
std::string name_question(const Finding& finding);

/// The finding the next readings are for; null: none has a band.
const Finding* find_decided_by(const Analysis& analysis);

/// What to take and how: "shaft length, stub to input shaft ([[direct_reading]])".
std::string say_what_to_read(const NextReading& next);
/// "turned 35.0 deg to the left", "straight on".
std::string say_turn(double turn);
/// "at ball height 17 in"; of a drawn implement the turn; empty where none is meant.
std::string say_where_to_read(const NextReading& next, UnitSystem units);
/// "Read next, to within 1/8 in: ...: the band of ... falls from 1/2 in to 1/4 in."
std::string say_next_reading(const NextReading& next, const Finding* of, UnitSystem units);

/// Where the answer comes from: "The model was fitted to 3 direct readings: the answer comes from the fitted model."
std::string say_fit_use(const Analysis& analysis);
/// "from the model fitted to 3 direct readings"; empty: the model is that of the files.
std::string say_model_source(const Analysis& analysis);
/// Readings of the files that the fit moved by more than their tolerance, in a sentence; empty: none.
std::string say_moved_inputs(const ModelFit& fit, UnitSystem units);
/// What was left out and the likely cause, in sentences; empty: all fits.
std::string say_misfits(const ModelFit& fit, UnitSystem units);
/// Readings in which even a gross error would not be found, and what would change that; empty: all are checked.
std::string say_unchecked(const ModelFit& fit, UnitSystem units);

/// The two or three sentences that stand below the verdict; empty: nothing was read directly, and the verdict is clear.
std::vector<std::string> list_trust_sentences(const Analysis& analysis, UnitSystem units);

/// Fixed words, as used in machine-readable output.
std::string_view band_method_word(BandMethod method);
std::string_view direct_kind_word(DirectKind kind);
std::string_view direct_cause_word(DirectCause cause);

}  // namespace hitchwright
