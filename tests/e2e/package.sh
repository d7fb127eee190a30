#!/usr/bin/env bash
# The package as a person gets it: installed, in the menu, in the manual, and opened.
#
#   tests/e2e/package.sh FILE.deb OUT_FOLDER
#
# Installs it as root and takes it off again; otherwise unpacks it into a folder of its own.
set -euo pipefail
cd "$(dirname "$0")/../.."

package=$(realpath "$1")
out=$(realpath "$2")
size=1280x800
source tests/e2e/stage.sh

main() {
  trap take_off EXIT
  a_home_of_its_own
  put_on
  program=$root/usr/bin/gapwright
  "$program" --version | grep -qx "gapwright [0-9.]*" || fail "it does not know its version"
  everything_is_in_its_place
  start_display
  open_window
  picture package
  echo "package: $(dpkg-deb --field "$package" Package Version Installed-Size | tr '\n' ' ')"
}

put_on() {
  root=
  if ((EUID == 0)); then
    dpkg --install "$package" >"$here/dpkg" 2>&1 || fail "it does not install: $(cat "$here/dpkg")"
  else
    root=$here/root
    dpkg-deb --extract "$package" "$root"
  fi
}

everything_is_in_its_place() {
  local share=$root/usr/share file
  for file in applications/gapwright.desktop icons/hicolor/scalable/apps/gapwright.svg \
    bash-completion/completions/gapwright doc/gapwright/copyright; do
    [[ -s $share/$file ]] || fail "the package has no $file"
  done
  bash -n "$share/bash-completion/completions/gapwright" || fail "bash cannot read its completions"
  # Every command of the help has its page.
  local command
  for command in $("$program" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    [[ $command == help || -s $(echo "$share/man/man1/gapwright-$command.1"*) ]] ||
      fail "no manual page for $command"
  done
}

take_off() {
  local code=$?
  set +e
  if ((EUID == 0)) && dpkg --status gapwright >/dev/null 2>&1; then
    dpkg --purge gapwright >/dev/null 2>&1
  fi
  (exit "$code")
  clean_up
}

main
