#!/usr/bin/env bash
# An import killed at many moments, as by the power or a closed lid: afterwards the season file opens and holds
# all of it or nothing of it, and the import can be done again.
# Usage: killed_import_test.sh <folder of the built programs>
set -euo pipefail
bin=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
beetwright=$bin/beetwright
wanted=14      # kills that came in time, before anything was kept
most_tries=200  # a busy machine now and an idle one later put the kills at the wrong moments

fail() { echo "FAILED: $*" >&2; exit 1; }
# What a season file holds, as text.
content() {
    rm -rf exported
    "$beetwright" export --season "$1" exported >/dev/null && cat exported/* | sha256sum
}
now_us() { echo $((${EPOCHREALTIME//[.,]/} + 0)); }

# The season before: without what was counted. The import: ten times the demo's beets, to be long enough.
"$bin/beetwright_demo_season" much >/dev/null
cp -r much little
rm -f little/{beets,loads,strips,tares,labs,standing}.csv
cp much/beets.csv demo_beets.csv
for copy in 1 2 3 4 5 6 7 8 9; do
    sed "1d; s/^./$copy/; s/^\([^,]*\),[^,]*,/\1,,/" demo_beets.csv >>much/beets.csv
done
"$beetwright" import --season before.beet little >/dev/null
nothing=$(content before.beet)

cp before.beet all.beet
start=$(now_us)
"$beetwright" import --season all.beet much >/dev/null
whole_us=$(($(now_us) - start))
everything=$(content all.beet)
[[ $nothing != "$everything" ]] || fail 'the import brings nothing'

# kill_at <after, in microseconds> <season file>: kills the program itself, not a shell around it.
kill_at() {
    "$beetwright" import --season "$2" much >told 2>&1 &
    local pid=$!
    sleep "$(printf '%d.%06d' $(($1 / 1000000)) $(($1 % 1000000)))"
    kill -KILL $pid 2>/dev/null || true
    local ended=0
    wait $pid 2>/dev/null || ended=$?
    was_killed=$((ended == 137))
}

held_nothing=0
held_all=0
killed=0
for ((i = 0; held_nothing < wanted && i < most_tries; i++)); do
    rm -f season.beet*
    cp before.beet season.beet
    # Every other one late, where what was read is being written and committed.
    part=$((i * 7 % 40 + 1))
    if ((i % 2)); then
        kill_at $((whole_us * part / 40)) season.beet
    else
        kill_at $((whole_us * 3 / 4 + whole_us * part / 120)) season.beet
    fi
    killed=$((killed + was_killed))
    # It was over sooner than thought: the machine is less busy now.
    ((was_killed)) || whole_us=$((whole_us * 19 / 20))
    held=$(content season.beet) || fail "after kill $i the season file does not open"
    case $held in
        "$nothing") held_nothing=$((held_nothing + 1)) ;;
        "$everything") held_all=$((held_all + 1)) ;;
        *) fail "after kill $i the season file holds half an import" ;;
    esac
    if [[ $was_killed == 0 && $held != "$everything" ]]; then
        fail "import $i was reported as done and is not there"
    fi
done
"$beetwright" import --season season.beet much >/dev/null || fail 'after the last kill the import cannot be done again'
[[ $(content season.beet) == "$everything" ]] || fail 'done again, the import is not whole'
[[ $held_nothing -ge $wanted ]] ||
    fail "of $i imports only $killed were killed, $held_nothing in time: nothing is proven"

tries=$i

# Where no season file was before: none, one that holds no season yet, or all of it.
for ((i = 0; i < 10; i++)); do
    rm -f new.beet*
    kill_at $((whole_us * (i + 1) / 10)) new.beet
    if [[ -e new.beet ]] && held=$(content new.beet 2>why); then
        [[ $held == "$everything" ]] || fail "after kill $i the new season file holds half an import"
    elif [[ -e new.beet ]]; then
        grep -qE 'holds no season yet|this file is empty|older version' why || { cat why; fail "after kill $i"; }
    fi
    "$beetwright" import --season new.beet much >/dev/null || fail "after kill $i a new import fails"
done
echo "of $tries imports $killed were killed: $held_nothing files held nothing of it, $held_all all of it"
