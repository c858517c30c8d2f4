#!/bin/sh
# Installs what is missing, builds, runs every test on a screen and a message
# bus of its own, and ends with a line "N passed, N failed".
#
#   sh tests/run.sh [--sanitize] [TEST...]
#
# --sanitize   build with the address and undefined-behaviour sanitizers
# TEST...      only these, by the names of `meson test --list`
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
# shellcheck source=data/packages.sh
. "$root/data/packages.sh"

sanitize=no
case "${1:-}" in
  --sanitize)
    sanitize=yes
    shift
    ;;
  -*)
    sed -n '2,/^set/s/^# \{0,1\}//p' "$0" >&2
    exit 2
    ;;
esac

werror=false
[ -z "${CI:-}" ] || werror=true

if [ "$sanitize" = yes ]
then
  build=$root/build/sanitize
  options='-Db_sanitize=address,undefined -Db_lundef=false'
  patience=4
else
  build=$root/build/tests
  options=
  patience=1
fi

# shellcheck disable=SC2086 # lists of words
packages_install $packages_build $packages_run $packages_test

# shellcheck disable=SC2086
if [ -f "$build/build.ninja" ]
then
  meson configure "$build" -Dwerror=$werror $options
else
  meson setup "$build" "$root" --prefix="$build/install" -Dwerror=$werror $options
fi
meson compile -C "$build"

# Nothing of the person who runs the tests is read or written.
private=$(mktemp -d)
trap 'rm -rf "$private"' EXIT
trap 'exit 130' INT TERM
mkdir -m 700 "$private/home" "$private/run" "$private/tmp"
log=$build/meson-logs/testlog.json
rm -f "$log"

unset WAYLAND_DISPLAY DBUS_SESSION_BUS_ADDRESS
status=0
env HOME="$private/home" TMPDIR="$private/tmp" XDG_RUNTIME_DIR="$private/run" \
  XDG_CACHE_HOME="$private/home/.cache" XDG_CONFIG_HOME="$private/home/.config" \
  XDG_DATA_HOME="$private/home/.local/share" XDG_STATE_HOME="$private/home/.local/state" \
  LC_ALL=C.UTF-8 TZ=UTC GDK_BACKEND=x11 GSK_RENDERER=cairo GDK_DEBUG=gl-disable \
  GSETTINGS_BACKEND=memory GIO_USE_VFS=local TEST_PATIENCE="$patience" \
  ASAN_OPTIONS=detect_leaks=1:fast_unwind_on_malloc=0 UBSAN_OPTIONS=print_stacktrace=1:halt_on_error=1 \
  LSAN_OPTIONS="suppressions=$root/tests/sanitize/lsan.supp:print_suppressions=0" \
  xvfb-run -a -s '-screen 0 1920x1080x24 -nolisten tcp' dbus-run-session -- \
  meson test -C "$build" --no-rebuild --print-errorlogs --timeout-multiplier "$patience" "$@" || status=$?

if [ ! -s "$log" ]
then
  echo 'No test ran.' >&2
  echo '0 passed, 0 failed'
  exit 1
fi
python3 "$root/tests/tally.py" "$log" || exit 1
exit "$status"
