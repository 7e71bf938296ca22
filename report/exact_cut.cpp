// See exact_cut.h.
#include "report/exact_cut.h"

#include <fmt/format.h>

#include <cmath>

#include "report/cut_words.h"

namespace hitchwright {
namespace {

bool same(double a, double b) { return std::fabs(a - b) <= cut_tolerance; }

}  // namespace

std::string say_cut(const CutPair& cut, const std::string& a, const std::string& b) {
    if (same(cut.a, 0.0) && same(cut.b, 0.0)) return "nothing";
    if (same(cut.b, 0.0)) return a + " from the tractor half alone: its tube and its guard tube";
    if (same(cut.a, 0.0)) return b + " from the implement half alone: its tube and its guard tube";
    if (same(cut.a, cut.b)) return a + " from each half: both tubes and both guard tubes";
    return fmt::format("{} from the tractor half and {} from the implement half, each with its guard tube", a, b);
}

std::string format_exact_cut(double length, const Mark& mark, UnitSystem units) {
    if (same(std::round(length / mark.step) * mark.step, length)) return format_cut_length(length, mark.step, units);
    std::string number = format_ratio(length * 1e3, 6);
    if (number.find('.') != std::string::npos) number.erase(number.find_last_not_of('0') + 1);
    if (number.back() == '.') number.pop_back();
    return number + " mm";
}

std::string format_exact_cut(const CutPair& cut, const Mark& mark, UnitSystem units) {
    return say_cut(cut, format_exact_cut(cut.a, mark, units), format_exact_cut(cut.b, mark, units));
}

std::string format_cuts_made(const CutPair& made, const SafeWords& words) {
    if (!(made.a > 0.0 || made.b > 0.0)) return {};
    return fmt::format("Cuts of the set-up are counted as made: {} tractor half, {} implement half.",
                       words.place(made.a), words.place(made.b));
}

}  // namespace hitchwright
