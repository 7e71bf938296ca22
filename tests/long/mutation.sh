#!/usr/bin/env bash
# Mutation testing of geometry/: HITCHWRIGHT_MUTANTS seeded changes (default 300), each met by the tests. docs/robustness.md has the
# survivors and what they mean; build/long/mutants.jsonl those of this run. A run that was stopped is gone on with.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."
. .ci/setup.sh

ensure_packages "to build the program and its tests" "${build_packages[@]}" "${test_packages[@]}"
build release --
mkdir -p build/long
exec tests/mutation/mutate.py --count "${HITCHWRIGHT_MUTANTS:-300}" --results build/long/mutants.jsonl
