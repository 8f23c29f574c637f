#!/usr/bin/env bash
# The whole job on an invented office: installs what is missing, builds, prints a sheet of labels, looks at
# it as a camera would, runs and releases the load, and checks packages of every kind.
#
#   bash samples/demo.sh [FOLDER]      FOLDER: where the office and pictures go (default: build/demo)
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
cd "$here"
out=${1:-build/demo}
build=$(realpath -m "${LOADLIGHT_BUILD_DIR:-build}")

say() { printf '\n== %s\n' "$*"; }

say "What is missing is installed, then Loadlight is built"
bash tests/install-packages.sh build
launcher=()
command -v ccache >/dev/null && launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
[ -f "$build/CMakeCache.txt" ] || cmake -S . -B "$build" -G Ninja -DLOADLIGHT_TESTS=OFF "${launcher[@]}" >/dev/null
cmake --build "$build" --target loadlight camera_view shelf_film

rm -rf "$out"
mkdir -p "$out"
out=$(cd "$out" && pwd)
export LOADLIGHT_OFFICE=$out/office LOADLIGHT_OPERATOR=JT
loadlight=$build/bin/loadlight

# Runs a check and says how it ended; a demo goes on whatever the verdict.
check() { local status=0; "$loadlight" check "$@" || status=$?; echo "   (exit status $status)"; }

say "An invented office with six weeks of history"
"$loadlight" init --demo --zone UTC --json >"$out/cases.jsonl"
echo "$(wc -l <"$out/cases.jsonl") cases of interest, in $out/cases.jsonl"

say "A load is opened; twelve labels for it are printed on a partly used sheet"
load=$("$loadlight" load open --sterilizer S1 --program dynamic-132-wrapped --json |
  sed -E 's/.*"load":"([^"]*)".*/\1/')
"$loadlight" label --contents EXAM --count 12 --load "$load" --kind P --stock SHEET --template a4-24 \
  --first-cell 4 --packed --out "$out/sheet.pdf" --json >"$out/labels.jsonl"
packages=$(sed -E 's/.*"package":"([^"]*)".*/\1/' "$out/labels.jsonl")
echo "load $load: $(wc -l <"$out/labels.jsonl") labels in $out/sheet.pdf"

say "The sheet as a camera sees it, and the symbols read from it"
pdftoppm -r 200 -png -singlefile "$out/sheet.pdf" "$out/sheet"
"$build/bin/camera_view" "$out/sheet.png" "$out/sheet-as-seen.jpg"
"$loadlight" read "$out/sheet-as-seen.jpg" --json >"$out/read.jsonl"
echo "$(wc -l <"$out/read.jsonl") symbols read in $out/sheet-as-seen.jpg"

say "Before the load has run, no package may be opened"
check --id "$(head -n 1 <<<"$packages")"

say "The load: filled, run, its evidence recorded, released"
# shellcheck disable=SC2086
"$loadlight" load add "$load" $packages
"$loadlight" load start "$load"
"$loadlight" load finish "$load"
"$loadlight" load release "$load" || echo "   (exit status $?: nothing is released without evidence)"
"$loadlight" load readings "$load" --low 132.4 --high 133.8 --minutes 4.5 --pressure 292 --drying 22
"$loadlight" load indicator "$load" --place external --type 1 --lot CI-0417 \
  --expires "$(date -d '+1 year' +%F)" --result pass
"$loadlight" load release "$load"

say "The same picture again, now that the load is released"
check --image "$out/sheet-as-seen.jpg" --json | sed -E 's/"contents".*//' | cut -c1-72

say "Evidence, line by line: a load that was released, and one whose program failed"
load_of() { sed -nE "s/.*\"case\":\"$1\".*\"load\":\"([^\"]*)\".*/\1/p" "$out/cases.jsonl"; }
released=$(load_of clear) failed=$(load_of failed) quarantined=$(load_of quarantined)
"$loadlight" load show "$released" | head -n 12
"$loadlight" load show "$failed" | head -n 12
"$loadlight" load plot "$failed" --svg "$out/failed-cycle.svg"
"$loadlight" load report "$failed" --out "$out/failed-load.pdf" >/dev/null
"$loadlight" load report "$released" --out "$out/released-load.pdf" >/dev/null

say "An implant load waits for its biological result"
"$loadlight" load show "$quarantined" | head -n 3

say "A spore test that grew four weeks ago, carried through to a closed recall"
"$loadlight" incident show 1
"$loadlight" recall --incident 1 --pdf "$out/recall.pdf" --csv "$out/recall.csv" | tail -n 4

say "What is due"
"$loadlight" due

say "The other packages: clear, held, expired, recalled, forged, opened"
while read -r line; do
  name=$(sed -E 's/.*"case":"([^"]*)".*/\1/' <<<"$line")
  payload=$(sed -E 's/.*"payload":"([^"]*)".*/\1/' <<<"$line")
  printf '\n-- %s\n' "$name"
  check --text "$payload"
done <"$out/cases.jsonl"

say "Two drawers are filled: twelve packages put away, five that should not be there, one behind another"
case_of() { sed -nE "s/.*\"case\":\"$1\",\"package\":\"([^\"]*)\".*/\1/p" "$out/cases.jsonl"; }
loaded_of() { "$loadlight" load show "$1" --json | grep -oE '"package":"[^"]*","state":"loaded"' | cut -d'"' -f4; }
mapfile -t first < <(loaded_of S1-58 | head -n 8)
mapfile -t second < <(loaded_of S1-56 | head -n 4)
strays=("$(case_of expired)" "$(case_of hold)" "$(case_of recalled)" "$(case_of failed)" "$(case_of quarantined)")
"$loadlight" shelve "${first[@]}" --location OP1 >/dev/null
"$loadlight" shelve "${second[@]}" --location OP2 >/dev/null
mkdir -p "$out/labels"
for package in "${first[@]}" "${second[@]}" "${strays[@]}"; do
  "$loadlight" label reprint "$package" --out "$out/labels/$package.pdf" >/dev/null 2>&1
  pdftoppm -r 300 -png -singlefile "$out/labels/$package.pdf" "$out/labels/$package"
done
for place in OP1 OP2; do  # the first tag of its sheet, cut out
  "$loadlight" label shelf-tag --location "$place" --out "$out/labels/$place.pdf" >/dev/null 2>&1
  pdftoppm -r 300 -png -singlefile -x 118 -y 159 -W 1122 -H 531 "$out/labels/$place.pdf" "$out/labels/$place"
done
"$loadlight" withdraw "${second[3]}" --why dropped  # and it is still there

say "The drawers are filmed: a label taped over, one torn, one hidden, one in the wrong drawer"
picture() { printf '%s\n' "$out/labels/$1.png"; }
"$build/bin/shelf_film" "$out/shelf.mp4" \
  --shelf "$(picture OP1)" "$(picture "${first[0]}")" "$(picture "${first[1]}")" "$(picture "${strays[0]}")" \
  "$(picture "${first[2]}")" --taped "$(picture "${first[3]}")" "$(picture "${strays[1]}")" \
  --hidden "$(picture "${first[4]}")" "$(picture "${second[0]}")" "$(picture "${first[5]}")" \
  --shelf "$(picture OP2)" "$(picture "${second[1]}")" "$(picture "${strays[2]}")" "$(picture "${second[2]}")" \
  --torn "$(picture "${first[6]}")" "$(picture "${strays[3]}")" "$(picture "${second[3]}")" \
  "$(picture "${strays[4]}")"

say "The shelf audit: what to pull, what was not seen, what could not be read"
"$loadlight" audit --video "$out/shelf.mp4" --location OP1 --report "$out/audit.pdf" --page "$out/audit.html" \
  --table "$out/audit.csv" || echo "   (exit status $?)"

say "The record"
"$loadlight" ledger verify
"$loadlight" ledger export >"$out/ledger.jsonl"
echo "$(wc -l <"$out/ledger.jsonl") events, exported to $out/ledger.jsonl"

say "Where to look"
printf '%s\n' "the printed sheet     $out/sheet.pdf (as a picture: $out/sheet.png)" \
  "as a camera sees it   $out/sheet-as-seen.jpg" \
  "load records          $out/released-load.pdf, $out/failed-load.pdf" \
  "a failed cycle        $out/failed-cycle.svg" \
  "the recall            $out/recall.pdf, $out/recall.csv" \
  "the shelf audit       $out/audit.pdf, $out/audit.html, $out/audit.csv (the film: $out/shelf.mp4)" \
  "the office            $LOADLIGHT_OFFICE" \
  "the program           $loadlight --help" \
  "the station           $loadlight --office $LOADLIGHT_OFFICE serve"
