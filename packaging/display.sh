# shellcheck shell=bash disable=SC2034,SC2154 # shares names with the scripts that source it
# A display of its own for the smoke test and the start-up measurement. The
# caller sets $work, a folder of its own, before it calls anything here.

display_size=1280x800

# start_display [ARGUMENT...] starts Xvfb on a free display number and sets
# $xvfb_pid, $DISPLAY and ${apart[@]}, the words to put before a command that
# is to run on that display with a home of its own, a fixed locale and no
# session bus: the desktop of whoever runs this neither changes the outcome
# nor is changed.
start_display() {
  local fifo=$work/display-number number=""
  mkfifo "$fifo"
  Xvfb -displayfd 3 -screen 0 "${display_size}x24" -nolisten tcp -noreset "$@" \
    3>"$fifo" >"$work/xvfb.log" 2>&1 &
  xvfb_pid=$!
  read -r -t 30 number <"$fifo" || true
  rm "$fifo"
  [[ -n $number ]] || die "Xvfb did not start: $(tail -n 5 "$work/xvfb.log")"
  export DISPLAY=:$number
  mkdir -p "$work/home/.cache" "$work/home/.config" "$work/runtime"
  chmod 700 "$work/runtime"
  apart=(env -i PATH="$PATH" HOME="$work/home" TMPDIR="${TMPDIR:-/tmp}" XDG_RUNTIME_DIR="$work/runtime"
    DISPLAY="$DISPLAY" LIBGL_ALWAYS_SOFTWARE=1 FYNE_SCALE=1 LANG=C.UTF-8 LC_ALL=C.UTF-8
    DBUS_SESSION_BUS_ADDRESS=disabled:)
}

# stop PID ends one process that this shell started, and waits for it.
stop() {
  kill "$1" 2>/dev/null || return 0
  wait "$1" 2>/dev/null || true
}
