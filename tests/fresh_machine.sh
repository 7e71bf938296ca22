#!/usr/bin/env bash
# Trial on a fresh machine: makes a bare Debian 12 root in a temporary folder, clones this checkout
# into it, and runs ./run and ./check there as root, without a terminal and without an answer to give.
#
#   sudo tests/fresh_machine.sh [LOG]      (LOG: build/fresh_machine.log)
#
# Needs root, mmdebstrap, git and a permitted chroot; about 3 GB in TMPDIR, removed at the end.
# Packages come from where this machine's apt takes them. Committed work only: it is a clone.
set -euo pipefail
cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.."

log=$(realpath -m -- "${1:-build/fresh_machine.log}")
suite=bookworm

if ((EUID != 0)); then
    echo "tests/fresh_machine.sh needs root: it makes a Debian root and enters it." >&2
    exit 1
fi
for tool in mmdebstrap git; do
    if ! command -v "$tool" >/dev/null; then
        echo "tests/fresh_machine.sh needs $tool (apt-get install $tool)." >&2
        exit 1
    fi
done

work=$(mktemp -d)
trap 'rm -rf --one-file-system -- "$work"' EXIT
root=$work/root
mkdir -p "$(dirname -- "$log")"
: >"$log"

# Proxies and the like; the sources too where this machine is of the same release.
apt-config dump Acquire >"$work/apt.conf"
# Under sudo the checkout belongs to somebody else.
git config --file "$work/gitconfig" safe.directory '*'
export GIT_CONFIG_GLOBAL=$work/gitconfig
sources=()
if grep -qx "VERSION_CODENAME=$suite" /etc/os-release; then
    for file in /etc/apt/sources.list /etc/apt/sources.list.d/*.list /etc/apt/sources.list.d/*.sources; do
        if [[ -s $file ]]; then
            sources+=("$file")
        fi
    done
fi

in_root() {
    unshare --mount --pid --fork --kill-child sh -c '
        mount -t proc proc "$0/proc" &&
        mount --bind /dev "$0/dev" && mount -t devpts -o newinstance,ptmxmode=0666 devpts "$0/dev/pts" &&
        mount --bind "$0/dev/pts/ptmx" "$0/dev/ptmx" &&
        exec chroot "$0" env -i HOME=/root PATH=/usr/bin:/bin TERM=dumb "$@"' "$root" "$@" </dev/null
}

trial() {
    local status=0
    SECONDS=0
    echo "== $*"
    "$@" || status=$?
    echo "== exit code $status after $SECONDS s"
    return "$status"
}

everything() {
    trial mmdebstrap --mode=root --variant=apt --aptopt="$work/apt.conf" \
        "$suite" "$root" ${sources[@]+"${sources[@]}"} &&
    cp -L /etc/resolv.conf /etc/hosts "$root/etc/" &&
    trial git clone -q --no-hardlinks . "$root/root/a fresh clone" &&
    trial in_root "/root/a fresh clone/run" &&
    trial in_root "/root/a fresh clone/run" &&
    trial in_root "/root/a fresh clone/check"
}

status=0
everything 2>&1 | tee -a "$log" || status=$?
echo "The whole log: $log"
exit "$status"
