#!/usr/bin/env bash
# The verb zones on made-up ground: knolls and a hollow of known size are found from a receiver's log, a flat field
# is one zone, and the zones go out in each form and come back.
# Usage: zones_test.sh <folder of the built programs>
set -euo pipefail
bin=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
fail() { echo "FAILED: $*" >&2; cat out err >&2; exit 1; }
says() { grep -qE -- "$1" out || fail "it does not say: $1"; }
refuses() { grep -qE -- "$1" err || fail "it does not refuse with: $1"; }

"$bin/beetwright_demo_season" season >/dev/null
zones() { "$bin/beetwright" zones 'Hollow Oak' --season season "$@" >out 2>err; }

# 480 x 360 m driven up and down in passes of 2.7 m: a knoll within 55 m of one place, a hollow within 80 m of another,
# where half of their height is. Degrees by the radii of the ellipsoid at 48.2 degrees north.
drive() {  # height of the knoll and of the hollow
    awk -v knoll="$1" -v hollow="$2" 'BEGIN {
        pi = atan2(0, -1); lat = 48.2; a = 6378137; e2 = 0.00669437999014
        s = sin(lat * pi / 180); w = sqrt(1 - e2 * s * s)
        north_m = a * (1 - e2) / (w * w * w) * pi / 180; east_m = a / w * cos(lat * pi / 180) * pi / 180
        print "at,latitude [°],longitude [°],height [m],quality"
        t = 0
        for (pass = 0; pass < 133; ++pass) {
            y = -180 + 2.7 * (pass + 0.5)
            for (i = 0; i <= 240; ++i) {
                x = pass % 2 ? 240 - 2 * i : -240 + 2 * i
                z = 140 + 0.01 * x + knoll / (1 + (sqrt((x + 120) ^ 2 + (y - 40) ^ 2) / 55) ^ 6)
                z += hollow / (1 + (sqrt((x - 110) ^ 2 + (y + 30) ^ 2) / 80) ^ 6)
                printf "2031-09-%02dT%02d:%02d:%02dZ,%.8f,%.8f,%.3f,fixed\n", 20 + int(t / 86400), int(t / 3600) % 24, \
                    int(t / 60) % 60, t % 60, lat + y / north_m, 16.3 + x / east_m, z
                ++t
            }
            t += 10
        }
    }'
}
drive 1.6 -1.4 >log.csv
drive 0 0 >flat.csv

zones --log log.csv --json || fail 'zones'
# pi 55^2 and pi 80^2 m2, each within a tenth.
areas=$(tr -d ' ' <out | awk -F: '/"lie":/ { lie = $2 } /"area_ha":/ { print lie $2 }' | tr -d '",')
awk '/knoll/ { sub("knoll", ""); knoll = $0 } /hollow/ { sub("hollow", ""); hollow = $0 }
    END { exit !(knoll > 0.9 * 0.9503 && knoll < 1.1 * 0.9503 && hollow > 0.9 * 2.0106 && hollow < 1.1 * 2.0106) }' \
    <<<"$areas" || fail "areas: $areas"

zones --log flat.csv || fail 'a flat field'
says '^one setting for all: nothing stands out from the ground around it by more than 0\.3 m'
says '^  zone 1: the field at large'
if grep -q 'zone 2' out; then fail 'a flat field has one zone'; fi

# Out in each form; back as a border.
for form in geojson html kml gpx zip; do
    zones --log log.csv --out "zones.$form" || fail "$form"
    [[ -s zones.$form ]] || fail "zones.$form is not there"
done
grep -q '<path class="zone" [^>]*data-zone="2"' zones.html || fail 'no zone is drawn on the page'
zones --log log.csv --boundary zones.zip || fail 'task data as a border'
says '^Harvester .* in Hollow Oak: 17\.[0-9] ha of ground'
zones --log log.csv --units us || fail 'US customary'
says ' acre of ground, '

# What cannot be read leaves nothing behind.
head -c 5000 zones.zip >cut.zip
zones --log cut.zip --out none.zip && fail 'half an archive was read'
refuses '^cut\.zip'
zones --log zones.geojson && fail 'borders are no heights'
refuses 'this is a file of borders, without heights'
printf 'at,latitude [°],longitude [°],height [m]\n2031-09-20T07:00:00Z,116.3,48.2,140\n' >north.csv
zones --log north.csv && fail 'a latitude of 116 degrees'
refuses '^north\.csv:2, latitude'
zones --log log.csv --out zones.xls && fail 'a form that is none'
refuses "'\.xls' is no form that zones are written in"
zones --log log.csv --width 99 && fail 'a width that is none'
refuses '^--width'
zones --log none.csv && fail 'no such log'
[[ ! -e none.zip ]] || fail 'half a file was left'

# A season file keeps the ground; from then on no log is named.
keep() { "$bin/beetwright" ground "$@" >out 2>err; }
"$bin/beetwright" import --season my.beet season >/dev/null || fail 'import'
kept() { "$bin/beetwright" zones 'Hollow Oak' --season my.beet "$@" >out 2>err; }
if kept; then fail 'zones of ground that nobody knows'; fi
refuses 'nothing is known of the heights of "Hollow Oak"'
keep 'Hollow Oak' --season my.beet --heights log.csv || fail 'heights that are kept'
kept --keep || fail 'zones that are kept'
says '^  zone 1: the field at large, 15\.'
zones --log log.csv || fail 'zones by a log'
cp out by_log
kept || fail 'zones without a log'
cmp -s out by_log || fail 'what is kept says something else than the log'
if keep 'Holow Oak' --season my.beet --heights log.csv; then fail 'a field that is not there'; fi
refuses 'Hollow Oak'
if keep 'Hollow Oak' --season my.beet; then fail 'nothing to do'; fi
if "$bin/beetwright" zones 'Hollow Oak' --season season >out 2>err; then fail 'a folder keeps no heights'; fi
refuses 'a folder of tables keeps no heights'
keep 'Hollow Oak' --season my.beet --forget heights || fail '--forget'
if keep 'Hollow Oak' --season my.beet --forget heights; then fail 'it is gone already'; fi
refuses 'nothing is kept of the heights'
