# shellcheck shell=bash
# Keys and buttons for the real window, pressed through the screen as a person's are, and its report (--state-file) to
# see what they did. Sourced by the scripts beside it, which set `state` to the report's file.

# wait_for TEXT: until the report says it, at most twenty seconds.
wait_for() {
    local _
    for _ in $(seq 400); do
        grep -qF -- "$1" "$state" 2>/dev/null && return
        sleep 0.05
    done
    printf 'the report never said: %s\n' "$1" >&2
    cat -- "$state" >&2 || true
    exit 1
}

# wait_until_not TEXT: until the report says it no more.
wait_until_not() {
    local _
    for _ in $(seq 400); do
        grep -qF -- "$1" "$state" 2>/dev/null || return 0
        sleep 0.05
    done
    printf 'the report still said: %s\n' "$1" >&2
    cat -- "$state" >&2 || true
    exit 1
}

# point_of PLACE ACROSS DOWN: "X Y" at these shares, in percent, of a control of the report.
point_of() {
    awk -v name="\"$1\": {" -v across="$2" -v down="$3" 'index($0, name) { inside = 1; next }
        inside && /"left"/ { left = $2 + 0 } inside && /"top"/ { top = $2 + 0 }
        inside && /"right"/ { right = $2 + 0 } inside && /"bottom"/ { bottom = $2 + 0 }
        inside && /}/ { printf "%d %d\n", left + (right - left) * across / 100, top + (bottom - top) * down / 100; found = 1; exit }
        END { if (!found) exit 1 }' "$state"
}

# read_value KEY: the number or word behind a key of the report.
read_value() {
    awk -v name="\"$1\":" '$1 == name { sub(/^[^:]*: */, ""); sub(/,$/, ""); print; found = 1; exit } END { if (!found) exit 1 }' "$state"
}

# find_window: waits for the window and gives it the keyboard; a bare screen has no window manager to do so.
find_window() {
    window_id=$(xdotool search --sync --onlyvisible --name Hitchwright | head -n 1)
    xdotool windowfocus --sync "$window_id"
}

# settle: until the window draws no more frames.
settle() {
    local before='' now _
    for _ in $(seq 100); do
        now=$(read_value frame 2>/dev/null || true)
        [[ -n $now && $now == "$before" ]] && return
        before=$now
        sleep 0.3
    done
}

# act COMMAND...: one event, and all the frames that follow it. Not every event has any: then a second has to do.
act() {
    local before _
    before=$(read_value frame)
    "$@"
    for _ in $(seq 20); do
        [[ $(read_value frame 2>/dev/null || echo "$before") != "$before" ]] && break
        sleep 0.05
    done
    settle
}

# move_to PLACE [ACROSS DOWN]
move_to() {
    local x y
    wait_for "\"$1\": {"
    read -r x y < <(point_of "$1" "${2:-50}" "${3:-50}")
    act xdotool mousemove --window "$window_id" "$x" "$y"
}

click() {
    move_to "$@"
    act xdotool mousedown 1
    act xdotool mouseup 1
}

# press CHORD...: "ctrl+z", "Return"
press() {
    local chord
    for chord in "$@"; do act xdotool key "$chord"; done
}

write() { act xdotool type --delay 20 -- "$1"; }
