#!/usr/bin/env bash
# Runs cppcheck over the program and its tests; a finding is an error.
#   tests/cppcheck.sh [FOLDER...]     default: geometry presets report cli gui tests
# What it found is kept in build/cppcheck, so that a second run looks at changed files only. Needs the package cppcheck.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.."

options=(
    --std=c++20 --language=c++ -I . --inline-suppr --quiet --error-exitcode=1
    --enable=warning,performance,portability
    --template='{file}:{line}: {severity}: {id}: {message}'
    # Headers of libraries are not read: what they define is unknown, not wrong.
    --suppress=missingIncludeSystem --suppress=unmatchedSuppression
    # False wherever calls are chained and move different things, add("a", std::move(a)).add("b", std::move(b));
    # clang-tidy's bugprone-use-after-move judges the same and is right.
    --suppress=accessMoved
    # Counts std::array<double, degree + 1> one short.
    --suppress=containerOutOfBounds:geometry/rod_tilt_range.cpp
    --suppress=containerOutOfBounds:tests/validation/error_band_test.cpp
    # A test names a folder once it is made; nobody waits for that.
    '--suppress=useInitializationList:tests/*'
    # TEST_CASE and SECTION of Catch2 are macros of headers that are not read.
    '-DTEST_CASE(...)=static void test_case()' '-DSECTION(...)=if (true)' '-DHITCHWRIGHT_SOURCE_DIR="."'
)
folders=("$@")
if ((${#folders[@]} == 0)); then
    folders=(geometry presets report cli gui tests)
fi
mkdir -p build/cppcheck
mapfile -t files < <(git ls-files -- "${folders[@]/%/\/*.cpp}")
cppcheck "${options[@]}" --cppcheck-build-dir=build/cppcheck -j "$(nproc)" "${files[@]}"
echo "cppcheck: ${#files[@]} files, nothing found"
