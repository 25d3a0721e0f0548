#!/usr/bin/env bash
# The verbs setup and advise on the demo's scenes: the change that each is about comes first, noise is left alone,
# and where the beets go decides what is worth a change. Directions are held, not figures.
# Usage: advise_test.sh <folder of the built programs> <Node>
set -euo pipefail
bin=$(cd "$1" && pwd)
node=$(realpath "$2")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
fail() { echo "FAILED: $*" >&2; exit 1; }

asked=''
# holds <what should> <condition in JavaScript> <arguments of beetwright...>: the answer, read as `answer`, holds it.
# `moves` is the change advised, control by control with those that move along; `set` is a control's reading; `cost`
# what a kind of fault costs; `before` the answer that was kept by `keep`.
holds() {
    local what=$1 condition=$2
    shift 2
    if [[ $season$* != "$asked" ]]; then
        "$bin/beetwright" "$@" --season "$season" --json >answer.json 2>err || { cat err; fail "$season: $* ended with $?"; }
        asked=$season$*
    fi
    "$node" -e '
        const { existsSync, readFileSync } = require("node:fs");
        const read = (file) => (existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : null);
        const answer = read("answer.json");
        const before = read("before.json");
        const movesOf = (one) => (one.change?.changes ?? []).map(({ from, to }) => ({
            control: from[0].control, along: from.length, by: to[0].value - from[0].value }));
        const moves = movesOf(answer);
        const moved = (control, of = moves) => Math.sign(of.find((one) => one.control === control)?.by ?? 0);
        const set = (control, of = answer) => of.settings.find((one) => one.control === control);
        const cost = (fault, of = answer) => of.on_the_way.costs.find((one) => one.fault === fault).cost_per_ha.value;
        if (!('"$condition"')) {
            console.error(JSON.stringify({ verdict: answer.verdict, moves, costs: answer.on_the_way.costs }, null, 1));
            process.exit(1);
        }' || fail "$season: $*: not so: $what"
}
keep() { cp answer.json before.json; }
# says <pattern> <arguments...>: the text for people.
says() {
    local pattern=$1
    shift
    "$bin/beetwright" "$@" --season "$season" >out 2>&1 || { cat out; fail "$season: $*"; }
    grep -qE -- "$pattern" out || { cat out; fail "$season: $* does not say: $pattern"; }
}

"$bin/beetwright_demo_season" metric >/dev/null
"$bin/beetwright_demo_season" us --units us >/dev/null
for season in metric us; do
    # Tails that break in lifting: the shares go deeper, and turbines are left alone.
    holds 'the shares were set shallow' 'set("share.depth").value < 0.060 && answer.set_at.startsWith("2031-10-05")' \
        advise 'Chalk Ridge'
    holds 'deeper shares come first' 'answer.verdict === "change" && moves[0].control === "share.depth" && moves[0].by > 0' \
        advise 'Chalk Ridge'
    holds 'turbines stay' 'moves.every((one) => !one.control.startsWith("turbine"))' advise 'Chalk Ridge'
    holds 'broken tails cost most' 'answer.on_the_way.costs[0].fault === "tails_broken"' advise 'Chalk Ridge'
    says '^  depth of the shares: .*display 10\) to .*display [2-5](\.5)?\)$' advise 'Chalk Ridge'
    says 'then look at the furrow behind the shares' advise 'Chalk Ridge'
    holds 'every figure lies in its interval' \
        '[answer.now, answer.change.figures].every((told) => Object.values(told).length === 8 &&
            Object.values(told).every((one) => one.low <= one.value && one.value <= one.high)) &&
            answer.now.tails_broken.low < answer.now.tails_broken.high' advise 'Chalk Ridge'
    # Before the scene nothing of it is known.
    holds 'shares are as deep as they were' 'set("share.depth").value > 0.070' advise 'Chalk Ridge' --at 2031-10-04

    # Tails that break in cleaning: all turbines slower, or faster driving to fill them, and the shares stay.
    holds 'turbines slower or a fuller flow come first' \
        'answer.verdict === "change" && (moves[0].control === "driving.speed" ? moves[0].by > 0 :
            moves[0].control === "turbine_1.speed" && moves[0].by < 0)' advise 'Warren Top'
    holds 'three turbines go slower together' \
        'moves.some((one) => one.control === "turbine_1.speed" && one.by < 0 && one.along === 3)' advise 'Warren Top'
    holds 'shares stay' 'moved("share.depth") === 0' advise 'Warren Top'
    says '^  speed of turbine 3: .*display 80\) to .*\(display ' advise 'Warren Top'

    # Two broken tails of twenty, on a machine that is set well: nothing is advised.
    holds 'no change' 'answer.verdict !== "change" && answer.change === null' advise Tollgate
    holds 'faster driving was turned down, and is not told again' \
        'answer.others.every((one) => one.changes.every(({ from, to }) =>
            from[0].control !== "driving.speed" || to[0].value < from[0].value))' advise Tollgate
    says '^(Leave it|Look first): ' advise Tollgate

    # What wounds cost grows in a pile, so that there the turbines go slower first; sliced at once, soil is dearest.
    holds 'soil costs most' 'answer.on_the_way.costs[0].fault === "soil" && moved("turbine_1.speed") === 0' \
        advise 'Mill Dam' --slice-in 2d
    keep
    holds 'turbines slower come first' 'moves[0].control === "turbine_1.speed" && moves[0].by < 0' \
        advise 'Mill Dam' --slice-in 120d
    holds 'tails and skin cost more' \
        'cost("tails_broken") > 2 * cost("tails_broken", before) && cost("torn_skin") > 5 * cost("torn_skin", before)' \
        advise 'Mill Dam' --slice-in 120d
    says '^  torn skin of a beet .*(EUR|USD)/(ha|acre)' advise 'Mill Dam' --slice-in 120d
    grep -A1 '^Lifted 2031-10-29, sliced 2032-02-26' out | grep -q 'torn skin of a beet' ||
        { cat out; fail "$season: skin is not the first fault in a pile"; }

    # The same grower's silt loam, dry and wet.
    holds 'hard soil' 'answer.soil === "hard"' setup 'Lower Sallow' --at 2031-10-10
    keep
    holds 'wet soil' '["plastic", "sticky"].includes(answer.soil)' setup 'Upper Sallow' --at 2031-10-26
    both() { holds "$1" "$2" setup 'Upper Sallow' --at 2031-10-26; }
    both 'the bed is higher in the wet' 'set("roller_bed.height").value > set("roller_bed.height", before).value'
    both 'shares go no deeper in the wet' 'set("share.depth").value <= set("share.depth", before).value'
    both 'in the dry shares go deeper than usual' 'set("share.depth", before).value > set("share.depth", before).usual'
    both 'rolls turn faster in the wet' 'set("roller_bed.speed").value > set("roller_bed.speed", before).value'
    # 100 to 400 rpm: 70 % of the range is 310 rpm.
    both 'in the dry rolls stay under 70 % of their range' '60 * set("roller_bed.speed", before).value <= 310'
    both 'guards are tined in the wet and closed in the dry' \
        '[1, 2, 3].every((n) => set(`turbine_${n}.guard`).text === "tined" && set(`turbine_${n}.guard`, before).text === "closed")'
    # On this display more is less deep.
    both 'depths stand on the display' 'set("share.depth").display > set("share.depth", before).display'
    both 'where nothing is bound there is no display' 'set("roller_bed.height").display === null'
    says '^  depth of the shares .*\(display [0-9.]+\)$' setup 'Upper Sallow' --at 2031-10-26
    says '^    .*usual .* would cost .*(EUR|USD)/' setup 'Upper Sallow' --at 2031-10-26
    rm before.json
done
season=metric
# In Tollgate the machine stands as setup says, where setup says that it matters: near the best, money hardly changes.
"$bin/beetwright" setup Tollgate --season metric --json >before.json
holds 'it is set as setup says' \
    'before.settings.every((one) => one.cost_of_usual_per_ha.value < 2 ||
        Math.abs(one.value - set(one.control).value) <= 0.2 * one.value)' advise Tollgate

# refused <words> <arguments...>: exit code 1, nothing on standard output, the words on standard error.
refused() {
    local words=$1 ended=0
    shift
    "$bin/beetwright" "$@" --season "$season" >out 2>err || ended=$?
    [[ $ended == 1 && ! -s out ]] || { cat out err; fail "$* ended with $ended"; }
    grep -qF -- "$words" err || { cat err; fail "$* did not say: $words"; }
}
cp -r metric no-machine
sed -i '/^Chalk Ridge,/s/Harvester South//' no-machine/fields.csv
# A machine whose build is not said; what it was set to cannot be known either.
cp -r metric no-build
sed -i 's/,turbines,/,,/' no-build/machines.csv
rm no-build/controls.csv no-build/dials.csv no-build/settings.csv
for verb in setup advise; do
    season=metric
    refused 'no field of this season is called "Chalk Rige". did you mean "Chalk Ridge"?' "$verb" 'Chalk Rige'
    refused "--slice-in: 'soon' is not a number of days. write 2d" "$verb" 'Chalk Ridge' --slice-in soon
    refused "--slice-in: '400d' is not a number of days" "$verb" 'Chalk Ridge' --slice-in 400d
    refused "--at: 'never' is not a day. write it as 2031-10-04" "$verb" 'Chalk Ridge' --at never
    season=no-machine
    refused 'nobody has said which machine lifts "Chalk Ridge". name it among the fields' "$verb" 'Chalk Ridge'
    season=no-build
    refused '"Harvester South" has no build' "$verb" 'Chalk Ridge'
    grep -qF 'write turbines, axial_rolls or two_stage' err || fail "$verb: no way out of a missing build"
done
echo 'setup and advise: directions as the scenes have them'
