# SPDX-License-Identifier: GPL-3.0-or-later
# Every test passes: C, Lua module and scripts; each counts as one.
. "$(dirname -- "$0")/common.sh"
build_gcc
run_tests check-gcc
if [ -n "${RW_CHECK_RUN:-}" ]; then
  printf '%s %s\n' "$good" "$bad" >"$RW_CHECK_RUN/suite.count"
fi
for kind in unit reference property alloc bindings scripts; do
  grep -q "<testcase name=\"$kind\." "$report" || fail "no test of the kind \"$kind\" was run"
done
! grep -nE '\[ +SKIPPED +\]' "$report" || fail "in this build no test may be skipped"
[ "$bad" -eq 0 ] || fail "$bad of $all tests failed"
