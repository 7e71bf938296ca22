#!/usr/bin/env bash
# use_window.sh VIEWER FOLDER: a person at the real window, with real keys and buttons. Drags the lift, types a length and
# rubbish, undoes and redoes, clicks a hole, changes units and theme by keys, and closes it over its question. Ends with 0
# when the report said at each step what it had to. Runs on a screen of its own: with_screen.sh.
set -euo pipefail
viewer=$1 folder=$2
state=$folder/state.json
export XDG_STATE_HOME=$folder/home XDG_CONFIG_HOME=$folder/config XDG_DATA_HOME=$folder/data
# shellcheck source=drive_window.sh
. "$(dirname -- "${BASH_SOURCE[0]}")/drive_window.sh"

rm -f -- "$state"
say() { printf '%s\n' "$*"; }

"$viewer" compact-tiller-bottoms-out --state-file "$state" &
viewer_id=$!
trap 'kill -9 "$viewer_id" 2>/dev/null || true' EXIT
wait_for '"verdict": "fits_after_change"'
find_window

# cpu_ticks: what the viewer has used so far, hundredths of a second.
cpu_ticks() { awk '{ sub(/^.*\) /, ""); print $12 + $13 }' "/proc/$viewer_id/stat"; }

say "rest: no frame is drawn and no time used while nothing happens"
settle
frame=$(read_value frame) used=$(cpu_ticks)
for _ in $(seq 20); do
    sleep 0.05
    [[ $(read_value frame) == "$frame" ]] || { say "frames go on: $frame, $(read_value frame)" >&2; exit 1; }
done
(($(cpu_ticks) - used <= 1)) || { say "at rest $(($(cpu_ticks) - used)) hundredths of a second were used" >&2; exit 1; }

say "drag the lift"
before=$(read_value ball_height_mm)
move_to lift 20 50
act xdotool mousedown 1
move_to lift 80 50
act xdotool mouseup 1
after=$(read_value ball_height_mm)
awk -v a="$before" -v b="$after" 'BEGIN { exit !(b > a + 100) }' || { say "the lift went from $before to $after mm" >&2; exit 1; }
wait_for '"has_changes": false'

say "type a length"
click choices.lift_stop
press ctrl+a
write '25-1/4'
press Return
wait_for '"choices.lift_stop=25-1/4 in"'
wait_for '"can_undo": true'

say "type rubbish"
click choices.lift_stop
press ctrl+a
write 'rubbish'
press Return
wait_for '"choices.lift_stop=25-1/4 in"'
press Escape

say "undo and redo"
press ctrl+z
wait_until_not '"choices.lift_stop=25-1/4 in"'
wait_for '"can_redo": true'
press ctrl+y
wait_for '"choices.lift_stop=25-1/4 in"'

say "click a hole"
click 'hole 3/1'
wait_for '"choices.upper_link_pin=3"'

say "units by a key"
press ctrl+u
wait_for '"units": "mm"'

say "close over the question"
press ctrl+q
wait_for '"question": "close"'
click 'Close without saving'
status=0
wait "$viewer_id" || status=$?
say "closed with $status"
exit "$status"
