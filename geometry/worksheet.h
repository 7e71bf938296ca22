// A worksheet for teaching: a machine, what somebody taped of it, and one fault that was set in, all drawn from a
// number.
//
// The machine is the set-up. What was taped has an error in every reading, normal with half its tolerance as sigma,
// rounded as a tape shows it. One thing on the machine is not as the paper says: another hole, a link turned, the
// drawbar's pin in another place. What is seen at the machine is computed from the machine with its fault; the student
// has the paper. The same number gives the same sheet everywhere: the generator is written out here, not left to the
// library.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "geometry/setup.h"

namespace hitchwright {

/// A reading as taped, and what it is on the machine.
struct TapedReading {
    std::string key;
    Dimension dimension = Dimension::length;
    double taped = 0.0, machine = 0.0, tolerance = 0.0;  ///< SI
    bool operator==(const TapedReading&) const = default;
};

/// What was set in.
enum class SetInFault { none, upper_link_pin, mast_pin, upper_link_length, drawbar_pin };

struct WorksheetFault {
    SetInFault kind = SetInFault::none;
    std::string paper, machine;  ///< name of the hole on paper and on the machine
    double change = 0.0;         ///< of a length: on the machine more than on paper, m
    bool operator==(const WorksheetFault&) const = default;
};

/// What is read on the machine, rounded as a tape shows it.
struct SeenAtMachine {
    std::string what;   ///< "pitch", "shaft length", "drawbar length"
    std::string where;  ///< "lowest", "working", "highest"; empty: once
    Dimension dimension = Dimension::length;
    double value = 0.0;  ///< SI
    bool operator==(const SeenAtMachine&) const = default;
};

struct Worksheet {
    std::uint64_t seed = 1;
    Setup paper;    ///< what the student has: readings with errors, choices as they should be
    Setup machine;  ///< readings without errors, the fault in it
    WorksheetFault fault;
    std::vector<TapedReading> taped;  ///< of every reading that has an error
    std::vector<SeenAtMachine> seen;
};

/// Draws one. A set-up whose linkage is not known has neither fault nor anything seen.
Worksheet draw_worksheet(const Setup& setup, std::uint64_t seed);

/// Draws from a number, the same everywhere (splitmix64, public domain; normal by Box and Muller).
class DrawnNumbers {
public:
    explicit DrawnNumbers(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next();
    double uniform();  ///< 0 <= x < 1
    double normal();   ///< mean 0, sigma 1
    std::size_t below(std::size_t count);

private:
    std::uint64_t state_;
};

}  // namespace hitchwright
