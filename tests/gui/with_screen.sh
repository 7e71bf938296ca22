#!/usr/bin/env bash
# with_screen.sh COMMAND...: runs a command on a virtual screen of its own and ends with the command's exit code.
# SCREEN_OPTIONS: further words for the server, such as "-extension GLX".
# The server picks a free display number and says it; nothing is guessed, waited for or left behind.
set -euo pipefail
folder=$(mktemp -d)
trap 'rm -rf -- "$folder"' EXIT
mkfifo "$folder/number"
Xvfb -displayfd 3 -screen 0 1280x1024x24 -nolisten tcp ${SCREEN_OPTIONS:-} 3>"$folder/number" 2>"$folder/log" &
server=$!
if ! read -r number <"$folder/number"; then
    cat -- "$folder/log" >&2
    exit 99
fi
# A screen loads the driver of OpenGL and unloads it at the end; what the driver keeps then counts as lost under the leak
# checker, in a module it cannot name (none is lost with the driver left loaded). Leaks of our own show in the tests that
# run the window without a screen.
export ASAN_OPTIONS="${ASAN_OPTIONS:+$ASAN_OPTIONS:}detect_leaks=0"
status=0
DISPLAY=":$number" "$@" || status=$?
kill "$server"
wait "$server" || true
exit "$status"
