#!/usr/bin/env bash
# The program as people call it, on the demo season: what it prints, what it refuses, how it ends.
# Usage: cli_test.sh <folder of the built programs>
set -euo pipefail
bin=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
beetwright=$bin/beetwright
season=$work/season.beet

fail() { echo "FAILED: $*" >&2; exit 1; }

# says <words> <command...>: the command succeeds and prints the words.
says() {
    local words=$1
    shift
    "$@" >"$work/out" 2>"$work/err" || { cat "$work/err"; fail "$* ended with $?"; }
    grep -qF -- "$words" "$work/out" || { cat "$work/out"; fail "$* did not say: $words"; }
}

# refuses <code> <words> <command...>: the command ends with this code and says why on standard error.
refuses() {
    local code=$1 words=$2 ended=0
    shift 2
    "$@" >"$work/out" 2>"$work/err" || ended=$?
    [[ $ended == "$code" ]] || { cat "$work/out" "$work/err"; fail "$* ended with $ended, not $code"; }
    cat "$work/out" "$work/err" | grep -qF -- "$words" || { cat "$work/err"; fail "$* did not say: $words"; }
}

says '24 fields written' "$bin/beetwright_demo_season" "$work/folder"
says 'sheets of counted beets' "$beetwright" import --season "$season" "$work/folder"
says '0 new' "$beetwright" import --season "$season" "$work/folder"

# The ledger: of a folder as of the file; every line; the closure; for programs.
says 'tails broken and left' "$beetwright" ledger --season "$season"
says 'left over' "$beetwright" ledger --season "$work/folder"
says '"line": "tails"' "$beetwright" ledger --season "$season" --json
says 'Harvester' "$beetwright" ledger --season "$season" --by machine
says 'short ton/acre' "$beetwright" ledger --season "$season" --units us

# A tail's worth by the day of slicing.
tail_cost() {
    "$beetwright" ledger --season "$season" --field 'Upper Sallow' --slice-in "$1" --json >"$work/json"
    awk '/"line": "tails"/ { tails = 1 }
         tails && /cost_at_slicing/ { cost = 1 }
         cost && /"value"/ { gsub(/[^0-9.]/, ""); print; exit }' "$work/json"
}
soon=$(tail_cost 2d)
late=$(tail_cost 120d)
awk -v a="$soon" -v b="$late" 'BEGIN { exit !(b > 1.3 * a) }' ||
    fail "a tail costs $soon in 2 days and $late in 120"
echo "a broken tail costs $soon per ha sliced in 2 days, $late in 120"

# The coming days, and a field that still stands.
says 'day              open h' "$beetwright" sky --season "$season"
says 'Thu 2031-12-04' "$beetwright" sky --season "$season" --field 'Cuckoo Pen' --units us
says '"useful_chance"' "$beetwright" sky --season "$season" --days 3d --json
says 'dark 1' "$beetwright" sky --season "$season" --no-nights
refuses 1 'ask for 1 to 60 days' "$beetwright" sky --season "$season" --days 99d
says 'Waiting 7 days' "$beetwright" field 'Cuckoo Pen' --season "$season" --wait 7d
says 'chance that it loses sugar' "$beetwright" field 'Cuckoo Pen' --season "$season" --wait 2w --units us
says '"chance_of_loss"' "$beetwright" field 'Cuckoo Pen' --season "$season" --json
says 'Waiting 14 days' "$beetwright" field 'Upper Sallow' --season "$season" --at 2031-10-05 --wait 2w
refuses 1 'was lifted on 2031-10-26' "$beetwright" field 'Upper Sallow' --season "$season"
refuses 1 'did you mean "Cuckoo Pen"' "$beetwright" field 'Cuckoo Pem' --season "$season"
refuses 1 '--wait: ' "$beetwright" field 'Cuckoo Pen' --season "$season" --wait soon

# Checks.
says 'no evidence of change' "$beetwright" check --now 3/20 --before 1/20
says 'more than now' "$beetwright" check --now 3/20 --before 1/20
says '"change": "none shown"' "$beetwright" check --now 3/20 --before 1/20 --json
says 'Published targets' "$beetwright" check --season "$season" --field 'Upper Sallow'
refuses 1 'no more rejects than beets' "$beetwright" check --now 21/20 --before 1/20

says 'EUR' "$beetwright" settle --season "$season"
says '"total_cents"' "$beetwright" settle --season "$season" --json
says 'EUR' "$beetwright" settle --season "$season" --grower 'Owlbarn Farm'
says 'tip.loss_at_5cm' "$beetwright" constants tip
says '"how_known": "derived"' "$beetwright" constants tip --json
says '| `area` *' "$beetwright" schema fields.csv
says '"$schema"' "$beetwright" schema --json
says 'Wrote' "$beetwright" report --season "$season" --out "$work/report.html"
grep -q 'falling-band' "$work/report.html" || fail 'the report has no band'

# What went in comes out: the same tables, in either system of units, import as known already.
says 'Wrote' "$beetwright" export --season "$season" "$work/back"
for file in "$work"/folder/*; do
    cmp "$file" "$work/back/$(basename "$file")" || fail "$(basename "$file") came back different"
done

# A copy is a season file of its own, and overwrites nothing.
says 'Copied the season' "$beetwright" backup --season "$season" --to "$work/copy.beet"
[[ $("$beetwright" ledger --season "$work/copy.beet" --json | cksum) == \
    $("$beetwright" ledger --season "$season" --json | cksum) ]] || fail 'the copy says something else'
refuses 1 'is there already' "$beetwright" backup --season "$season" --to "$work/copy.beet"

# The server: says where it is, answers, and stops when it is told to.
serve() {  # option...: $port is where it listens
    rm -f "$work/where"
    "$beetwright" serve --season "$season" --port 0 "$@" >"$work/where" 2>"$work/log" &
    server=$!
    for _ in {1..200}; do
        [[ -s $work/where ]] && break
        sleep 0.05
    done
    port=$(sed -n 's#^http://127.0.0.1:\([0-9]*\)/$#\1#p' "$work/where")
    [[ -n $port ]] || { cat "$work/log"; fail "serve $* did not say where it is"; }
}
stop() {
    kill -TERM $server
    wait $server || fail "the server ended with $?"
}
ask() {  # method path [header...] <body: the answer, with its header
    local method=$1 path=$2 body
    shift 2
    body=$(cat)
    exec 3<>"/dev/tcp/127.0.0.1/$port"
    {
        printf '%s %s HTTP/1.1\r\nHost: 127.0.0.1:%s\r\nConnection: close\r\n' "$method" "$path" "$port"
        printf '%s\r\n' "X-Beetwright: 1" "Content-Length: ${#body}" "$@"
        printf '\r\n%s' "$body"
    } >&3
    cat <&3
    exec 3>&-
}
answers() {  # words method path [header...]: the answer holds the words
    local words=$1
    shift
    ask "$@" >"$work/answer"
    grep -qF -- "$words" "$work/answer" || { cat "$work/answer"; fail "$* did not answer: $words"; }
}
serve
token=$(sed -n 's#^Nobody owns this season yet.*http://127.0.0.1:[0-9]*/\#/join/\([A-Za-z0-9_-]*\)$#\1#p' "$work/where")
[[ ${#token} == 43 ]] || fail 'the server did not say where its owner joins'
answers 'well' GET /healthz </dev/null
answers '401 Unauthorized' GET /api/v1/ledger </dev/null
answers '"role": "owner"' GET "/api/v1/invitations/$token" </dev/null
answers '"name": "Anna"' POST "/api/v1/invitations/$token" <<<'{"name": "Anna", "password": "beets in rows"}'
cookie=$(sed -n 's/^Set-Cookie: \([^;]*\);.*/\1/p' "$work/answer")
answers '"line": "tails"' GET /api/v1/ledger "Cookie: $cookie" </dev/null
answers '404 Not Found' POST "/api/v1/invitations/$token" <<<'{"name": "Bert", "password": "beets in rows"}'
stop
grep -q '"target": "/healthz", "status": 200' "$work/log" || fail 'the answer is not in the log'
! grep -q "$token" "$work/log" || fail 'a token is in the log'
serve --behind-tls
! grep -q 'join' "$work/where" || fail 'an owned season is given away'
answers '"name": "Anna"' GET /api/v1/me "Cookie: $cookie" </dev/null
answers '; Secure' POST /api/v1/session <<<'{"name": "anna", "password": "beets in rows"}'
stop
# Whoever runs the machine lets an owner in, and a start of the server takes nothing back.
"$beetwright" invite --season "$season" >"$work/invited" || fail 'nobody can be invited'
token=$(sed -n '1s#^/\#/join/\([A-Za-z0-9_-]*\)$#\1#p' "$work/invited")
[[ ${#token} == 43 ]] || fail 'there is no link in what invite prints'
serve
answers '"name": "Anna again"' POST "/api/v1/invitations/$token" <<<'{"name": "Anna again", "password": "beets in rows"}'
cookie=$(sed -n 's/^Set-Cookie: \([^;]*\);.*/\1/p' "$work/answer")
answers '"what": "invited on the command line"' GET /api/v1/audit "Cookie: $cookie" </dev/null
# A long question, followed to its end.
answers '202 Accepted' POST /api/v1/jobs "Cookie: $cookie" <<<'{"question": "ledger", "parameters": {"draws": 2000}}'
job=$(sed -n 's#^Location: \(.*\)\r$#\1#p' "$work/answer")
answers 'event: done' GET "$job/events" "Cookie: $cookie" </dev/null
answers '"line": "tails"' GET "$job/result" "Cookie: $cookie" </dev/null
# One that takes long does not hold the stop up.
answers '202 Accepted' POST /api/v1/jobs "Cookie: $cookie" <<<'{"question": "ledger", "parameters": {"draws": 200000}}'
SECONDS=0
stop
((SECONDS < 5)) || fail "the server took $SECONDS s to stop"
refuses 2 'not in' "$beetwright" invite --season "$season" --as king
serve --open
answers '"line": "tails"' GET /api/v1/ledger </dev/null
stop
serve --address 0.0.0.0
stop
grep -q 'docs/guide/serving.md' "$work/log" || fail 'no warning of a network without TLS'
refuses 1 'on this machine alone' "$beetwright" serve --season "$season" --open --address 0.0.0.0
refuses 1 'is not an address' "$beetwright" serve --season "$season" --address nowhere
# An empty season is begun where that is asked for, and by no misspelt name.
began=$season
season=$work/new.beet
refuses 1 'add --new to begin' "$beetwright" serve --season "$season"
[[ ! -e $season ]] || fail 'a misspelt name made a file'
serve --new --open
answers '"currency\": \"XXX\"' GET /api/v1/season </dev/null
answers '"counts": []' GET /api/v1/next </dev/null
answers '"fields": []' GET /api/v1/ledger </dev/null
stop
refuses 1 'is there already' "$beetwright" serve --season "$season" --new
says 'sheets of counted beets' "$beetwright" import --season "$season" "$work/folder"
season=$began

# Refusals.
refuses 2 'required' "$beetwright"
refuses 2 '' "$beetwright" ledger --season "$season" --units imperial
refuses 1 'no such season' "$beetwright" ledger --season "$work/none"
refuses 1 'no field of this season' "$beetwright" ledger --season "$season" --field Nowhere
refuses 1 'did you mean "Upper Sallow"?' "$beetwright" settle --season "$season" --field 'Uper sallow'
refuses 1 'did you mean "Owlbarn Farm"?' "$beetwright" settle --season "$season" --grower 'Owl barn Farm'
refuses 1 'not a number of days' "$beetwright" ledger --season "$season" --slice-in soon
refuses 1 '100 to 1,000,000' "$beetwright" ledger --season "$season" --draws 5
refuses 3 'could not be written' "$beetwright" report --season "$season" --out "$work/no/such/folder.html"
echo 'not a database, but long enough to be looked at as one' >"$work/other"
refuses 1 'not a season file' "$beetwright" ledger --season "$work/other"

# A bad table changes nothing, and every mistake is told with its place.
before=$("$beetwright" ledger --season "$season" --json | cksum)
cp -r "$work/folder" "$work/bad"
printf 'field,at,pol [%%]\nNowhere,2031-10-04,17\nUpper Sallow,2031-10-04,180\n' >"$work/bad/labs.csv"
refuses 1 'labs.csv:3, pol: 180 % is not possible' "$beetwright" import --season "$season" "$work/bad"
grep -qF 'labs.csv:2, field: "Nowhere" is not in fields.csv' "$work/err" || fail 'the second mistake was not told'
[[ $("$beetwright" ledger --season "$season" --json | cksum) == "$before" ]] ||
    fail 'a refused import changed the season'
echo 'the program does what it says'
