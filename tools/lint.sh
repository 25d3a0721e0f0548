#!/usr/bin/env bash
# Runs the linter over source files, as many at a time as there are cores, and names those that are not clean.
# Usage: lint.sh <build folder> <file>...; exits 1 if one is not.
# A file is not clean by a finding, by whatever else the linter says of it (it crashed, a header is missing), and
# when the build has no command for it: the linter would guess one, and look at what nobody builds.
set -euo pipefail

# How many warnings of the system's headers were passed over, said of nearly every file.
no_news='^[0-9]+ warnings?( and [0-9]+ errors?)? generated\.$'

look_at() {  # build folder, folder of reports, file
    local report="$2/${3//\//:}" ended=0
    if grep -qE "\"file\": \"(.*/)?$3\"" "$1/compile_commands.json"; then
        clang-tidy-19 -p "$1" --quiet --warnings-as-errors='*' "$3" >"$report.part" 2>&1 </dev/null || ended=$?
        sed -i -E "/$no_news/d" "$report.part"
        ((ended == 0)) || echo "$3: the linter ended with $ended" >>"$report.part"
    else
        echo "$3: $1/compile_commands.json does not say how it is compiled" >"$report.part"
    fi
    mv "$report.part" "$report"
}

if [[ $1 == --one ]]; then
    shift
    look_at "$@"
    exit
fi

build=$1
shift
[[ -r $build/compile_commands.json ]] || {
    echo "$build/compile_commands.json is not there: configure that build first" >&2
    exit 1
}
reports=$(mktemp -d)
trap 'rm -rf "$reports"' EXIT

printf '%s\0' "$@" | xargs -0 -P "$(nproc)" -n 1 "$0" --one "$build" "$reports" || true

not_clean=()
for file in "$@"; do
    report="$reports/${file//\//:}"
    [[ -e $report ]] || echo "$file: the linter did not finish" >"$report"
    if [[ -s $report ]]; then
        cat "$report"
        not_clean+=("$file")
    fi
done
echo "$# files looked through in $SECONDS s; ${#not_clean[@]} not clean"
((${#not_clean[@]} == 0)) && exit
printf '    %s\n' "${not_clean[@]}"
exit 1
