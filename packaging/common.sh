# shellcheck shell=bash
# What the scripts in this folder share. Sourcing it only sets names; the work
# is done by `prepare`. It runs under bash 3.2 too, so that a Mac gets a
# message and not a syntax error.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
tag=migrated_fynedo # Fyne's single-thread model; see DEVELOPERS.md
# shellcheck disable=SC2034 # for the scripts that source this
sample=$root/assets/samples/olive-stone-pla.json

# Every name was found to be needed on a bare Debian 12 with nothing but Go and
# a C compiler (packaging/check-bare); Ubuntu uses the same names.
debian_build="pkg-config libgl-dev libegl-dev libx11-dev libxcursor-dev libxrandr-dev libxinerama-dev
  libxi-dev libxxf86vm-dev libwayland-dev libxkbcommon-dev"
debian_test="xvfb xdotool imagemagick libgl1-mesa-dri units"
fedora_build="gcc pkgconf-pkg-config libglvnd-devel libX11-devel libXcursor-devel libXrandr-devel
  libXinerama-devel libXi-devel libXxf86vm-devel wayland-devel libxkbcommon-devel"
fedora_test="xorg-x11-server-Xvfb xdotool ImageMagick mesa-dri-drivers units"
suse_build="gcc pkgconf-pkg-config libglvnd-devel libX11-devel libXcursor-devel libXrandr-devel
  libXinerama-devel libXi-devel libXxf86vm-devel wayland-devel libxkbcommon-devel"
suse_test="xorg-x11-server-Xvfb xdotool ImageMagick Mesa-dri units"
arch_build="gcc pkgconf libglvnd libx11 libxcursor libxrandr libxinerama libxi libxxf86vm wayland libxkbcommon"
arch_test="xorg-server-xvfb xdotool imagemagick mesa units"

# The same needs as pkg-config and the shell see them, for systems whose
# package manager this script does not drive.
modules="gl egl x11 xcursor xrandr xinerama xi xxf86vm wayland-client wayland-cursor wayland-egl xkbcommon"
test_commands="Xvfb xdotool import identify units"

say() { printf '%s\n' "$*"; }
die() {
  printf 'error: %s\n' "$*" >&2
  exit 1
}
have() { command -v "$1" >/dev/null 2>&1; }

# join prints its arguments on one line, however they were broken in the lists.
# shellcheck disable=SC2048,SC2086 # splitting is the point
join() { echo $*; }

# find_go makes sure that a Go as new as go.mod asks for is there.
find_go() {
  have go || PATH=$PATH:/usr/local/go/bin
  local need got pattern='([0-9]+)\.([0-9]+)'
  need=$(awk '$1 == "go" { print $2 }' "$root/go.mod")
  have go || die "Go $need or newer is needed, and no go command was found. It is at https://go.dev/dl/"
  # Inside the module an old Go may fetch a newer tool chain by itself; if it
  # may not, it fails there and says its version elsewhere.
  got=$(go -C "$root" env GOVERSION 2>/dev/null || (cd / && go env GOVERSION))
  [[ $need =~ $pattern ]]
  local major=${BASH_REMATCH[1]} minor=${BASH_REMATCH[2]}
  [[ $got =~ $pattern ]] || die "the version of Go could not be read from '$got'"
  if ((BASH_REMATCH[1] < major || (BASH_REMATCH[1] == major && BASH_REMATCH[2] < minor))); then
    die "Go $need or newer is needed; this one is $got. A newer one is at https://go.dev/dl/"
  fi
}

# have_compiler reports whether the C compiler that Go would call is there.
have_compiler() {
  local cc
  cc=$(go env CC)
  have "${cc%% *}"
}

# prepare build|test installs what the purpose needs, or says how and stops.
prepare() {
  find_go
  if have apt-get && have dpkg-query; then
    prepare_debian "$1"
  elif [[ $(uname -s) == Darwin ]]; then
    prepare_mac "$1"
  else
    prepare_other "$1"
  fi
}

debian_missing() {
  local package
  for package in "$@"; do
    grep -qx installed <<<"$(dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null)" || echo "$package"
  done
}

prepare_debian() {
  local wanted=$debian_build missing as_root=""
  [[ $1 == test ]] && wanted+=" $debian_test"
  have_compiler || wanted+=" gcc libc6-dev"
  # shellcheck disable=SC2046,SC2086 # lists of words
  missing=$(join $(debian_missing $wanted))
  [[ -n $missing ]] || return 0
  if [[ $(id -u) != 0 ]]; then
    have sudo || die "these system packages are missing, and there is no sudo to install them. As root:
  apt-get update && apt-get install --no-install-recommends $missing"
    as_root=sudo
  fi
  say "Installing these system packages${as_root:+ with sudo}: $missing"
  $as_root apt-get -o DPkg::Lock::Timeout=300 update ||
    say "The package lists could not all be refreshed; going on with those at hand."
  # shellcheck disable=SC2086 # lists of words
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 \
    install -y --no-install-recommends $missing ||
    die "the system packages could not be installed: $missing"
}

prepare_mac() {
  xcode-select -p >/dev/null 2>&1 || die "a C compiler is missing. Install it with:
  xcode-select --install"
  [[ $1 == build ]] || die "the tests of the real window need Xvfb, which is not made for this system. All others run with:
  go test -race -tags $tag ./..."
}

# other_missing names what is not there, as pkg-config and the shell see it.
other_missing() {
  local name
  have_compiler || echo "a C compiler"
  have pkg-config || echo pkg-config
  for name in $modules; do
    pkg-config --exists "$name" 2>/dev/null || echo "$name"
  done
  [[ $1 == test ]] || return 0
  for name in $test_commands; do
    have "$name" || echo "$name"
  done
}

prepare_other() {
  local missing
  # shellcheck disable=SC2046 # a list of words
  missing=$(join $(other_missing "$1"))
  [[ -n $missing ]] || return 0
  die "some system packages are missing ($missing). Install them with:
  $(install_line "$1")"
}

install_line() {
  local command packages
  if have dnf; then
    command="sudo dnf install" packages=$fedora_build
    [[ $1 == test ]] && packages+=" $fedora_test"
  elif have pacman; then
    command="sudo pacman -S --needed" packages=$arch_build
    [[ $1 == test ]] && packages+=" $arch_test"
  elif have zypper; then
    command="sudo zypper install" packages=$suse_build
    [[ $1 == test ]] && packages+=" $suse_test"
  else
    command="(your package manager)" packages="a C compiler, pkg-config and the headers that it calls: $modules"
    [[ $1 == test ]] && packages+="; the commands $test_commands"
  fi
  join "$command" "$packages"
}

# build OUT PACKAGE TAGS compiles one program of this module. No version
# stamp, since git refuses to tell it in a tree that someone else owns.
build() {
  go -C "$root" build -buildvcs=false -tags "$3" -o "$1" "$2"
}
