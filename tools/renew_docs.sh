#!/usr/bin/env bash
# Writes what is generated from the tables anew: a part of docs/formats/season_folder.md, and the app's types. Usage: renew_docs.sh <folder of the built programs>
set -euo pipefail
page=$(dirname "$0")/../docs/formats/season_folder.md
mark='What follows is written by `beetwright schema`.'
{
    sed "/^$mark/q" "$page"
    echo
    "$1/beetwright" schema
} >"$page.new"
mv "$page.new" "$page"
"$1/beetwright" schema --typescript >"$(dirname "$0")/../web/src/generated/schema.ts"
