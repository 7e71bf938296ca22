// The kinds of job that --kind names: a card without a set-up, a new set-up without a preset.
#pragma once

#include "cli/option_values.h"

namespace hitchwright {

enum class JobKind { none, mounted_pto, mounted_blade, drawn_pto };

/// What --kind says; none where it is not given. A wrong word is a problem of the reader.
inline JobKind read_job_kind(OptionReader& reader) {
    return reader.choice<JobKind>("--kind",
                                  {{"mounted-pto", JobKind::mounted_pto},
                                   {"mounted-blade", JobKind::mounted_blade},
                                   {"drawn-pto", JobKind::drawn_pto}},
                                  JobKind::none);
}

}  // namespace hitchwright
