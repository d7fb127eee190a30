#!/usr/bin/env bash
# The job sheets of the sample yard as other programs read and print them.
#
#   sheet.sh PROGRAM FOLDER     leaves the sheets and their pages as pictures in FOLDER
#
# The words must come out of the PDF as they stand in `decide --json`, those of the plan as `plan`
# prints them, the typefaces must be embedded as subsets, and every page must print with ink on it and an empty margin.
set -euo pipefail
program=$1 out=$2
yard=$(dirname "$0")/../../sample-sessions
mkdir -p "$out"

# Line breaks and no-break spaces do not matter, and neither do heads and feet between pages.
bare() { tr -d ' \n\f' | sed 's/\xc2\xa0//g'; }

for shear in heron wren dunlin; do
  for paper in a4 letter; do
    sheet=$out/$shear-$paper.pdf
    "$program" sheet "$yard" --shear "$shear" --out "$sheet" --paper "$paper" >/dev/null
    "$program" sheet "$yard" --shear "$shear" --out "$sheet.again" --paper "$paper" >/dev/null
    cmp "$sheet" "$sheet.again"
    rm "$sheet.again"
    pdffonts "$sheet" | awk 'NR > 2 && ($(NF-4) != "yes" || $(NF-3) != "yes" || $(NF-2) != "yes") { print; bad = 1 } END { exit bad }'

    text=$(pdftotext -raw "$sheet" - | bare)
    "$program" decide "$yard" --shear "$shear" --json |
      python3 -c '
import json, sys
for line in json.load(sys.stdin)["shears"][0]["lines"]:
    bolts = line["bolts"] or {"text": "", "source": "", "notes": []}
    said = [line["headline"], line["when"], bolts["text"], bolts["source"]]
    said += bolts["notes"] + line["notes"] + [mark["text"] for mark in line["marks"]]
    said += [cause["text"] for cause in line["causes"][:1] if cause["next"]]
    for reason in line["reasons"]:
        said += [reason["text"], reason["source"]]
    print("\n".join(filter(None, said)))' |
      while IFS= read -r words; do
        wanted=$(printf '%s' "$words" | bare)
        [[ $text == *"$wanted"* ]] || { echo "$sheet does not say: $words" >&2; exit 1; }
      done
    # Without the heads, which stand in a column of their own on paper.
    heads='Now|Order|Next planned shutdown, [^:]*|[A-Z] [^:]*'
    plan=$("$program" plan "$yard" --shear "$shear" | sed -E "1d; /^$/d; s/^ +//; s/^($heads): //; s/\\.$//")
    [[ $(wc -l <<<"$plan") -ge 10 ]]
    while IFS= read -r words; do
      wanted=$(bare <<<"$words")
      [[ $text == *"$wanted"* ]] || { echo "$sheet does not say of the plan: $words" >&2; exit 1; }
    done <<<"$plan"

    pdftoppm -r 60 -png "$sheet" "$out/$shear-$paper"
    for page in "$out/$shear-$paper"-*.png; do
      ink=$(convert "$page" -colorspace Gray -format '%[fx:100*(1-mean)]' info:)
      awk -v ink="$ink" 'BEGIN { exit !(0.5 < ink && ink < 40) }' ||
        { echo "$page: $ink % ink" >&2; exit 1; }
      margin=$(convert "$page" -gravity West -crop 25x0+0+0 +repage -format '%[fx:minima]' info:)
      awk -v least="$margin" 'BEGIN { exit !(0.99 < least) }' ||
        { echo "$page: ink in the margin" >&2; exit 1; }
    done
  done
done
echo "sheets of three machines on two papers"
