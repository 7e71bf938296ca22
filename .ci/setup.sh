# shellcheck shell=bash disable=SC2034
# Shared by ./run and ./check: the Debian packages, and a quiet build. Sourced, not run.

build_packages=(
    g++ cmake ninja-build pkg-config           # compiler and build
    libeigen3-dev                              # vectors and matrices
    libtomlplusplus-dev                        # reads our files
    libcli11-dev                               # command line
    libfmt-dev nlohmann-json3-dev              # text and JSON output
    libcairo2-dev fonts-dejavu-core            # PDF and PNG drawings and their letters
    fonts-droid-fallback                       # letters of other scripts on paper
    libqrencode-dev zlib1g-dev                 # the code on the set-up sheet
    libimgui-dev libglfw3-dev libgl-dev        # the viewer: panels, window, OpenGL
)
test_packages=(
    catch2                                     # test runner
    libsimbody-dev                             # independent solver the results are checked against
    librapidcheck-dev                          # draws set-ups for the properties, and shrinks what breaks them
    libxml2-utils poppler-utils                # are the SVG and PDF files well formed?
    parallel                                   # runs "hitchwright batch" as people run many at once
    libclang-rt-14-dev                         # libFuzzer's engine, for the fuzzers with the corpus they have
    xvfb xdotool                               # a screen for the viewer where there is none, and hands for it
)
fuzz_packages=(
    clang-14 libclang-rt-14-dev                # instruments what is fuzzed for hours; sanitizers
)
bench_packages=(
    libbenchmark-dev                           # timing loops
    libceres-dev libsimbody-dev                # solvers to compare the pose with
    python3-numpy python3-scipy                # the same in scripts
    xvfb                                       # a screen for the viewer's frames where there is none
)

web_packages=(
    emscripten                                 # compiles for the browser; brings clang-14, binaryen, Node and Python
    libharfbuzz-bin                            # hb-subset: the letters of the viewer and no others
    bzip2 xz-utils                             # unpack the sources of what Debian has for this machine only
)
web_test_packages=(
    chromium                                   # the browser of the tests
    nodejs                                     # runs them
    poppler-utils                              # reads what the browser prints
)
# npm brings playwright-core. Debian's conflicts with a Node from elsewhere, which has its own.
if ! command -v npm >/dev/null; then
    web_test_packages+=(npm)
fi

# ccache wants a home folder to write in.
if [[ ! -w ${HOME:-/nonexistent} ]]; then
    export CCACHE_DISABLE=1
fi

say() { printf '%s\n' "$*"; }

fail() {
    printf '%s\n' "$*" >&2
    exit 1
}

# ensure_packages WHY PACKAGE...: installs what is missing, without a question; no apt call otherwise.
ensure_packages() {
    local why=$1 installed package missing=() as_root=()
    shift
    if ! command -v dpkg-query >/dev/null; then
        say "No dpkg here, so nothing is installed. Needed $why: $*"
        return
    fi
    installed=$(dpkg-query -W -f '${Package} ${db:Status-Status}\n' "$@" 2>/dev/null || true)
    for package in "$@"; do
        grep -qxF "$package installed" <<<"$installed" || missing+=("$package")
    done
    if ((${#missing[@]} == 0)); then
        return
    fi
    if ((EUID != 0)); then
        if ! sudo -n true 2>/dev/null; then
            fail "These Debian packages are needed $why, and installing them needs root:" \
                "sudo apt-get install --no-install-recommends ${missing[*]}"
        fi
        as_root=(sudo -n)
    fi
    say "Installing with apt-get, needed $why: ${missing[*]}"
    as_root+=(env "PATH=$PATH:/usr/local/sbin:/usr/sbin:/sbin" DEBIAN_FRONTEND=noninteractive
        apt-get -q -y -o DPkg::Lock::Timeout=300)
    logged build/packages.log "${as_root[@]}" update
    logged build/packages.log "${as_root[@]}" install --no-install-recommends "${missing[@]}"
}

# logged LOG COMMAND...: output goes to the log; on failure its errors and tail are shown and all ends.
logged() {
    local log=$1
    shift
    mkdir -p "$(dirname "$log")"
    if ! "$@" </dev/null 2>&1 | follow "$log"; then
        say "This failed: $*" >&2
        grep -E 'error[: ]|^E: |CMake Error|^FAILED: ' "$log" | head -n 20 >&2 || true
        say "..." >&2
        tail -n 20 "$log" >&2
        fail "The whole log: $PWD/$log"
    fi
}

# Writes stdin to the log $1; meanwhile a terminal shows the step number of the build, anything else a line each tenth.
follow() {
    local line tenth=0
    while IFS= read -r line; do
        printf '%s\n' "$line" >&3
        if [[ ! $line =~ ^\[([0-9]+)/([0-9]+)\] ]]; then
            continue
        fi
        if [[ -t 1 ]]; then
            printf '\r  %s ' "${BASH_REMATCH[0]}"
        elif ((BASH_REMATCH[1] * 10 / BASH_REMATCH[2] > tenth)); then
            tenth=$((BASH_REMATCH[1] * 10 / BASH_REMATCH[2]))
            say "  ${BASH_REMATCH[0]} after $SECONDS s"
        fi
    done 3>>"$1"
    if [[ -t 1 ]]; then
        printf '\r%20s\r' ''
    fi
}

# build PRESET CONFIGURE_ARGUMENTS... -- BUILD_ARGUMENTS...
build() {
    local preset=$1 log=build/$1.log cache=build/$1/CMakeCache.txt configure=()
    shift
    while [[ $1 != -- ]]; do
        configure+=("$1")
        shift
    done
    shift
    # A build folder that was moved here with its checkout is of no use.
    if [[ -f $cache ]] && ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$PWD" "$cache"; then
        configure+=(--fresh)
    fi
    mkdir -p build
    : >"$log"
    say "Building ($preset) in $PWD/build/$preset"
    logged "$log" cmake --preset "$preset" ${configure[@]+"${configure[@]}"}
    logged "$log" cmake --build --preset "$preset" "$@"
    if grep -q 'warning: ' "$log"; then
        say "Warnings of the compiler:"
        grep 'warning: ' "$log"
    fi
}

# build_release CONFIGURE_ARGUMENTS... -- BUILD_ARGUMENTS...: the tests need more packages than the program, so they are left out
# unless ./check has brought them in.
build_release() {
    if ! grep -qsx 'HITCHWRIGHT_TESTS:[A-Z]*=ON' build/release/CMakeCache.txt; then
        set -- -DHITCHWRIGHT_TESTS=OFF "$@"
    fi
    build release "$@"
}
