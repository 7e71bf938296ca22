#!/usr/bin/env bash
# with_screen.sh COMMAND...: runs a command on a virtual screen of its own and ends with the command's exit code.
# The server picks a free display number and says it; nothing is guessed, waited for or left behind.
set -euo pipefail
folder=$(mktemp -d)
trap 'rm -rf -- "$folder"' EXIT
mkfifo "$folder/number"
Xvfb -displayfd 3 -screen 0 1280x1024x24 -nolisten tcp 3>"$folder/number" 2>"$folder/log" &
server=$!
if ! read -r number <"$folder/number"; then
    cat -- "$folder/log" >&2
    exit 99
fi
status=0
DISPLAY=":$number" "$@" || status=$?
kill "$server"
wait "$server" || true
exit "$status"
