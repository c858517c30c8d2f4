#!/bin/sh
# Checks data/start.sh as somebody without a screen meets it.
#
#   data/check-start.sh ROOT BUILD
#
# BUILD must be configured with a prefix inside itself.
set -eu

root=$1
TAPETUM_BUILD=$2
export TAPETUM_BUILD
unset DISPLAY WAYLAND_DISPLAY
# The screen of another test must not be found either.
XDG_RUNTIME_DIR=/nonexistent
export XDG_RUNTIME_DIR

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
HOME=$place/home
export HOME
mkdir "$HOME"
demo="$HOME/Tapetum demo"
project=$demo/kelabau.gpkg

fail ()
{
  echo "$*" >&2
  cat "$place/out" "$place/err" >&2
  exit 1
}

start ()
{
  (cd "$place" && sh "$root/data/start.sh" "$@") >"$place/out" 2>"$place/err"
}

is_png ()
{
  [ "$(head -c 8 "$1" | od -An -tx1 | tr -d ' ')" = 89504e470d0a1a0a ]
}

start || fail 'The first start failed.'
[ -s "$place/out" ] || fail 'Nothing was said to be due.'
for kind in strip map
do
  is_png "$demo/$kind.png" || fail "No figure $kind.png"
  [ -s "$demo/$kind.csv" ] || fail "No numbers beside $kind.png"
  grep -qF "$demo/$kind.png" "$place/err" || fail "The figure $kind.png is not named."
done

before=$(sha256sum "$project")
start || fail 'The second start failed.'
[ "$before" = "$(sha256sum "$project")" ] || fail 'The second start changed the project.'

mkdir "$place/other"
echo mine >"$place/other/notes"
if start "$place/other"
then
  fail 'A folder with other things was taken.'
fi
[ "$(ls -A "$place/other")" = notes ] || fail 'A folder with other things was changed.'
