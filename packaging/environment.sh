# Sourced by start and check: makes .venv in the repository, once.
#
#   prepare run|check [DEBIAN PACKAGE]...
#
# A stamp in .venv holds the hash of all that went into it and is written last, so that
# a set-up broken off half-way is taken up again. Plain pip; Python 3.11 or newer.

set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
venv=$PWD/.venv
# An outer Python path must not leak into the environment.
unset PYTHONPATH PYTHONHOME

say() { printf '%s\n' "$*" >&2; }
stop() { say "$*"; exit 1; }

debian_root() { [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; }

installed_debian() {
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

# Packages of the given list that dpkg does not have; Debian 13 adds t64 to some names.
missing_debian() {
    local name
    for name in "$@"; do
        installed_debian "$name" || installed_debian "${name}t64" ||
            printf '%s\n' "$name"
    done
}

install_debian() {
    say "Installing from Debian: $*"
    local log
    log=$(mktemp)
    if ! { apt-get update -q && DEBIAN_FRONTEND=noninteractive apt-get install -q -y \
        --no-install-recommends "$@"; } >"$log" 2>&1 </dev/null; then
        tail -n 20 "$log" >&2
        rm -f "$log"
        stop "Debian's packages could not be installed: $*"
    fi
    rm -f "$log"
}

# Debian's packages: installed when we may, named in one line when we may not.
system_packages() {
    command -v dpkg-query >/dev/null || return 0
    local missing
    missing=$(missing_debian "$@" | tr '\n' ' ')
    missing=${missing% }
    [ -n "$missing" ] || return 0
    # One word each: the list is split on purpose.
    # shellcheck disable=SC2086
    if debian_root; then
        install_debian $missing
    else
        say "Missing system packages; install them with: sudo apt-get install $missing"
    fi
}

# The first Python that is new enough; the one behind it where it is a venv's own.
find_python() {
    local name
    for name in python3 python3.13 python3.12 python3.11 python; do
        "$name" -c 'import sys
if sys.version_info < (3, 11): sys.exit(1)
print(getattr(sys, "_base_executable", sys.executable))' 2>/dev/null && return 0
    done
    return 1
}

version_of() {
    "$1" -c 'import sys; print(sys.base_prefix, sys.version)' 2>/dev/null
}

hash_of() {
    if command -v sha256sum >/dev/null; then sha256sum; else shasum -a 256; fi
}

# Everything an environment is made from, its place and its Python included.
wanted_stamp() {
    { printf '%s\n' "$venv" "$1" "$2"
      cat "packaging/requirements-$1.lock" pyproject.toml packaging/environment.sh
    } | hash_of
}

wanted_parts_stamp() {
    { find resources -name '*.lark' -o -name '*.po' -o -path '*/styles/*.json' \
        -o -name sewing.json -o -path '*/finishings/*.json' \
        -o -path '*/additions/*.json' -o -name measurements.json -o -name lengths.json
      find src/skirtwright/geometry src/skirtwright/pieces -name '*.py'
    } | LC_ALL=C sort | {
        cat packaging/build_parts.py packaging/compile_modules.py
        # A compiler that came or went.
        command -v "${CC:-cc}" gcc || true
        while IFS= read -r file; do printf '%s\n' "$file"; cat "$file"; done
    } | hash_of
}

make_venv() {
    local python=$1
    if ! "$python" -c 'import ensurepip, venv' >/dev/null 2>&1; then
        local package
        package=$("$python" -c \
            'import sys; print("python3.%d-venv" % sys.version_info[1])')
        debian_root ||
            stop "Python's venv is missing; install it with: sudo apt-get install $package"
        install_debian "$package"
    fi
    # --clear: one broken off half-way leaves an interpreter without pip behind.
    "$python" -m venv --clear "$venv"
}

sound_venv() {
    [ "$(version_of "$venv/bin/python")" = "$1" ] &&
        "$venv/bin/python" -m pip --version >/dev/null 2>&1
}

install_set() {
    local pip=("$venv/bin/python" -m pip --quiet --disable-pip-version-check)
    # The locks are complete, so nothing is resolved: --no-deps.
    "${pip[@]}" install --no-deps --require-hashes --only-binary :all: \
        -r "packaging/requirements-$1.lock"
    "${pip[@]}" install --no-deps --no-build-isolation -e .
}

make_parts() {
    local stamp=$venv/stamp-parts wanted
    wanted=$(wanted_parts_stamp)
    [ "$(cat "$stamp" 2>/dev/null)" != "$wanted" ] || return 0
    "$venv/bin/python" - <<'END'
import pathlib, runpy
runpy.run_path("packaging/build_parts.py")["build_parts"](pathlib.Path.cwd())
runpy.run_path("packaging/compile_modules.py")["compile_modules"](pathlib.Path.cwd())
END
    printf '%s\n' "$wanted" >"$stamp"
}

prepare() {
    local set=$1 python version wanted stamp
    shift
    python=$(find_python) || {
        debian_root || stop "Skirtwright needs Python 3.11 or newer; none was found."
        install_debian python3 python3-venv
        python=$(find_python) ||
            stop "Skirtwright needs Python 3.11 or newer; this Debian has an older one."
    }
    version=$(version_of "$python")
    stamp=$venv/stamp-$set
    wanted=$(wanted_stamp "$set" "$version")
    if [ "$(cat "$stamp" 2>/dev/null)" != "$wanted" ]; then
        say "Setting up .venv (a few minutes, once) ..."
        system_packages "$@"
        sound_venv "$version" || make_venv "$python"
        rm -f "$stamp" "$venv/stamp-parts"
        install_set "$set"
        make_parts
        printf '%s\n' "$wanted" >"$stamp"
    else
        make_parts
    fi
}

# Qt's libraries: what its import needs, and what a window on X11 needs.
qt_libraries=(libgl1 libegl1 libxkbcommon0 libfontconfig1 libglib2.0-0 libdbus-1-3)
window_libraries=(
    "${qt_libraries[@]}" libxkbcommon-x11-0 libxcb-cursor0 libxcb-icccm4
    libxcb-keysyms1 libxcb-shape0
)
