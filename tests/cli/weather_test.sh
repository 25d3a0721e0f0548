#!/usr/bin/env bash
# The verb weather on real hourly normals: NOAA's for Seattle 1981-2010, as npm's vega-datasets has them (U.S.
# Government work). A whole year is judged without a gap and without a NaN, and its months have the means that
# were published with it.
# Usage: weather_test.sh <folder of the built programs>
set -euo pipefail
bin=$(cd "$1" && pwd)
root=$(cd "$(dirname "$0")/../.." && pwd)
normals=$root/node_modules/vega-datasets/data/seattle-weather-hourly-normals.csv
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
fail() { echo "FAILED: $*" >&2; cat out >&2; exit 1; }
weather() { "$bin/beetwright" weather "$@" >out 2>&1; }
says() { grep -qE -- "$1" out || fail "it does not say: $1"; }

# The file says neither where it is from nor its units: everything that is missing is told at once.
weather "$normals" && fail 'a file without units was read'
says 'does not say where this was measured'
says 'temperature: the header does not say the unit. write the unit in brackets, one of: °C, °F'
says ':1, date: this column is not known here'

place=(--latitude 47.45 --longitude -122.31 --elevation 130 --clock=-08:00)
headings='at [yyyy-mm-dd hh:mm -08:00],pressure [hPa],temperature [°C],wind [m/s]'
weather "$normals" "${place[@]}" --headings "$headings" || fail 'the normals were not read'
says '^8758 hours, 2010-01-01 to 2010-12-31, of instants'
says '^no gaps'
# Means of the months as counted from the file apart: 5.39, 7.32 and 4.74 °C.
says '^2010-01 +5\.4 '
says '^2010-11 +7\.3 '
says '^2010-12 +4\.7 '
says '^Assumed: no rain is in this series'
if grep -qi 'nan' out; then fail 'there is a NaN'; fi
# 53 weeks, and no hour is lost among them.
hours=$(awk '/^week of/ { weeks = 1; next } weeks && /^2/ { sum += $4; n++ } END { print n, sum }' out)
[[ $hours == '53 8758' ]] || fail "weeks and hours: $hours"
# Cold November is open; the July that melts a pile is held by warmth alone.
says '^2010-11-15 +168 of 168 '
says '^2010-07-12 +0 of 168 .* 0 +0 +168 +0$'
weather "$normals" "${place[@]}" --headings "$headings" --to-slicer --no-nights --units us || fail 'options'
says '^2010-01 +41\.7 '
says '^2010-07-12 +1[01][0-9] of 168 '

# A soil's own rules need rain: without it nothing is said about the ground, and that is said.
weather "$normals" "${place[@]}" --headings "$headings" --soil 'heavy clay' || fail 'a soil'
says '^Assumed: without rain nothing can be said about the ground'
weather "$normals" "${place[@]}" --headings "$headings" --soil chalk && fail 'chalk is no class'
says "'chalk' is no soil that is known here. write one of: sand, loamy sand, .*, clay"
# 5 mm in each third day's first hour: clay holds more hours for it than sand does.
awk -F, -v OFS=, 'NR == 1 { print $0, "rain"; next } { print $0, int((NR - 2) / 24) % 3 == 0 && (NR - 2) % 24 == 0 ? 5 : 0 }' \
    "$normals" >rain.csv
wet_of() {
    weather rain.csv "${place[@]}" --headings "$headings,rain [mm]" --soil "$1" || fail "$1"
    awk '/^week of.*held/ { weeks = 1; next } /^week of/ { weeks = 0 } weeks && /^2/ { sum += $(NF - 2) } END { print sum }' out
}
clay=$(wet_of 'heavy clay')
says '^week of +topsoil +days that are +hard +crumbly +plastic +sticky'
# Every week's days are told, and none is lost.
days=$(awk '/^week of +topsoil/ { ground = 1; next } ground && /^2/ { sum += $3 + $4 + $5 + $6 } END { print sum }' out)
[[ $days == 365 ]] || fail "days of ground: $days"
sand=$(wet_of sand)
((clay > sand)) || fail "wet hours: clay $clay, sand $sand"

# °C said of what is °F.
weather "$normals" "${place[@]}" --headings "${headings/°C/°F}" || fail 'cold, but possible'
awk -F, -v OFS=, 'NR > 1 { $3 = $3 * 1.8 + 32 } 1' "$normals" >fahrenheit.csv
weather fahrenheit.csv "${place[@]}" --headings "$headings" && fail '°F passed for °C'
says 'look as if they were °F'
# The other half of the earth.
weather "$normals" --latitude -47.45 --longitude -122.31 --headings "$headings" && fail 'the south was believed'
says 'July is the warm month here, and the latitude is south'
# An hour too many, when clocks are set back, and a day too few.
sed '7000{p}' "$normals" >twice.csv
weather twice.csv "${place[@]}" --headings "$headings" && fail 'an hour twice was read'
says 'twice.csv:7001: .*stands twice'
sed '7000,7023d' "$normals" >gap.csv
weather gap.csv "${place[@]}" --headings "$headings" && fail 'a day missing was read'
says 'gap.csv:7000: there are no rows from 2010-10-19 [0-9:]+ to 2010-10-20 [0-9:]+ \(24 h\)'
# Four years of days at the same place, as npm's vega-datasets have them: date, precipitation, temp_max, temp_min,
# wind, weather. The hours drawn have the months' means of (least + most) / 2, counted from the file apart:
# November 2012 8.3 °C and 210.5 mm.
daily=$root/node_modules/vega-datasets/data/seattle-weather.csv
weather "$daily" "${place[@]}" --headings 'day,rain [mm],most [°C],least [°C],wind [m/s],(weather)' --soil loam ||
    fail 'the days were not read'
says '^35064 hours, 2012-01-01 to 2015-12-31, drawn from the days'
says '^2012-11 +8\.[23] .* 21[01] '
says '^Assumed: each hour is drawn from its day'
if grep -qi 'nan' out; then fail 'there is a NaN'; fi
sed '700,702d' "$daily" >gap.csv
weather gap.csv "${place[@]}" --headings 'day,rain [mm],most [°C],least [°C],wind [m/s],(weather)' &&
    fail 'days missing were read'
says 'gap.csv:700, day: there are no rows from 2013-11-29 to 2013-12-01 \(3 days\)'
weather nothing.csv && fail 'a file that is not there was read'
says 'there is no such file'
weather . && fail 'a folder was read'
says 'this is a folder'
weather "$normals" --clock noon && fail 'noon is no clock'
says "'noon' is not how far a clock is ahead"
echo 'weather: a year of real hours, judged'
