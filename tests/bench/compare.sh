#!/usr/bin/env bash
# Installs what is missing, builds the benchmarks, runs them in turns and writes the tables of docs/benchmarks.md anew.
#   tests/bench/compare.sh              the tables; about ten minutes on a quiet machine
#   tests/bench/compare.sh ROUNDS       more turns, or fewer (default 7)
#   tests/bench/compare.sh ROUNDS only PART...   parts: pose product growth process screen
# The tables are printed too. Nothing is judged: the exit code says whether all ran.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."
. .ci/setup.sh

ensure_packages "to build the program" "${build_packages[@]}"
ensure_packages "for the benchmarks and the solvers they compare" "${bench_packages[@]}"

build_release -DHITCHWRIGHT_BENCH=ON -- --target benchmarks
exec /usr/bin/env python3 tests/bench/compare.py build/release/bin "$@"
