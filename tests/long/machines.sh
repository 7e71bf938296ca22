#!/usr/bin/env bash
# Random machines, many more than ./check draws: all validation against other routes with HITCHWRIGHT_LONG=1.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."
. .ci/setup.sh

ensure_packages "to build the program and its tests" "${build_packages[@]}" "${test_packages[@]}"
build release -- --target test_validation
HITCHWRIGHT_LONG=1 ctest --preset release -j "$(nproc)" -R '^validation/'
