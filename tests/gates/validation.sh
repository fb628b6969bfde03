# SPDX-License-Identifier: GPL-3.0-or-later
# docs/validation.md shows what the tests found.
. "$(dirname -- "$0")/common.sh"
build_gcc
if [ ! -f "${RW_CHECK_RUN:-/nowhere}/suite.count" ]; then
  run_tests check-gcc -R '^(unit|reference)\.'
fi
lua5.4 tests/support/validation.lua build/check-gcc --check ||
  fail "renew with: lua5.4 tests/support/validation.lua build/check-gcc"
