#!/usr/bin/env bash
# The pages say what is so: generated parts are as generated, examples are read, documented commands run.
# Usage: docs_test.sh <folder of the built programs>
set -euo pipefail
bin=$(cd "$1" && pwd)
root=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

# docs/formats/season_folder.md ends with what `beetwright schema` writes.
"$bin/beetwright" schema >"$work/schema.md"
lines=$(wc -l <"$work/schema.md")
tail -n "$lines" "$root/docs/formats/season_folder.md" | cmp - "$work/schema.md" ||
    fail 'docs/formats/season_folder.md is not what `beetwright schema` writes now'

# docs/guide/first_season.md: its indented blocks, in order, are season.json, fields.csv, beets.csv, commands.
block() { awk -v wanted="$1" '/^       /{ if (!inside) { n++; inside = 1 } if (n == wanted) print substr($0, 8) }
                              !/^       /{ inside = 0 }' "$root/docs/guide/first_season.md"; }
mkdir "$work/our-folder"
block 1 >"$work/our-folder/season.json"
block 2 >"$work/our-folder/fields.csv"
block 3 >"$work/our-folder/beets.csv"
# docs/formats/terms.md: its example.
awk '/^```json/{ inside = 1; next } /^```/{ inside = 0 } inside' "$root/docs/formats/terms.md" \
    >"$work/our-folder/terms.json"
cd "$work"
mkdir -p build && ln -s "$bin" build/release
ran=0
while IFS= read -r command; do
    bash -c "$command" >out 2>&1 || { cat out; fail "$command"; }
    ran=$((ran + 1))
done < <(block 4)
[[ $ran == 3 && -s our-report.html ]] || fail "of the guide's three commands $ran ran"

# docs/guide/machine.md: its tables, each named by the heading that only it has, are read beside the first season's.
cp -r our-folder machine-folder
awk '/^    /{ print substr($0, 5); next } { print "" }' "$root/docs/guide/machine.md" | awk -v RS= -v folder=machine-folder '
    /^name,rows/ { file = "machines" } /^machine,control,fitted/ { file = "controls" } /^machine,control,shown/ { file = "dials" }
    /^id,at,machine/ { file = "settings" } /^machine,at,stage/ { file = "parts" }
    { print > (folder "/" file ".csv"); tables++ } END { exit tables != 5 }' || fail 'the machine guide has not five tables'
build/release/beetwright import --season machine.beet machine-folder >out 2>&1 || { cat out; fail 'the tables of the machine guide'; }
grep -q 'notes of settings *1 new' out || fail 'the note of the machine guide is not one'

# docs/guide/pile.md: likewise.
cp -r our-folder pile-folder
awk '/^    /{ print substr($0, 5); next } { print "" }' "$root/docs/guide/pile.md" | awk -v RS= -v folder=pile-folder '
    /^beetwright / { next }
    /^name,kind/ { file = "destinations" } /^name,base_width/ { file = "piles" } /^pile,from/ { file = "fans" }
    /^pile,at,from[^\n]*,cover/ { file = "covers" } /^pile,at,probe/ { file = "probes" }
    /^pile,at,from[^\n]*,gross/ { file = "removals" }
    { print > (folder "/" file ".csv"); tables++ } END { exit tables != 6 }' || fail 'the pile guide has not six tables'
build/release/beetwright import --season pile.beet pile-folder >out 2>&1 || { cat out; fail 'the tables of the pile guide'; }
grep -q 'covers put on and off *3 new' out && grep -q 'temperatures of piles *3 new' out && grep -q 'removals from piles *1 new' out ||
    fail 'what the pile guide saw is not what was read'

# README.md: its commands, on the demo season.
"$bin/beetwright_demo_season" my-folder >/dev/null
ran=0
while IFS= read -r command; do
    command=${command/Long Acre/Upper Sallow}
    command=${command/Low Meadow/Cuckoo Pen}
    bash -c "$command" >out 2>&1 || { cat out; fail "$command"; }
    ran=$((ran + 1))
done < <(grep '^    build/release/' "$root/README.md")
[[ $ran -ge 6 ]] || fail "only $ran of README's commands ran"

# docs/guide/demo.md: its commands, which make the season that they ask about.
ran=0
while IFS= read -r command; do
    bash -c "$command" >out 2>&1 || { cat out; fail "$command"; }
    ran=$((ran + 1))
done < <(grep -oE '^ +build/release/.*' "$root/docs/guide/demo.md" | sed 's/^ *//')
[[ $ran -ge 7 ]] || fail "only $ran of the demo guide's commands ran"

# docs/guide/setting_the_machine.md: its commands, on that season.
ran=0
while IFS= read -r command; do
    bash -c "$command" >out 2>&1 || { cat out; fail "$command"; }
    ran=$((ran + 1))
done < <(sed -n 's/^    \(build\/release\/\)/\1/p' "$root/docs/guide/setting_the_machine.md")
[[ $ran == 8 ]] || fail "of the eight commands about settings $ran ran"

# docs/guide/pile.md: its commands, on the demo season, in few members and without readings to learn from.
cp -r my-folder kept-piles && rm kept-piles/probes.csv
ran=0
while IFS= read -r command; do
    command="${command/my_season/kept-piles} --members 2 --detail coarse"
    PATH=$bin:$PATH bash -c "${command/Yard/\"Windmill pile\"}" >out 2>&1 || { cat out; fail "$command"; }
    ran=$((ran + 1))
done < <(sed -n 's/^    \(beetwright pile\)/\1/p' "$root/docs/guide/pile.md")
[[ $ran == 3 ]] || fail "of the three commands about piles $ran ran"

# docs/guide/zones.md: its commands, on the demo's log.
ran=0
while IFS= read -r command; do
    bash -c "$command" >out 2>&1 || { cat out; fail "$command"; }
    ran=$((ran + 1))
done < <(sed -n 's/^    \(build\/release\/\)/\1/p' "$root/docs/guide/zones.md")
[[ $ran == 9 && -s zones.html && -s zones.kml && -s taskdata.zip ]] || fail "of the nine commands about zones $ran ran"

# docs/formats/weather.md: its table is read by its first command.
sed -n '/^    # station/,/^$/{s/^    //;/^$/d;p}' "$root/docs/formats/weather.md" >station.csv
echo '04.10.2031 02:00;8,1;93;0;13;0' >>station.csv
command=$(grep -m 1 '^    beetwright weather ' "$root/docs/formats/weather.md")
PATH=$bin:$PATH bash -c "$command" >out 2>&1 || { cat out; fail "$command"; }
grep -q 'Ottermarsh' out || fail 'the station of docs/formats/weather.md is not named'

# Every page that a page points to is there.
cd "$root"
while IFS=: read -r page target; do
    [[ -e $(dirname "$page")/$target ]] || fail "$page points to $target, which is not there"
done < <(grep -oE '\]\([^)#:]+\)' README.md HACKING.md docs/*/*.md src/README.md | sed 's/:\](/:/; s/)$//')
echo 'the pages say what is so'
