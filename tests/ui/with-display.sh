#!/bin/sh
# Runs a program with a screen nobody sees and folders of its own:
#   with-display.sh PROGRAM [ARGUMENT...]
# GTK_A11Y, LC_ALL and SCREEN can be set from outside.
set -eu

dir=$(mktemp -d)
server=
clean () {
  if [ -n "$server" ]; then
    kill "$server" 2>/dev/null || true
    wait "$server" 2>/dev/null || true
  fi
  rm -rf "$dir"
}
trap clean EXIT
trap 'exit 143' TERM INT

mkdir -m 700 "$dir/run"
export HOME="$dir" XDG_CACHE_HOME="$dir/cache" XDG_CONFIG_HOME="$dir/config" XDG_DATA_HOME="$dir/data"
export XDG_RUNTIME_DIR="$dir/run" TMPDIR="$dir"
export GDK_BACKEND=x11 GSK_RENDERER=cairo GDK_DEBUG=gl-disable GSETTINGS_BACKEND=memory
export LC_ALL="${LC_ALL:-C.UTF-8}" GTK_A11Y="${GTK_A11Y-test}"
# The toolkit looks for desktop settings and minds when there are no schemas at all.
export GSETTINGS_SCHEMA_DIR="${GSETTINGS_SCHEMA_DIR:+$GSETTINGS_SCHEMA_DIR:}/usr/share/glib-2.0/schemas"
# Xvfb picks a free display itself, so that tests may run side by side.
Xvfb -displayfd 3 -screen 0 "${SCREEN:-1400x900}x24" -nolisten tcp -noreset 3>"$dir/display" 2>"$dir/xvfb.log" &
server=$!
tries=0
while [ ! -s "$dir/display" ]; do
  tries=$((tries + 1))
  if [ "$tries" -gt 100 ]; then
    cat "$dir/xvfb.log" >&2
    exit 1
  fi
  sleep 0.1
done
export DISPLAY=":$(cat "$dir/display")"

"$@"
