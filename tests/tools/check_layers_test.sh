#!/usr/bin/env bash
# tools/check_layers.sh must find each kind of breach, and nothing in a clean tree.
set -euo pipefail
check=$(cd "$(dirname "$0")/../.." && pwd)/tools/check_layers.sh
tree=$(mktemp -d)
trap 'rm -rf "$tree"' EXIT

fresh() {
    rm -rf "${tree:?}"/*
    mkdir -p "$tree"/src/{base,beet,check,io,num,records,app} "$tree"/{apps,tests,bench,fuzz,tools}
    echo '#include "base/result.hpp"' >"$tree/src/beet/root.hpp"
}
must_pass() {
    "$check" "$tree" >"$tree/out" || { echo "a clean tree was refused:"; cat "$tree/out"; exit 1; }
}
must_name() {  # what the message must say
    if "$check" "$tree" >"$tree/out"; then
        echo "not found: $1"
        exit 1
    fi
    grep -qF -- "$1" "$tree/out" || { echo "not said: $1"; cat "$tree/out"; exit 1; }
}

fresh; must_pass
fresh; echo '#include "check/sheet.hpp"' >"$tree/src/beet/a.cpp"; must_name 'beet may not use check'
fresh; echo '#include "io/csv.hpp"' >"$tree/src/base/a.hpp"; must_name 'base may not use io'
fresh; echo '#include <boost/math/distributions/beta.hpp>' >"$tree/src/num/a.hpp"; must_name 'may not be seen here'
fresh; echo '#include <boost/math/distributions/beta.hpp>' >"$tree/src/num/a.cpp"; must_pass
fresh; echo '#include <sqlite3.h>' >"$tree/src/io/a.cpp"; must_name '<sqlite3.h>'
fresh; echo '#include <sodium.h>' >"$tree/src/app/people.cpp"; must_name '<sodium.h>'
fresh; echo '#include <sodium.h>' >"$tree/src/app/secrets.cpp"; must_pass
fresh; echo '#include <zlib.h>' >"$tree/src/app/people.cpp"; must_name '<zlib.h>'
fresh; echo '#include <nlohmann/json.hpp>' >"$tree/src/io/a.cpp"; must_name '<nlohmann/json.hpp>'
fresh; echo 'void f() { throw 1; }' >"$tree/src/check/a.cpp"; must_name 'may not do this'
fresh; echo '// never throw here' >"$tree/src/check/a.cpp"; must_pass
fresh; echo 'auto t = std::chrono::system_clock::now();' >"$tree/src/base/a.cpp"; must_name 'may not do this'
fresh; echo 'void f() { throw 1; }' >"$tree/src/io/a.cpp"; must_pass
fresh; mkdir "$tree/src/shed"; must_name 'not a folder of the house'
fresh; seq -f '// line %g' 801 >"$tree/src/base/a.cpp"; must_name '800 is the most'
echo 'every kind of breach is found'
