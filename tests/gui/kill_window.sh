#!/usr/bin/env bash
# kill_window.sh VIEWER SETUP FOLDER: changes a value in the window as a person would, kills the window with SIGKILL, starts
# it again, takes the changes that were kept, and closes it. Leaves the reports of each moment in FOLDER.
# Runs on a screen of its own: with_screen.sh.
set -euo pipefail
viewer=$1 setup=$2 folder=$3
state=$folder/state.json
export XDG_STATE_HOME=$folder/home
# shellcheck source=drive_window.sh
. "$(dirname -- "${BASH_SOURCE[0]}")/drive_window.sh"

"$viewer" "$setup" --state-file "$state" &
window=$!
trap 'kill -9 "$window" 2>/dev/null || true' EXIT
wait_for '"choices.lift_stop": {'
find_window
click choices.lift_stop
press ctrl+a
write '25 in'
press Return
wait_for '"choices.lift_stop=25 in"'
cp -- "$state" "$folder/changed.json"
kill -9 "$window"
wait "$window" 2>/dev/null || true
cp -r -- "$XDG_STATE_HOME" "$folder/left"
rm -- "$state"

"$viewer" --state-file "$state" &
window=$!
wait_for '"take kept": {'
find_window
cp -- "$state" "$folder/asked.json"
click 'take kept'
wait_for '"choices.lift_stop=25 in"'
cp -- "$state" "$folder/taken.json"
# The window asks before it loses them again; it is told to.
press ctrl+q
click 'Close without saving'
wait "$window"
