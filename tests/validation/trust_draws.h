// Random errors of all readings of a set-up, and the middle of a sample with its own standard error.
//
// The second route of the tests of error bands: readings are found with visit_readings and moved here, sigma = half the
// tolerance, kept inside what is possible for the field; nothing of error_model.h or error_propagation.cpp is used.
#pragma once

#include <optional>
#include <random>
#include <string>
#include <vector>

#include "geometry/field_spec.h"
#include "geometry/setup.h"

namespace validation {

/// Draws so many more where the environment asks for the long run (HITCHWRIGHT_LONG).
bool is_long_run();

/// Two sigma of a reading as the documents say: its tolerance; a mass without one 3 % weighed, 10 % of a brochure.
double find_stated_error(const hitchwright::Reading& reading, const hitchwright::FieldSpec& spec, const std::string& key);

/// A copy of a set-up whose readings are moved by random errors.
class Drawn {
public:
    /// `exact`: the copy says that its readings have no error, so that an analysis of it looks for no bands.
    explicit Drawn(const hitchwright::Setup& setup, bool exact = false);

    /// Every reading anew at its value plus an error; stays until the next call.
    const hitchwright::Setup& draw(std::mt19937_64& random);
    const hitchwright::Setup& setup() const { return setup_; }
    std::size_t count() const { return moved_.size(); }
    /// Key of reading `i` and its error as drawn last, in standard deviations.
    const std::string& key(std::size_t i) const { return moved_[i].key; }

private:
    struct Moved {
        std::string key;
        hitchwright::Reading* at;
        double value, sigma, least, most;
    };
    hitchwright::Setup setup_;
    std::vector<Moved> moved_;
};

/// Where the middle of a sample begins and ends that two standard deviations of a normal number hold (95.45 %), and how well the sample knows that (one standard error, from the spacing
/// of the sample about each end).
struct Middle {
    double low = 0.0, high = 0.0;
    double low_error = 0.0, high_error = 0.0, half_error = 0.0;
    double half() const { return 0.5 * (high - low); }
};

/// Needs 180 or more.
Middle find_middle(std::vector<double> sample);

}  // namespace validation
