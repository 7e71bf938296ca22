// Set-ups with anything in them, as RapidCheck draws and shrinks them: a sound machine, and a list of changes to its readings.
//
// A failure is shown with the fewest changes that still bring it about, so that it reads like a command line with --set. Changes go
// beyond what files may hold (presets refuse that): analyze is part of a library, and a caller may hand it any number.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include <rapidcheck.h>

#include "geometry/setup.h"

namespace properties {

/// The sound machine a set-up starts from.
enum class Start { mounted, floating, wide_angle, unlike_rods, equipped, drawn, drawn_wide_angle, drawn_in_ditch };

/// One reading given another value, or taken away.
struct Change {
    std::string key;  ///< as --set takes it
    double value = 0.0;
    double tolerance = 0.0;
    bool missing = false;
};

struct AnySetup {
    Start start = Start::mounted;
    std::vector<Change> changes;

    hitchwright::Setup build() const;
};

/// What a change may put in.
enum class Values {
    possible,  ///< what a file may hold
    hostile    ///< no number, infinite, huge, denormal, 0, of the wrong sign as well
};

/// Set-ups with some readings changed or missing.
rc::Gen<AnySetup> any_setup(Values values);

/// The sound machine itself.
hitchwright::Setup make_start(Start start);

void showValue(const AnySetup& s, std::ostream& out);

}  // namespace properties
