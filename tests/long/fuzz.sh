#!/usr/bin/env bash
# Timed fuzzing: every target for HITCHWRIGHT_FUZZ_MINUTES (default 10), as many at once as there are cores, with coverage,
# address and undefined-behaviour sanitizers in all that is below it.
#   tests/long/fuzz.sh [TARGET...]
# What was reached stays in build/fuzz/corpus and is gone on from the next time; findings lie in build/fuzz/findings. Both are
# brought into the repository by hand: tests/fuzz/merge.sh, and a test for each finding.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."
. .ci/setup.sh

minutes=${HITCHWRIGHT_FUZZ_MINUTES:-10}
targets=("$@")
if ((${#targets[@]} == 0)); then
    mapfile -t targets < <(basename -as _fuzz.cpp tests/fuzz/*_fuzz.cpp)
fi

ensure_packages "to build the fuzzers" "${build_packages[@]}" "${fuzz_packages[@]}"
build fuzz -- --target "${targets[@]/#/fuzz_}"
mkdir -p build/fuzz/findings

# fuzz_one TARGET MINUTES: one line of figures; fails on a finding.
fuzz_one() {
    local target=$1 log=build/fuzz/$1.log status=0 arguments=(-max_total_time=$(($2 * 60)) -timeout=60 -print_final_stats=1
        -artifact_prefix=build/fuzz/findings/"$1"-)
    if [[ -f tests/fuzz/$target.dict ]]; then
        arguments+=(-dict=tests/fuzz/"$target".dict)
    fi
    mkdir -p build/fuzz/corpus/"$target"
    build/fuzz/bin/fuzz_"$target" "${arguments[@]}" build/fuzz/corpus/"$target" tests/fuzz/corpus/"$target" >"$log" 2>&1 || status=$?
    printf '%-10s %s executions, %s edges%s\n' "$target" "$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")" \
        "$(grep -aoE 'cov: [0-9]+' "$log" | tail -n 1 | cut -d ' ' -f 2)" "$( ((status == 0)) || echo ", A FINDING: $log")"
    return "$status"
}
export -f fuzz_one

# shellcheck disable=SC2016
printf '%s\n' "${targets[@]}" | xargs -P "$(nproc)" -I TARGET bash -c 'fuzz_one TARGET "$0"' "$minutes"
