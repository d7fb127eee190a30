#!/usr/bin/env bash
# Disks as they fail: full, read-only, gone. The real program on a small disk of its own.
#
#   tests/e2e/disk.sh PROGRAM
#
# Needs the right to mount; who has it not (or has no tmpfs) is told so, and nothing is tried.
set -euo pipefail
cd "$(dirname "$0")/../.."

program=$(realpath "$1")
here=$(mktemp -d)
disk=$here/disk
yard=$disk/yard

main() {
  trap clean_up EXIT
  mkdir "$disk"
  if ! mount -t tmpfs -o size=1m tmpfs "$disk" 2>"$here/mount"; then
    echo "disk: no small disk can be mounted here, so none was filled: $(cat "$here/mount")"
    return
  fi
  "$program" sample "$here/large" --shears 1 --sessions 400 >/dev/null
  "$program" export "$here/large" --csv "$here/tables" >/dev/null
  a_full_disk
  a_disk_that_can_only_be_read
  a_folder_that_is_gone
  echo "disk: full, read-only and gone, and nothing lost"
}

import() {
  "$program" import "$yard" "$here/tables/readings.csv" --work "$here/tables/work.csv" --create
}

a_full_disk() {
  local before
  ! import >"$here/out" 2>"$here/err" || fail "400 visits fit on a disk of one megabyte"
  says "free some space"
  "$program" check "$yard" >"$here/out" || fail "a full disk left something half: $(cat "$here/out")"
  before=$(visits)
  ((0 < before && before < 400)) || fail "$before visits before the disk was full"
  ! import >"$here/out" 2>"$here/err" || fail "a full disk took more"
  (("$(visits)" == before)) || fail "a second try took something away"
  mount -o remount,size=20m "$disk"
  import >"$here/out" 2>"$here/err" || fail "with space it still fails: $(cat "$here/err")"
  "$program" check "$yard" >/dev/null || fail "after the disk was full the yard is not whole"
  "$program" export "$yard" --csv "$here/again" >/dev/null
  cmp "$here/tables/readings.csv" "$here/again/readings.csv" || fail "readings differ"
}

a_disk_that_can_only_be_read() {
  "$program" sample "$here/other" --shears 1 --sessions 2 --seed 2 >/dev/null
  "$program" export "$here/other" --csv "$here/more" >/dev/null
  mount -o remount,ro "$disk"
  "$program" decide "$yard" >/dev/null || fail "a yard on a read-only disk does not open"
  ! "$program" import "$yard" "$here/more/readings.csv" --create >"$here/out" 2>"$here/err" ||
    fail "a read-only disk was written to"
  says "ask for permission to write here, or copy the yard"
  mount -o remount,rw "$disk"
}

a_folder_that_is_gone() {
  mv "$yard" "$disk/elsewhere"
  ! "$program" decide "$yard" >"$here/out" 2>"$here/err" || fail "a folder that is gone opened"
  says "plug the drive back in"
  [[ ! -e $yard ]] || fail "a yard grew where the drive was"
  mv "$disk/elsewhere" "$yard"
  "$program" check "$yard" >/dev/null
}

visits() { find "$yard/shears" -path '*/sessions/*.ron' | wc -l; }

says() { grep -qF "$1" "$here/err" || fail "it did not say “$1”: $(cat "$here/err")"; }

fail() {
  echo "disk: $*" >&2
  exit 1
}

clean_up() {
  local code=$?
  umount "$disk" 2>/dev/null || true
  rm -rf "$here"
  exit $code
}

main
