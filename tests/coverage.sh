#!/usr/bin/env bash
# Which lines of geometry/ no test runs: builds geometry/ with counters in build/coverage, runs its tests, lists the lines.
#   tests/coverage.sh [TEST...]       default: test_geometry test_presets test_report test_cli (an hour; test_validation takes another)
# Writes build/coverage/uncovered.txt (file:line: text) and prints a table by file. gcov comes with the compiler.
# A line of a template counts as run when any of its forms was.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.."

tests=("$@")
if ((${#tests[@]} == 0)); then
    tests=(test_geometry test_presets test_report test_cli)
fi
out=build/coverage
mkdir -p "$out"
# Lines are told apart with little optimisation only; threads count at once.
cmake -S . -B "$out" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DHITCHWRIGHT_VIEWER=OFF \
    -DCMAKE_CXX_FLAGS_DEBUG="-O1 -fno-inline --coverage -fprofile-update=atomic" >"$out.log"
ninja -C "$out" "${tests[@]/#/bin/}" >>"$out.log"
find "$out" -name '*.gcda' -delete
# Each test is a process of its own, so that one that is given up leaves the counters of the others. Those that bound the time of a
# program fail in a build this slow; what they ran counts.
names=$(IFS='|'; echo "${tests[*]#test_}")
ctest --test-dir "$out" -j "$(nproc)" -R "^($names)/" --timeout 1200 </dev/null || echo "coverage: some tests failed, see above"

# gcov prints COUNT:LINE:TEXT; "#####" and "=====" are lines that nobody ran, "-" no code.
find "$PWD/$out" -name '*.gcda' -exec gcov -t -r -s "$PWD" {} + 2>/dev/null |
    awk -F: -v list="$out/uncovered.txt" '
        { count = $1; line = $2 + 0; gsub(/ /, "", count) }
        line == 0 { if ($3 == "Source") file = $4; next }
        file !~ /^geometry\// || count == "-" { next }
        { key = file ":" line; seen[key] = 1; text[key] = substr($0, index($0, $3)) }
        count !~ /^[#=]/ { run[key] = 1 }
        END {
            for (key in seen) {
                split(key, part, ":")
                ++all[part[1]]; ++total
                if (key in run) { ++ran[part[1]]; ++hit } else print key ": " text[key] | "sort -t: -k1,1 -k2,2n >" list
            }
            for (name in all) if (ran[name] < all[name]) printf "%-45s %5d of %5d lines\n", name, ran[name], all[name] | "sort"
            close("sort")
            printf "geometry/: %d of %d lines run, %.2f %%; the others: %s\n", hit, total, 100 * hit / total, list
        }'
