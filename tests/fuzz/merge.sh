#!/usr/bin/env bash
# What a long run reached, brought into the corpus of the repository as few small inputs that reach the same.
#   tests/fuzz/merge.sh [TARGET...]      after tests/long/fuzz.sh, whose instrumented build it uses
# FOLDERS of more inputs: HITCHWRIGHT_FUZZ_CORPORA (each with a folder TARGET); default build/fuzz/corpus.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.."

most_bytes=2000
targets=("$@")
if ((${#targets[@]} == 0)); then
    mapfile -t targets < <(basename -as _fuzz.cpp tests/fuzz/*_fuzz.cpp)
fi
for target in "${targets[@]}"; do
    merged=build/fuzz/merged/$target
    rm -rf "$merged"
    mkdir -p "$merged"
    # The seeds that people wrote stay, by name; what is new is named by its contents.
    cp tests/fuzz/corpus/"$target"/* "$merged"
    build/fuzz/bin/fuzz_"$target" -set_cover_merge=1 -use_counters=0 -max_len=$most_bytes "$merged" "${HITCHWRIGHT_FUZZ_CORPORA:-build/fuzz/corpus}/$target" 2>/dev/null
    cp "$merged"/* tests/fuzz/corpus/"$target"
    printf '%-10s %s inputs, %s kB\n' "$target" "$(find tests/fuzz/corpus/"$target" -type f | wc -l)" "$(du -sbk tests/fuzz/corpus/"$target" | cut -f 1)"
done
