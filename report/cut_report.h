// The cut of a shaft as a report: recommended cut, what it leaves, the least and the most, ways out when none works.
//
// Serves `cut SETUP` and the cut from five numbers; the case (cut_words.h) holds both.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/finding.h"
#include "report/cut_words.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The report, lines of at most style.width columns, ended by the cautions of cutting. `ways_out`: remedies to name
/// when no cut works, besides the shaft to order; `title`: set-up or shaft, may be empty.
std::string format_cut_report(const CutCase& cut_case, std::string_view title, const std::vector<Remedy>& ways_out,
                              const TextStyle& style);

/// The answer in one line of words: "CUT 3 5/8 in from each half: ...", "NO CUT NEEDED", "NO CUT WORKS", or what is
/// wrong with the numbers.
std::string format_cut_answer(const CutCase& cut_case, UnitSystem units);

/// When no cut works: the shaft to order, then the other ways out, each a sentence with its numbers.
std::vector<std::string> list_cut_ways_out(const CutCase& cut_case, const std::vector<Remedy>& ways_out, const SafeWords& words);

/// Fixed word of an answer, as used in machine-readable output.
std::string_view cut_answer_word(CutAnswer answer);
std::string_view cut_obstacle_word(CutObstacle obstacle);
std::string_view halves_status_word(HalvesStatus status);
std::string_view halves_assumption_word(HalvesAssumption assumption);

}  // namespace hitchwright
