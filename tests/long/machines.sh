#!/usr/bin/env bash
# A million random machines and more: the properties of tests/properties with HITCHWRIGHT_PROPERTY_FACTOR times their usual cases (default
# 350: above a million poses, cuts and plans, thousands of whole analyses), then validation against other routes as long as
# for the figures of docs/theory/errors.md.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."
. .ci/setup.sh

ensure_packages "to build the program and its tests" "${build_packages[@]}" "${test_packages[@]}"
build release -- --target test_properties test_validation
export HITCHWRIGHT_PROPERTY_FACTOR=${HITCHWRIGHT_PROPERTY_FACTOR:-350} HITCHWRIGHT_LONG=1
exec ctest --preset release -j "$(nproc)" -R '^(properties|validation)/'
