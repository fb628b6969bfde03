# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by every gate: the top of the tree, the files of the project, builds, scratch folders.

set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$root"
mkdir -p build/check
LC_ALL=C
export LC_ALL
unset LUA_PATH LUA_CPATH LUA_INIT LUA_PATH_5_4 LUA_CPATH_5_4 LUA_INIT_5_4 MAKEFLAGS

# Ends the gate.
fail()
{
  printf '%s\n' "$*" >&2
  exit 1
}

# Paths that belong to the project, one a line; with arguments those that match a name pattern.
project_files()
{
  if git rev-parse --is-inside-work-tree >/dev/null 2>&1; then
    git ls-files --cached --others --exclude-standard
  else
    find . -path './build*' -prune -o -path ./.git -prune -o -type f -print | sed 's,^\./,,'
  fi | sort -u | while IFS= read -r file; do
    [ -f "$file" ] || continue
    if [ $# -eq 0 ]; then
      printf '%s\n' "$file"
      continue
    fi
    for pattern in "$@"; do
      # The pattern is meant to match.
      # shellcheck disable=SC2254
      case ${file##*/} in $pattern) printf '%s\n' "$file" && break ;; esac
    done
  done
}

# A folder that goes away with the gate: $scratch.
make_scratch()
{
  scratch=$(mktemp -d "${TMPDIR:-/tmp}/rw.XXXXXX")
  trap 'rm -rf "$scratch"' EXIT
  trap 'exit 1' HUP INT TERM
}

# build_tree NAME [cmake argument]...: configures and builds build/NAME, once in a run of check.
build_tree()
{
  tree=$1
  shift
  if [ -n "${RW_CHECK_RUN:-}" ]; then
    [ -f "$RW_CHECK_RUN/$tree.built" ] && return 0
    [ -f "$RW_CHECK_RUN/$tree.broken" ] && fail "build/$tree did not build, see the earlier gate"
    : >"$RW_CHECK_RUN/$tree.broken"
  fi
  cmake -S . -B "build/$tree" "$@" || fail "build/$tree: cmake stopped"
  cmake --build "build/$tree" -j "$(nproc)" || fail "build/$tree: the build stopped"
  if [ -n "${RW_CHECK_RUN:-}" ]; then
    mv "$RW_CHECK_RUN/$tree.broken" "$RW_CHECK_RUN/$tree.built"
  fi
}

# The build that most gates look at.
build_gcc()
{
  build_tree check-gcc -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Release -DRW_WERROR=ON \
    -DRW_BENCH=ON
}

# Lua finds the module of build/NAME and the Lua files of the tree.
use_lua()
{
  LUA_CPATH="$root/build/$1/lua/?.so;;"
  LUA_PATH="$root/bindings/lua/?.lua;$root/bindings/lua/?/init.lua;;"
  export LUA_CPATH LUA_PATH
}

# Tests that compute for long and look at nothing but numbers: the gate `suite` runs them.
# shellcheck disable=SC2034
long_tests='^oracle[.]|^property[.](cure_draws|fit_coverage|heat|panel)$|^alloc[.]cure_map$'

# run_tests NAME [ctest argument]...: runs the tests of build/NAME, of which there must be some;
# $good and $bad count them.
run_tests()
{
  tree=$1
  shift
  report=$root/build/$tree/junit.xml
  rm -f "$report"
  ctest --test-dir "build/$tree" -j "$(nproc)" --timeout 600 --output-on-failure \
    --no-tests=error --output-junit "$report" "$@" || true
  [ -f "$report" ] || fail "build/$tree: ctest ran no test"
  all=$(grep -c '<testcase ' "$report" || true)
  good=$(grep -c '<testcase .*status="run"' "$report" || true)
  bad=$((all - good))
  [ "$all" -gt 0 ] || fail "build/$tree: ctest ran no test"
}
