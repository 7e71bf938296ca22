// What the room of answers shows: which answer, what was made for it, and what was seen at the machine.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "report/answer_blocks.h"
#include "report/page.h"

namespace hitchwright {

/// The answers of the command line that have no panel of their own.
enum class AnswerKind { loads, trust, lines, shafts, wrong, drawbar, ditch, turns, sheet, card };

/// Something of the list of what can be seen (cli/seen_list.h), as somebody ticked it.
struct SeenTick {
    bool ticked = false;
    std::string number;  ///< as typed
    bool more = true;    ///< the first of its two senses
    std::size_t spot = 0;
    std::string problem;  ///< why it cannot be read
};

/// An answer in blocks, with what it was made from.
struct MadeAnswer {
    int revision = -1;
    AnswerKind kind{};
    UnitSystem units = UnitSystem::inch;
    std::string asked;  ///< of `wrong`: what was seen, in words
    std::vector<AnswerBlock> blocks;
};

/// Pages of paper as they are shown.
struct PagePreview {
    int revision = -1;
    AnswerKind kind{};
    UnitSystem units = UnitSystem::inch;
    bool a4 = false, made_a4 = false;
    std::vector<PagePicture> pages;
    std::string refused;   ///< why there are none
    std::size_t page = 0;
    float zoom = 1.0F;     ///< 1: as wide as the room
};

struct AnswerView {
    AnswerKind kind = AnswerKind::loads;
    MadeAnswer made;
    std::map<std::size_t, SeenTick> seen;  ///< by place in the list
    bool lists_more = false;  ///< what is not ticked is listed too, though something is
    bool all_causes = false;
    PagePreview preview;
};

}  // namespace hitchwright
