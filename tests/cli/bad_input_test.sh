#!/usr/bin/env bash
# Everything that can be wrong with what a person brings: each is told with its place and a way out,
# all of it in one go, and nothing is half done. The season file is the same to the byte afterwards.
# Usage: bad_input_test.sh <folder of the built programs>
set -euo pipefail
bin=$(cd "$1" && pwd)
work=$(mktemp -d)
disk=$work/disk
trap 'umount "$disk" 2>/dev/null || true; rm -rf "$work"' EXIT
cd "$work"
beetwright=$bin/beetwright

fail() { echo "FAILED: $*" >&2; exit 1; }

"$bin/beetwright_demo_season" good >/dev/null
"$beetwright" import --season season.beet good >/dev/null
was=$(sha256sum <season.beet)
listed() { find . -maxdepth 1 ! -name bad ! -name out ! -name err | sort; }
folder=$(listed)

# bad <name>: a folder like the good one, to be spoilt.
bad() {
    case_name=$1
    rm -rf bad
    cp -r good bad
}
# told <how many problems> <words...>: the import of bad/ is refused with so many problems, one for
# each of the words, and changes nothing.
told() {
    local count=$1 ended=0 words
    shift
    "$beetwright" import --season season.beet bad >out 2>err || ended=$?
    [[ $ended == 1 ]] || { cat out err; fail "$case_name: the import ended with $ended"; }
    for words in "$@"; do
        grep -qF -- "$words" err || { cat err; fail "$case_name: it was not said: $words"; }
    done
    [[ $(grep -c ': ' err) == "$count" ]] || { cat err; fail "$case_name: not $count problems"; }
    [[ $count == 1 ]] || grep -qF "$count problems; nothing was changed." err || fail "$case_name: the sum"
    [[ ! -s out ]] || fail "$case_name: something was reported as done"
    unchanged
    rm -rf bad
}
unchanged() {
    [[ $(sha256sum <season.beet) == "$was" ]] || fail "$case_name: the season file changed"
    [[ $(listed) == "$folder" ]] || { ls .; fail "$case_name: something was left behind"; }
}

bad 'cut off in a row'
head -c 3000 good/beets.csv >bad/beets.csv
told 1 'bad/beets.csv:24: 11 cells where the header has 14. the file ends here; was it cut off in copying?'

bad 'cut off in quotes'
printf 'field,at,pol [%%]\n"Upper Sallow,2031-10-04,17\n' >bad/labs.csv
told 1 'bad/labs.csv:2: a quotation mark opened here is never closed'

bad 'JSON cut off'
head -c 60 good/season.json >bad/season.json
head -c 200 good/terms.json >bad/terms.json
told 2 'bad/season.json:3: this is not JSON' 'bad/terms.json:9: this is not JSON. look for a missing'

bad 'wrong unit'
sed -i '1s/\[ha\]/[t]/' bad/fields.csv
sed -i '1s/gross \[kg\]/gross [cm]/; 1s/soil \[kg\]/soil/' bad/tares.csv
told 3 "bad/fields.csv:1, area: 't' is not a unit that belongs here. write the unit in brackets, one of: m2" \
    "bad/tares.csv:1, gross: 'cm' is not a unit that belongs here" \
    'bad/tares.csv:1, soil: the header does not say the unit'

bad 'wrong delimiter'
tr , '|' <good/labs.csv >bad/labs.csv
printf 'field,at,gross [kg],soil [kg]\nUpper Sallow,2031-10-04,20,5,1\n' >bad/tares.csv
told 2 "bad/labs.csv:1: the cells are parted by '|'. save it with commas, semicolons or tabs" \
    'bad/tares.csv:2: 5 cells where the header has 4'

bad 'wrong encoding'
iconv -f utf-8 -t utf-16 good/labs.csv >bad/labs.csv
head -c 4000 /dev/zero >bad/tares.csv
printf 'field,at,area [m2],whole_roots [kg]\nUpper Sallow,2031-10-04,10,1\nR\x81ben,2031-10-04,10,1\n' \
    >bad/strips.csv
printf 'field,at,gross [t],ticket\nUpper Sallow,2031-10-04,20,\xc3\xbc\nUpper Sallow,2031-10-04,20,\xfc\n' \
    >bad/loads.csv
told 4 'bad/labs.csv: the file is in UTF-16, which is not read. save it as CSV in UTF-8' \
    'bad/tares.csv: the file holds zero bytes' \
    'bad/strips.csv:3: the file is neither UTF-8 nor Windows-1252 text' \
    'bad/loads.csv:3: a letter on this line is not UTF-8, as others are'

bad 'duplicate ids and names'
id=017f22e2-79b0-7cc3-98c4-dc0c0c07398
printf 'id,field,at,gross [kg],soil [kg]\n%s,Upper Sallow,2031-10-04,20,1\n' ${id}1 >bad/tares.csv
printf 'id,field,at,pol [%%]\n%s,Upper Sallow,2031-10-04,17\n' ${id}1 ${id}2 ${id}2 |
    sed '1!{/^id,/d}' >bad/labs.csv
printf 'field,at,area [m2],whole_roots [kg]\nUpper Sallow,2031-10-04,10,1\nUpper Sallow,2031-10-04,10.0,1\n' \
    >bad/strips.csv
sed -n 2p good/fields.csv >>bad/fields.csv
told 4 'bad/labs.csv:2, id: the id of tares.csv, line 2 stands here again. give each its own' \
    'bad/labs.csv:4, id: the id of line 3 stands here again' \
    'bad/strips.csv:3, id: this row says the same as line 2' \
    'stands on line 2 already. give each a name of its own'

bad 'impossible values'
printf 'field,at,pol [%%]\nUpper Sallow,2031-10-04,180\nUpper Sallow,2031-13-04,17\nUpper Sallow,2031-10-04,\n' >bad/labs.csv
printf 'sheet,field,at,spot,beets,too_deep,tip_whole,rot\n%s\n%s\n%s\n' \
    'x,Upper Sallow,2031-10-04,1,10,12,0,0' 'x,Upper Sallow,2031-10-04,2,10,1,0,11' \
    'x,Upper Sallow,2031-10-04,3,10.5,1,0,0' >bad/spots.csv
printf 'field,at,gross [kg],soil [kg]\nUpper Sallow,2031-10-04,20,25\nUpper Sallow,2031-10-04,-20,1\n' >bad/tares.csv
told 8 'bad/labs.csv:2, pol: 180 % is not possible here. it must be from 5 to 30 %' \
    "bad/labs.csv:3, at: '2031-13-04' is not a day. write it as 2031-10-04" \
    'bad/labs.csv:4, pol: this is empty. fill it in: sugar in clean beet' \
    'bad/spots.csv:2, too_deep: 12 counted where 10 beets were judged' \
    'bad/spots.csv:3, rot: 11 counted where 10 beets were judged' \
    'bad/spots.csv:4, beets: 10.5 is not a whole number' \
    'bad/tares.csv:2, soil: soil and tops weigh as much as the whole sample' \
    'bad/tares.csv:3, gross: -20 kg is not possible here'

bad 'a folder half copied: files missing'
rm bad/season.json bad/fields.csv
told 2 'bad/season.json: this file is missing. was the whole folder copied?' \
    'bad/fields.csv: this file is missing. was the whole folder copied?'

bad 'a folder half copied: files empty, rows missing'
: >bad/loads.csv
head -n 20 good/fields.csv >bad/fields.csv
head -n 2 good/machines.csv >bad/machines.csv
"$beetwright" import --season season.beet bad >out 2>err && fail "$case_name: was taken"
grep -qF 'bad/loads.csv: the file is empty. its first line names the columns' err || fail "$case_name: empty"
grep -q '^bad/labs.csv:[0-9]*, field: "Tollgate" is not in fields.csv' err || fail "$case_name: field"
grep -q '^bad/beets.csv:[0-9]*, machine: ".*" is not in machines.csv' err || fail "$case_name: machine"
unchanged

case_name='rows edited after their import'
bad "$case_name"
sed -i '2s/,1[0-9.]*,/,29.9,/' bad/labs.csv
sed -i '3s/^\(\([^,]*,\)\{6\}\)[^,]*/\131.25/' bad/loads.csv
told 2 'bad/labs.csv:2, pol: this laboratory sample was imported before as ' \
    'bad/loads.csv:3, gross: this load was imported before as '

bad 'terms in another currency'
sed -i 's/EUR/USD/g' bad/terms.json
told 1 'bad/terms.json, currency: the terms pay in USD, and season.json says EUR. write the same currency in both'

# season_is_refused <code> <words>: importing into other.beet and reading it are refused so, and it stays as it was.
season_is_refused() {
    local before ended
    before=$(sha256sum <other.beet)
    for verb in 'import --season other.beet good' 'ledger --season other.beet'; do
        ended=0
        # shellcheck disable=SC2086
        "$beetwright" $verb >out 2>err || ended=$?
        [[ $ended == "$1" ]] || { cat err; fail "$case_name: $verb ended with $ended"; }
        grep -qF -- "$2" err || { cat err; fail "$case_name: $verb did not say: $2"; }
    done
    [[ $(sha256sum <other.beet) == "$before" ]] || fail "$case_name: the season file changed"
    rm -f other.beet*
}
case_name='a season file of a newer version'
cp season.beet other.beet
printf '\x00\x00\x00\x63' | dd of=other.beet bs=1 seek=60 conv=notrunc 2>/dev/null # SQLite's user_version
newest=$(od -An -tu1 -j63 -N1 season.beet | tr -d ' ')
season_is_refused 1 "other.beet: this season file is of version 99; this program knows versions up to $newest. use a newer beetwright"
case_name='a season file cut off'
head -c 20000 season.beet >other.beet
season_is_refused 3 'other.beet: this season file is damaged. take a copy from before'
case_name='a season file that is none'
seq 1000 >other.beet
season_is_refused 1 'other.beet: this is not a season file'

# The disk: of a size that no import fits in. As root a small disk of its own, which gives the errors of a full one;
# and a limit on the size of files, which anybody may set.
full() {
    local limit=$1 folder=$2 import_words=$3 ended
    cp season.beet "$folder/season.beet"
    for command in "import --season $folder/new.beet more" "import --season $folder/season.beet more" \
        "export --season season.beet $folder/back" "report --season season.beet --out $folder/report.html"; do
        ended=0
        # shellcheck disable=SC2086
        (trap '' XFSZ; [[ -z $limit ]] || ulimit -f "$limit"; exec "$beetwright" $command) >out 2>err || ended=$?
        [[ $ended == 3 ]] || { cat out err; fail "$case_name: $command ended with $ended"; }
        grep -qF 'room' err || { cat err; fail "$case_name: $command did not speak of room"; }
        [[ $command != import* ]] || grep -qF "$import_words" err || { cat err; fail "$case_name: $command"; }
    done
    [[ $(sha256sum <"$folder/season.beet") == "$was" ]] ||
        [[ $("$beetwright" ledger --season "$folder/season.beet" --json | sha256sum) == "$ledger" ]] ||
        fail "$case_name: the season file changed"
    [[ ! -e $folder/new.beet && ! -e $folder/report.html ]] || fail "$case_name: half a file was left"
    [[ -z $(ls -A "$folder/back" 2>/dev/null) ]] || fail "$case_name: half a folder was left"
}
cp -r good more
for copy in 1 2 3; do
    # Other sheets of the same beets, which correct none.
    sed "1d; s/^./$copy/; s/^\([^,]*\),[^,]*,/\1,,/" good/beets.csv >>more/beets.csv
done
ledger=$("$beetwright" ledger --season season.beet --json | sha256sum)
case_name='a limit on files'
mkdir limited
full $(($(stat -c %s good/beets.csv) / 1024)) limited 'the disk could not be read or written; nothing was changed'
rm -rf limited
case_name='a full disk'
mkdir "$disk"
if mount -t tmpfs -o size=$(($(stat -c %s season.beet) + 40000)) none "$disk" 2>/dev/null; then
    full '' "$disk" 'the disk is full; nothing was changed. make room and try again'
    echo 'a full disk was tried'
else
    echo 'no disk of its own could be made here; the limit on files stands for it'
fi
echo 'bad input is told, and changes nothing'
