#!/usr/bin/env bash
# What uses threads (batches, matrices, ordered work, the parts of an analysis, the files of a set-up, the frame's painters), with the
# thread sanitizer.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."
. .ci/setup.sh

ensure_packages "to build the program and its tests" "${build_packages[@]}" "${test_packages[@]}"
build threads -- --target test_geometry test_presets test_cli test_gui
exec ctest --preset threads -j "$(nproc)" -R '^(geometry|presets|cli|gui)/.*(batch|matrix|ordered|both|thread|painter|poses|analysis)'
