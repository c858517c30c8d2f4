# shellcheck shell=sh disable=SC2034
# What Debian 12 needs for Tapetum. This file is read by data/start.sh and
# tests/run.sh; it does nothing by itself.

# To configure, build and install.
packages_build='
  appstream
  build-essential
  desktop-file-utils
  gettext
  libadwaita-1-dev
  libcairo2-dev
  libgdk-pixbuf-2.0-dev
  libgexiv2-dev
  libglib2.0-dev
  libgtk-4-bin
  libgtk-4-dev
  libjpeg62-turbo-dev
  libjson-glib-dev
  libpango1.0-dev
  libshumate-dev
  libsqlite3-dev
  libssl-dev
  libxml2-dev
  libxml2-utils
  meson
  ninja-build
  pkg-config
  python3
  shared-mime-info
'

# To run: letters, symbols, pictures, the zones of the world.
packages_run='
  adwaita-icon-theme
  dconf-gsettings-backend
  fonts-dejavu-core
  hicolor-icon-theme
  librsvg2-common
  tzdata
'

# To test: a screen of its own, a hand on the window, and other programs that
# read what Tapetum writes.
packages_test='
  at-spi2-core
  dbus
  gdal-bin
  gir1.2-atspi-2.0
  libimage-exiftool-perl
  openbox
  poppler-utils
  python3-gdal
  python3-gi
  sqlite3
  xauth
  xdotool
  xvfb
'

# Those of the named packages that are not installed, one a line.
packages_missing ()
{
  for package in "$@"
  do
    # shellcheck disable=SC2016 # a format of dpkg-query, not of the shell
    case "$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null)" in
      installed) ;;
      *) printf '%s\n' "$package" ;;
    esac
  done
}

# Runs a command as root.
packages_as_root ()
{
  if [ "$(id -u)" -eq 0 ]
  then
    env DEBIAN_FRONTEND=noninteractive "$@"
  else
    sudo env DEBIAN_FRONTEND=noninteractive "$@"
  fi
}

# Installs what is missing of the named packages, and nothing else. Without
# anything missing it needs neither root nor a network.
packages_install ()
{
  if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null
  then
    echo 'This is not Debian: install what data/packages.sh lists in the way of your system.' >&2
    return 0
  fi

  # shellcheck disable=SC2046 # one word a package
  set -- $(packages_missing "$@")
  [ $# -gt 0 ] || return 0

  if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null
  then
    echo 'These packages are missing and only root can install them:' >&2
    echo "  apt-get install --no-install-recommends $*" >&2
    echo 'Run that as root, then start this again.' >&2
    return 1
  fi

  echo "Installing $# Debian packages: $*" >&2
  packages_as_root apt-get update -qq &&
    packages_as_root apt-get install -y -qq --no-install-recommends "$@" >&2
}
