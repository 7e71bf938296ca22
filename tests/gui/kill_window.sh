#!/usr/bin/env bash
# kill_window.sh VIEWER DRIVER SETUP FOLDER: changes a value in the window as a person would, kills the window with
# SIGKILL, starts it again, takes the changes that were kept, and closes it. Leaves the reports of each moment in FOLDER.
# Runs on a screen of its own: with_screen.sh.
set -euo pipefail
viewer=$1 driver=$2 setup=$3 folder=$4
state=$folder/state.json
export XDG_STATE_HOME=$folder/home

# Middle of a control, from the report.
middle() {
    awk -v name="\"$1\": {" 'index($0, name) { inside = 1; next }
        inside && /"left"/ { left = $2 + 0 } inside && /"top"/ { top = $2 + 0 }
        inside && /"right"/ { right = $2 + 0 } inside && /"bottom"/ { bottom = $2 + 0 }
        inside && /}/ { printf "%d,%d\n", (left + right) / 2, (top + bottom) / 2; found = 1; exit }
        END { if (!found) exit 1 }' "$state"
}

# Waits until the report says it, at most twenty seconds.
wait_for() {
    for _ in $(seq 200); do
        grep -qF -- "$1" "$state" 2>/dev/null && return
        sleep 0.1
    done
    echo "kill_window.sh: the report never said: $1" >&2
    cat -- "$state" >&2 || true
    exit 1
}

"$viewer" "$setup" --state-file "$state" &
window=$!
trap 'kill -9 "$window" 2>/dev/null || true' EXIT
wait_for '"choices.lift_stop": {'
"$driver" Hitchwright click "$(middle choices.lift_stop)" ctrl a type "25 in" key Return
wait_for '"choices.lift_stop=25 in"'
cp -- "$state" "$folder/changed.json"
kill -9 "$window"
wait "$window" 2>/dev/null || true
cp -r -- "$XDG_STATE_HOME" "$folder/left"
rm -- "$state"

"$viewer" --state-file "$state" &
window=$!
wait_for '"take kept": {'
cp -- "$state" "$folder/asked.json"
"$driver" Hitchwright click "$(middle 'take kept')"
wait_for '"choices.lift_stop=25 in"'
cp -- "$state" "$folder/taken.json"
# The window asks before it loses them again; it is told to.
"$driver" Hitchwright close
wait_for '"Close without saving": {'
"$driver" Hitchwright click "$(middle 'Close without saving')"
for _ in $(seq 200); do
    kill -0 "$window" 2>/dev/null || { wait "$window"; exit; }
    sleep 0.1
done
echo "kill_window.sh: the window did not close" >&2
grep -F '"question"' -- "$state" >&2
cat "/proc/$window/wchan" "/proc/$window/syscall" "/proc/$window/status" >&2
exit 1
