#include "cli/exit_code.h"

namespace hitchwright {

int find_exit_code(Verdict verdict) {
    switch (verdict) {
        case Verdict::fits:
            return exit_code::fits;
        case Verdict::fits_after_change:
        case Verdict::must_not_run:
            return exit_code::change;
        case Verdict::too_close_to_call:
        case Verdict::not_known:
            return exit_code::not_decided;
    }
    return exit_code::internal;
}

int find_exit_code(CutAnswer answer) {
    switch (answer) {
        case CutAnswer::no_cut_needed:
            return exit_code::fits;
        case CutAnswer::cut_to_aim:
        case CutAnswer::cut_short_of_aim:
        case CutAnswer::cut_between_marks:
        case CutAnswer::no_cut_works:
            return exit_code::change;
        case CutAnswer::halves_invalid:
        case CutAnswer::travel_invalid:
        case CutAnswer::limits_invalid:
        case CutAnswer::mark_invalid:
            return exit_code::not_decided;
    }
    return exit_code::internal;
}

std::string_view failure_word(int code) {
    switch (code) {
        case exit_code::usage:
            return "usage";
        case exit_code::bad_file:
            return "bad_file";
        default:
            return "internal";
    }
}

}  // namespace hitchwright
