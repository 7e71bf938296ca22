#!/usr/bin/env bash
# All tests with address and undefined-behaviour sanitizers, as ./check dev.
set -euo pipefail
exec "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../../check" dev
