#!/bin/sh
# Installs what is missing, builds Tapetum, makes the demo project and opens
# its window. Without a screen it prints what is due and writes two figures.
#
#   sh data/start.sh [FOLDER]
#
# FOLDER   where the demo goes (default: "Tapetum demo" among your documents);
#          a demo that is there already is opened and never overwritten
set -eu

demo_file=kelabau.gpkg

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
build=${TAPETUM_BUILD:-$root/build/start}
# shellcheck source=data/packages.sh
. "$root/data/packages.sh"

say ()
{
  printf '%s\n' "$*" >&2
}

# Runs a command quietly; what it said is shown only when it fails.
run_quietly ()
{
  if ! "$@" >"$build.log" 2>&1
  then
    cat "$build.log" >&2
    say "This failed: $*"
    exit 1
  fi
}

# Into a folder of the build's own: nothing of the system is touched.
build_program ()
{
  mkdir -p "$(dirname "$build")"
  if [ ! -f "$build/build.ninja" ]
  then
    say 'Building Tapetum (a few minutes the first time)...'
    run_quietly meson setup "$build" "$root" --prefix="$build/install"
  fi
  run_quietly meson install -C "$build"
  rm -f "$build.log"
}

demo_folder ()
{
  documents=
  if command -v xdg-user-dir >/dev/null
  then
    documents=$(xdg-user-dir DOCUMENTS)
  fi
  [ -d "$documents" ] || documents=$HOME
  printf '%s/Tapetum demo' "${documents%/}"
}

make_demo ()
{
  if [ -f "$demo/$demo_file" ]
  then
    say "The demo is in $demo already."
  elif [ -d "$demo" ] && [ -n "$(ls -A "$demo")" ]
  then
    say "$demo holds other things and is left as it is; name another folder: sh data/start.sh FOLDER"
    exit 1
  else
    say "Making the demo in $demo"
    "$tapetum" demo "$demo"
  fi
}

# Whether somebody listens behind WAYLAND_DISPLAY or DISPLAY.
has_screen ()
{
  python3 - <<'PYTHON'
import os
import re
import socket
import sys


def answers(family, address):
    with socket.socket(family, socket.SOCK_STREAM) as connection:
        connection.settimeout(3)
        try:
            connection.connect(address)
        except OSError:
            return False
        return True


def wayland():
    name = os.environ.get('WAYLAND_DISPLAY')
    path = name and os.path.join(os.environ.get('XDG_RUNTIME_DIR', ''), name)
    return bool(path) and answers(socket.AF_UNIX, path)


def x11():
    match = re.fullmatch(r'(?:unix)?([^:]*):(\d+)(?:\.\d+)?', os.environ.get('DISPLAY', ''))
    if match is None:
        return False
    host, number = match.groups()
    if host:
        return answers(socket.AF_INET, (host, 6000 + int(number)))
    path = '/tmp/.X11-unix/X' + number
    return answers(socket.AF_UNIX, path) or answers(socket.AF_UNIX, '\0' + path)


sys.exit(0 if wayland() or x11() else 1)
PYTHON
}

open_window ()
{
  # Without a message bus the settings are kept in a plain file.
  if [ -z "${DBUS_SESSION_BUS_ADDRESS:-}" ] && [ ! -S "${XDG_RUNTIME_DIR:-}/bus" ]
  then
    export GSETTINGS_BACKEND="${GSETTINGS_BACKEND:-keyfile}"
  fi
  say "Opening $demo/$demo_file"
  "$tapetum" "$demo/$demo_file"
}

show_in_terminal ()
{
  say 'There is no screen to open the window on. What is due:'
  "$tapetum" due "$demo/$demo_file"
  for kind in strip map
  do
    "$tapetum" figure "$demo/$demo_file" "$kind" -o "$demo/$kind.png"
    say "Figure written: $demo/$kind.png"
  done
  say "More of what it does without a screen: $tapetum help"
}

case "${1:-}" in
  -*)
    sed -n '2,/^set/s/^# \{0,1\}//p' "$0" >&2
    exit 2
    ;;
esac
if [ -z "${1:-}" ] && [ -z "${HOME:-}" ]
then
  say 'HOME is not set; name a folder for the demo: sh data/start.sh FOLDER'
  exit 2
fi

# shellcheck disable=SC2086 # lists of words
packages_install $packages_build $packages_run
build_program

tapetum=$build/install/bin/tapetum
export XDG_DATA_DIRS="$build/install/share:${XDG_DATA_DIRS:-/usr/local/share:/usr/share}"
demo=${1:-$(demo_folder)}
make_demo

if has_screen
then
  open_window
else
  show_in_terminal
fi
