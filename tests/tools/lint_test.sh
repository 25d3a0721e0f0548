#!/usr/bin/env bash
# tools/lint.sh must pass a clean tree, and hide nothing that goes wrong. A stand-in takes the linter's place: it
# does what the file in front of it says.
set -euo pipefail
lint=$(cd "$(dirname "$0")/../.." && pwd)/tools/lint.sh
tree=$(mktemp -d)
trap 'rm -rf "$tree"' EXIT
cd "$tree"
mkdir -p bin build src

cat >bin/clang-tidy-19 <<'STAND_IN'
#!/usr/bin/env bash
echo '37 warnings generated.' >&2
. "${!#}"
STAND_IN
chmod +x bin/clang-tidy-19
PATH=$tree/bin:$PATH

file() {  # name, what the linter does with it
    echo "$2" >"src/$1.cpp"
    echo "{ \"file\": \"$tree/src/$1.cpp\" }" >>build/compile_commands.json
}
must_name() {  # what it must say, of which files
    local wanted=$1
    shift
    if "$lint" build "$@" >out 2>&1; then
        echo "passed in spite of: $wanted"
        exit 1
    fi
    grep -qF -- "$wanted" out || { echo "not said: $wanted"; cat out; exit 1; }
}

file clean true
file another true
file finding 'echo "src/finding.cpp:3:1: error: a finding"; exit 1'
file crash 'kill -SEGV $$'
file complaint 'echo "error: a header is missing" >&2'
file silent 'exit 1'
echo true >src/unbuilt.cpp

"$lint" build src/clean.cpp src/another.cpp >out 2>&1 || { echo 'clean files were refused:'; cat out; exit 1; }
grep -qE '^2 files looked through in [0-9]+ s; 0 not clean$' out || { echo 'not counted:'; cat out; exit 1; }
[[ $(wc -l <out) == 1 ]] || { echo 'more is said than needed:'; cat out; exit 1; }

must_name 'a finding' src/clean.cpp src/finding.cpp
must_name '    src/finding.cpp' src/finding.cpp src/clean.cpp
must_name 'src/crash.cpp: the linter ended with 139' src/crash.cpp
must_name 'a header is missing' src/complaint.cpp
must_name 'src/silent.cpp: the linter ended with 1' src/silent.cpp
must_name 'src/unbuilt.cpp: build/compile_commands.json does not say how it is compiled' src/clean.cpp src/unbuilt.cpp
must_name '3 not clean' src/finding.cpp src/clean.cpp src/crash.cpp src/unbuilt.cpp
rm build/compile_commands.json
must_name 'configure that build first' src/clean.cpp
echo 'nothing that goes wrong is hidden'
