# SPDX-License-Identifier: GPL-3.0-or-later
# The library shows exactly the kept list of names, all declared in a header; the module shows one.
#
#   sh tests/gates/symbols.sh [BUILD [--write]]   --write renews tests/gates/symbols.txt
. "$(dirname -- "$0")/common.sh"
build=${1:-}
if [ -z "$build" ]; then
  build_gcc
  build=build/check-gcc
fi
make_scratch

shown()
{
  [ -f "$1" ] || fail "$1 is not there"
  nm -D --defined-only "$1" | awk '{ print $3 }' | sort
}

shown "$build/lib/libresinwright.so" >"$scratch/shown"
if [ "${2:-}" = --write ]; then
  cp "$scratch/shown" tests/gates/symbols.txt
  printf '%s names written to tests/gates/symbols.txt\n' "$(wc -l <tests/gates/symbols.txt)"
  exit 0
fi
[ -s "$scratch/shown" ] || fail "the library shows no name at all"
diff tests/gates/symbols.txt "$scratch/shown" ||
  fail "the list is marked <, the library >; renew with: sh tests/gates/symbols.sh BUILD --write"

includes=
for dir in lib lib/*/include; do
  includes="$includes -I$dir"
done
# shellcheck disable=SC2086
gcc -E -P $includes lib/resinwright.h | tr '\n' ' ' | tr ';' '\n' |
  sed -n 's/.*visibility("default").*[ *]\(rw_[a-z0-9_]*\)(.*/\1/p' | sort >"$scratch/declared"
diff "$scratch/declared" "$scratch/shown" ||
  fail "the headers declare the names marked <, the library shows those marked >"

shown "$build/lua/resinwright.so" >"$scratch/module"
printf 'luaopen_resinwright\n' | diff - "$scratch/module" ||
  fail "the Lua module must show luaopen_resinwright and nothing else"
