#!/usr/bin/env bash
# Holds the source to the house's rules: who may include whom, where third-party headers may be seen,
# what engine folders may not do, and how long a file may be.
# Usage: check_layers.sh [root of the project]. Lists every breach; exits 1 if there is one.
set -euo pipefail
cd "${1:-$(dirname "$0")/..}"
shopt -s nullglob
breaches=0

breach() {
    echo "$*"
    breaches=$((breaches + 1))
}

# What each folder of src/ may include. beet, check, weather, crop, harvester, pile and worth are rooms side by side.
declare -A may_use=(
    [base]=''
    [num]='base'
    [beet]='base num'
    [check]='base num'
    [weather]='base num'
    [crop]='base num'
    [harvester]='base num'
    [pile]='base num'
    [ground]='base num'
    [worth]='base num'
    [campaign]='base num beet check weather crop harvester pile ground worth'
    [ledger]='base num beet check weather crop harvester pile ground worth'
    [engine]='base num beet check weather crop harvester pile ground worth campaign ledger'
    [io]='base num beet check weather crop harvester pile ground worth campaign ledger engine'
    [maps]='base num beet check weather crop harvester pile ground worth campaign ledger engine io'
    [records]='base num beet check weather crop harvester pile ground worth campaign ledger engine io'
    [http]='base'
    [app]='base num beet check weather crop harvester pile ground worth campaign ledger engine io maps records http'
)
engine_folders='base num beet check weather crop harvester pile ground worth campaign ledger engine'

# Third-party headers by their start, and the only places where they may be seen.
third_party() {  # header file
    case $1 in
        boost/beast/* | boost/asio/*) [[ $2 == src/http/server.cpp ]] ;;
        boost/*) [[ $2 == src/num/*.cpp || $2 == src/check/*.cpp ]] ;;
        nlohmann/*) false ;;
        proj.h | geodesic.h | geos_c.h | pugixml.hpp | zip.h | tiff*.h) [[ $2 == src/maps/*.cpp ]] ;;
        sodium.h | sodium/*) [[ $2 == src/app/secrets.cpp ]] ;;
        zlib.h) [[ $2 == src/http/gzip.cpp ]] ;;
        sqlite3.h) [[ $2 == src/records/*.cpp ]] ;;
        fmt/*) [[ $2 == src/io/*.cpp || $2 == src/records/*.cpp || $2 == src/app/*.cpp ]] ;;
        CLI/*) false ;;
        *) true ;;
    esac
}

check_includes() {  # file folder
    local line header used
    while IFS=: read -r line header; do
        if [[ $header == *'"'* ]]; then
            used=$(sed 's/.*"\([^"]*\)".*/\1/' <<<"$header")
            [[ $used == */* ]] || continue
            used=${used%%/*}
            [[ $used == "$2" || " ${may_use[$2]} " == *" $used "* ]] ||
                breach "$1:$line: $2 may not use $used"
        else
            used=$(sed 's/.*<\([^>]*\)>.*/\1/' <<<"$header")
            third_party "$used" "$1" || breach "$1:$line: <$used> may not be seen here"
        fi
    done < <(grep -nE '^ *# *include' "$1" || true)
}

# What an engine folder may not do: throw, read or print, ask a clock, the environment or chance.
forbidden='\bthrow\b|\btry\b|<iostream>|<fstream>|<filesystem>|_clock::now|\bgetenv\b|std::rand\b|<random>|\bstd::time\b'

check_engine() {  # file
    local line
    while IFS= read -r line; do
        breach "$1:${line%%:*}: an engine folder may not do this: ${line#*:}"
    done < <(sed 's|//.*||' "$1" | grep -nE "$forbidden" || true)
}

for path in src/*/; do
    folder=$(basename "$path")
    if [[ -z ${may_use[$folder]+known} ]]; then
        breach "src/$folder: not a folder of the house; add it to src/README.md and to this check"
        continue
    fi
    for file in "$path"*.hpp "$path"*.cpp; do
        check_includes "$file" "$folder"
        [[ " $engine_folders " == *" $folder "* ]] && check_engine "$file"
    done
done

longest=800
while IFS= read -r file; do
    lines=$(wc -l <"$file")
    ((lines <= longest)) || breach "$file: $lines lines; $longest is the most"
done < <(find src apps tests bench fuzz tools -name '*.cpp' -o -name '*.hpp' 2>/dev/null)

if ((breaches > 0)); then
    echo "$breaches breaches of the house's rules"
    exit 1
fi
echo 'layers: in order'
