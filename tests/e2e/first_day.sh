#!/usr/bin/env bash
# The first day with the program: from an empty disk to a signed session and a job sheet of a machine
# of one's own, in a real window, by a real pointer and real keys.
#
#   tests/e2e/first_day.sh PROGRAM OUT_FOLDER
#
# Counts its actions (a click, a typed value, a key that answers), keeps a picture after each of them
# in OUT_FOLDER, and fails above 80. Works in a home of its own on a display of its own.
set -euo pipefail
cd "$(dirname "$0")/../.."

program=$(realpath "$1")
mkdir -p "$2"
out=$(realpath "$2")
size=1280x800
most=80
actions=0
source tests/e2e/stage.sh

main() {
  trap clean_up EXIT
  a_home_of_its_own
  rm -rf "$yard"
  start_display
  yard=
  # Nothing is named, so the first thing on the screen is the sample yard.
  "$program" >"$here/stdout" 2>"$here/stderr" &
  program_pid=$!
  wait_for 30 "a window" find_window
  xdotool windowfocus "$(find_window)"
  xdotool windowsize "$(find_window)" 1280 800
  wait_for 10 "a first picture" is_painted
  sleep 2

  a_yard_of_ones_own
  a_machine_of_ones_own
  a_signed_session
  a_job_sheet
  ((actions <= most)) || fail "it took $actions actions, more than $most"
  echo "first day: $actions actions, $(ls "$out"/first-day-*.png | wc -l) pictures in $out"
}

a_yard_of_ones_own() {
  key "setup, by its shortcut" ctrl+6
  click "the page of what is new" 138 106
  click "the name of the yard" 450 424
  type_in "its name" "Quay yard"
  click "make it" 390 556
  yard=$HOME/quay-yard
  wait_for 10 "the new yard" test -f "$yard/yard.ron"
  sleep 2
}

a_machine_of_ones_own() {
  key "setup of a yard without machines" ctrl+6
  click "a jaw like mine" 572 195
  click "its name" 346 195
  type_in "its name" "Crane"
  click "where it works" 566 195
  type_in "its carrier" "carrier 1, quay"
  click "the page of limits" 150 250
  click "the largest working gap of the primary blades" 628 222
  key "all of it" ctrl+a
  type_in "from the manual" "1.2"
  click "save" 1120 742
  wait_for 10 "the machine on disk" test -f "$yard/shears/crane/shear.ron"
}

# Two stations with two leaves each: what goes, Enter, what does not go, Enter. Then past the rest.
a_signed_session() {
  key "measure" ctrl+2
  key "locked and blocked" Return
  for _ in 1 2; do
    type_in "a leaf that goes" "0.40"
    key "it goes" Return
    type_in "a leaf that does not" "0.45"
    key "it does not" Return
  done
  wait_for 10 "a draft on disk" drafted
  for _ in {1..17}; do
    key "not today" Page_Down
  done
  type_in "what the hour meter shows" "12"
  click "the initials" 1100 512
  type_in "who measured" "AB"
  click "sign off" 1180 745
  wait_for 10 "a signed session" signed
}

a_job_sheet() {
  key "decide" ctrl+3
  sleep 1
  click "the job sheet" 992 738
  wait_for 15 "a job sheet" has_sheet
}

drafted() { compgen -G "$yard/shears/crane/drafts/*.ron"; }
signed() { compgen -G "$yard/shears/crane/sessions/*.ron"; }
has_sheet() { compgen -G "$yard/sheets/*.pdf"; }

click() { # <what> <x> <y>
  xdotool mousemove "$2" "$3" click 1
  counted "$1"
}

type_in() { # <what> <text>
  xdotool type --delay 30 "$2"
  counted "$1"
}

key() { # <what> <keys>
  xdotool key "$2"
  counted "$1"
}

counted() { # <what>
  actions=$((actions + 1))
  sleep 0.7
  is_alive || fail "it ended after: $1"
  picture "$(printf 'first-day-%02d' "$actions")"
}

main
