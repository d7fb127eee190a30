#!/usr/bin/env bash
# Makes the README's pictures anew: the real window on the sample yard.
#
#   cargo build --release && tests/e2e/screenshots.sh target/release/gapwright
#
# Look at each before you commit it.
set -euo pipefail
cd "$(dirname "$0")/../.."

program=$(realpath "$1")
out=assets/screenshots
size=1440x900
source tests/e2e/stage.sh

main() {
  trap clean_up EXIT
  mkdir -p "$out"
  a_home_of_its_own
  start_display
  open_window
  xdotool windowsize "$window" "${size%x*}" "${size#*x}"
  sleep 2
  shot yard

  # A tap on the second machine, Heron, goes straight to its drawing.
  xdotool mousemove 270 330 click 1
  sleep 1
  position
  reading 0.30 0.35 && reading 0.35 0.40
  position
  reading 0.45 0.50 && reading 0.50 0.55 && reading 0.55 0.60 && reading 0.60 0.65
  position
  reading 1.10 1.15 && reading 1.10 1.15 && reading 1.15 1.20 && reading 1.20 1.25
  position
  reading 0.80 0.85 && reading 0.85 0.90
  reading 1.85 1.90 && reading 1.95 2.00
  reading 0.35 0.40 && reading 0.10 0.15
  stack 0.20
  xdotool type 0.25
  sleep 1
  shot measure

  xdotool key ctrl+3
  sleep 1
  shot decide
  xdotool key ctrl+4
  sleep 1
  shot trend
  xdotool key ctrl+5
  sleep 2
  shot heat
}

position() { sleep 0.5 && xdotool key Return && sleep 0.5; }
reading() { stack "$1" && stack "$2"; }
stack() { xdotool type --delay 40 "$1" && xdotool key Return && sleep 0.2; }

# Flat colours take no harm from a palette, and the file is a third as large.
shot() {
  picture "$1"
  mogrify -strip -colors 256 -define png:compression-level=9 "$out/$1.png"
}

main
