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
size=1600x1000
source tests/e2e/stage.sh

main() {
  trap clean_up EXIT
  a_home_of_its_own
  without_a_display_it_says_so_and_decides
  start_display
  open_window
  picture window-yard
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

# Nought per cent over half a minute: at most 10 of its 3 000 ticks, for the looks at the disk.
idle_costs_nothing() {
  sleep 3
  local before used
  before=$(ticks)
  sleep 30
  used=$(($(ticks) - before))
  echo "idle for 30 s: $used ticks of CPU time; $(grep VmRSS "/proc/$program_pid/status" | tr -s '\t ' ' ')"
  ((used <= 10)) || fail "idle for 30 s it used $used ticks of CPU time"
}

a_typed_reading_is_on_disk() {
  xdotool key ctrl+2
  sleep 1
  picture window-measure-before
  # The jaw is in its position, locked and blocked. Then what goes, and what does not.
  xdotool key Return
  sleep 0.5
  xdotool type --delay 60 "0.55"
  xdotool key Return
  xdotool type --delay 60 "0.60"
  xdotool key Return
  if ! wait_quietly 10 draft_holds_the_reading; then
    picture window-measure-failed
    find "$yard" -newer "$here/display" -type f -exec tail -v -n +1 {} + >&2
    fail "the reading that was typed is not on disk"
  fi
  sleep 1
  picture window-measure
}

the_other_screens_open() {
  for screen in 3:decide 4:trend 1:yard-after; do
    xdotool key "ctrl+${screen%%:*}"
    sleep 1
    is_alive || fail "it ended when ${screen#*:} was opened"
    picture "window-${screen#*:}"
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
  picture window-measure-again
}

main
