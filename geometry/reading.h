// A reading: one value of a set-up with where it comes from and how far it can be off.
//
// Everything a person can type about a machine is a Reading. Values are SI (m, rad, kg, N, W, rad/s, Pa, N m);
// the unit a person typed is a matter of the file reader. A reading that nobody gave is `known == false`,
// never a NaN and never a silent zero.
#pragma once

#include <string>
#include <string_view>

namespace hitchwright {

/// Where a value comes from. The origin stays visible on every screen and print. `computed`: from other readings
/// (hidden_pins.h); no file can say that of a value.
enum class Origin { measured, manual, preset, assumed, computed };

/// Physical dimension of a reading; decides which units a text may carry.
enum class Dimension { length, angle, mass, force, power, rotation_speed, ratio, length_per_turn, pressure, torque, count };

/// One value of a set-up.
struct Reading {
    double value = 0.0;      ///< SI value; meaningful only when known
    double tolerance = 0.0;  ///< two sigma of the reading's error, same unit as value; >= 0
    Origin origin = Origin::assumed;
    bool known = false;  ///< false: nobody gave this value

    bool operator==(const Reading&) const = default;

    /// The value, or `fallback` when nobody gave one.
    double value_or(double fallback) const { return known ? value : fallback; }
};

/// A known reading with a given origin and tolerance (two sigma).
inline Reading make_reading(double value, Origin origin = Origin::measured, double tolerance = 0.0) {
    return Reading{value, tolerance, origin, true};
}

/// How well a figure is known. A: text of a standard seen; B: two or more independent secondary sources;
/// C: from memory, unverified; D: arithmetic; P: common practice, no source.
enum class Grade { A, B, C, D, P };

/// A limit with its grade and a short text of its source.
struct Limit {
    double value = 0.0;  ///< SI
    bool set = false;    ///< false: the rule set says nothing about it
    Grade grade = Grade::C;
    std::string source;

    bool operator==(const Limit&) const = default;
};

/// A limit without a text of its own, for searches that ask for it again and again: `source` is that of a limit that is still
/// there, or a literal.
struct LimitView {
    double value = 0.0;
    bool set = false;
    Grade grade = Grade::C;
    std::string_view source;

    LimitView() = default;
    LimitView(double limit, Grade graded, std::string_view text) : value(limit), set(true), grade(graded), source(text) {}
    LimitView(const Limit& limit) : value(limit.value), set(limit.set), grade(limit.grade), source(limit.source) {}
    LimitView(Limit&&) = delete;

    bool operator==(const LimitView&) const = default;
    operator Limit() const { return {value, set, grade, std::string(source)}; }
};

}  // namespace hitchwright
