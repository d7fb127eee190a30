# A virtual display with the program on it; sourced by the scripts beside it.
#
# Knows how to start, find, look at and end things. Refuses to know what the program should do.
# Who sources it sets `program`, `out` and `size`, and says `trap clean_up EXIT`.

here=$(mktemp -d)
yard=$here/yard
display_pid=
program_pid=

# The person's own settings have no say here, and the pictures do not depend on a graphics card.
a_home_of_its_own() {
  export HOME=$here/home LIBGL_ALWAYS_SOFTWARE=1 LC_ALL=C.UTF-8
  unset XDG_DATA_HOME XDG_CONFIG_HOME XDG_STATE_HOME XDG_CACHE_HOME XDG_RUNTIME_DIR
  unset DISPLAY WAYLAND_DISPLAY WAYLAND_SOCKET
  mkdir -p "$HOME"
  cp -r sample-sessions "$yard"
}

start_display() {
  Xvfb -displayfd 3 -noreset -screen 0 "${size}x24" -nolisten tcp 3>"$here/display" 2>"$here/xvfb.log" &
  display_pid=$!
  wait_for 20 "the virtual display" test -s "$here/display"
  DISPLAY=:$(<"$here/display")
  export DISPLAY
  wait_for 20 "an answer from the virtual display" xdotool getdisplaygeometry
}

open_window() {
  "$program" "$yard" >"$here/stdout" 2>"$here/stderr" &
  program_pid=$!
  wait_for 30 "a window" find_window
  window=$(find_window)
  # No window manager here, so nobody else gives the window the keyboard.
  xdotool windowfocus "$window"
  wait_for 10 "a first picture" is_painted
}

find_window() {
  is_alive || fail "the program ended: $(cat "$here/stderr")"
  xdotool search --onlyvisible --name 'Gapwright' 2>/dev/null | head -n 1 | grep .
}

is_painted() {
  local colours
  colours=$(import -window root -resize 25% png:- | identify -format '%k' -)
  ((8 <= colours))
}

is_alive() { kill -0 "$program_pid" 2>/dev/null; }

# User and system time of all threads, in hundredths of a second.
ticks() { awk '{ sub(/.*\) /, ""); print $12 + $13 }' "/proc/$program_pid/stat"; }

picture() { import -window root "$out/$1.png"; }

wait_quietly() { # <seconds> <command…>
  local end=$((SECONDS + $1))
  shift
  until "$@"; do
    ((SECONDS < end)) || return 1
    sleep 0.1
  done
}

wait_for() { # <seconds> <what> <command…>
  local seconds=$1 what=$2
  shift 2
  wait_quietly "$seconds" "$@" >/dev/null || fail "no sign of $what after $seconds s"
}

fail() {
  echo "window: $*" >&2
  if [[ -s $here/stderr ]]; then
    echo "window: the program said:" >&2
    tail -n 20 "$here/stderr" >&2
  fi
  exit 1
}

clean_up() {
  local code=$?
  for pid in $program_pid $display_pid; do
    kill "$pid" 2>/dev/null && wait "$pid" 2>/dev/null || true
  done
  rm -rf "$here"
  exit $code
}
