#!/usr/bin/env bash
# Brings the sources of the libraries that have to be compiled for the browser: those of this Debian's own packages, checked
# by apt against the release's signature. The original archives are enough: Debian's patches of what is compiled change build files.
#   web/fetch_sources.sh FOLDER
# apt works in FOLDER alone: no root, and the system's lists and sources stay as they are.
set -euo pipefail

packages=(imgui qrencode zlib)

folder=$(mkdir -p -- "$1" && cd -- "$1" && pwd)
if [[ -e $folder/complete ]]; then
    exit
fi
. /etc/os-release
keys=/usr/share/keyrings/debian-archive-keyring.gpg
mirror=$(sed -n 's/^URIs: *\(http[^ ]*debian\/\{0,1\}\)$/\1/p; s/^deb .*\(http[^ ]*debian\/\{0,1\}\) .*/\1/p' \
    /etc/apt/sources.list.d/debian.sources /etc/apt/sources.list 2>/dev/null | head -n 1 || true)
mkdir -p "$folder"/apt/{lists,archives}/partial "$folder"/archives
printf 'deb-src [signed-by=%s] %s %s main\n' "$keys" "${mirror:-http://deb.debian.org/debian}" "$VERSION_CODENAME" >"$folder/apt/sources.list"
options=(-q -o "Dir::Etc::SourceList=$folder/apt/sources.list" -o Dir::Etc::SourceParts=/dev/null
    -o "Dir::State::Lists=$folder/apt/lists" -o "Dir::Cache=$folder/apt" -o APT::Sandbox::User="$(id -un)")
apt-get "${options[@]}" update
cd "$folder/archives"
apt-get "${options[@]}" source --tar-only --download-only "${packages[@]}"

for package in "${packages[@]}"; do
    rm -rf -- "${folder:?}/$package"
    mkdir "$folder/$package"
    tar -xf "$package"_*.orig.tar.* -C "$folder/$package" --strip-components=1
done
rm -rf -- "$folder/apt"
touch "$folder/complete"
