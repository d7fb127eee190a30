#!/usr/bin/env bash
# The program as a person meets it: a real window, real keys, and then a look at the disk.
#
#   tests/e2e/window.sh PROGRAM OUT_FOLDER
#
# Works in a folder of its own with its own virtual display, and leaves screenshots in OUT_FOLDER.
set -euo pipefail
cd "$(dirname "$0")/../.."

program=$(realpath "$1")
mkdir -p "$2"
out=$(realpath "$2")
here=$(mktemp -d)
yard=$here/yard
display_pid=
program_pid=

main() {
  trap clean_up EXIT
  # The person's own settings have no say here, and the pictures do not depend on a graphics card.
  export HOME=$here/home LIBGL_ALWAYS_SOFTWARE=1 LC_ALL=C.UTF-8
  unset XDG_DATA_HOME XDG_CONFIG_HOME XDG_STATE_HOME XDG_CACHE_HOME XDG_RUNTIME_DIR
  unset DISPLAY WAYLAND_DISPLAY WAYLAND_SOCKET
  mkdir -p "$HOME"
  cp -r sample-sessions "$yard"

  without_a_display_it_says_so_and_decides
  start_display
  open_window
  idle_costs_nothing
  a_typed_reading_is_on_disk
  the_other_screens_open
  a_killed_program_loses_nothing
  echo "window: all good, screenshots in $out"
}

without_a_display_it_says_so_and_decides() {
  timeout 30 "$program" "$yard" >"$here/stdout" 2>"$here/stderr" ||
    fail "with no display it ended with code $?: $(cat "$here/stderr")"
  grep -qiE 'leave|shim|rotate|replace|stop' "$here/stdout" ||
    fail "with no display it printed no decision"
  grep -qi 'display' "$here/stderr" || fail "with no display it did not say why on stderr"
}

start_display() {
  Xvfb -displayfd 3 -noreset -screen 0 1600x1000x24 -nolisten tcp 3>"$here/display" 2>"$here/xvfb.log" &
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
  picture yard
}

# A text cursor blinks, so this looks at a screen without one.
idle_costs_nothing() {
  sleep 2
  local before after
  before=$(ticks)
  sleep 5
  after=$(ticks)
  ((after - before <= 5)) || fail "idle for 5 s it used $((after - before)) ticks of CPU time"
}

a_typed_reading_is_on_disk() {
  xdotool key ctrl+2
  sleep 1
  picture measure-before
  # The jaw is in its position, locked and blocked. Then what goes, and what does not.
  xdotool key Return
  sleep 0.5
  xdotool type --delay 60 "0.55"
  xdotool key Return
  xdotool type --delay 60 "0.60"
  xdotool key Return
  if ! wait_quietly 10 draft_holds_the_reading; then
    picture measure-failed
    find "$yard" -newer "$here/display" -type f -exec tail -v -n +1 {} + >&2
    fail "the reading that was typed is not on disk"
  fi
  sleep 1
  picture measure
}

the_other_screens_open() {
  for screen in 3:decide 4:trend 1:yard-after; do
    xdotool key "ctrl+${screen%%:*}"
    sleep 1
    is_alive || fail "it ended when ${screen#*:} was opened"
    picture "${screen#*:}"
  done
}

draft_holds_the_reading() {
  find "$yard" -type f -path '*/drafts/*.ron' -newer "$here/display" -print0 |
    xargs -0 -r grep -lzP '\bgo_mm:\s*0\.550*\b[^)]*?\bno_go_mm:\s*(Some\()?0\.60*\b' | grep -q .
}

a_killed_program_loses_nothing() {
  kill -KILL "$program_pid"
  wait "$program_pid" 2>/dev/null || true
  "$program" check "$yard" >"$here/stdout" 2>&1 || fail "after a crash: $(cat "$here/stdout")"
  draft_holds_the_reading || fail "the reading did not survive a crash"
  open_window
  xdotool key ctrl+2
  sleep 1
  picture measure-again
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

picture() { import -window root "$out/window-$1.png"; }

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

main
