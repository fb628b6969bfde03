# SPDX-License-Identifier: GPL-3.0-or-later
# The tests pass where the decimal mark of the whole process is a comma.
. "$(dirname -- "$0")/common.sh"
build_gcc
mkdir -p build/locale
if [ ! -d build/locale/de_DE.UTF-8 ]; then
  localedef -i de_DE -f UTF-8 build/locale/de_DE.UTF-8 || fail "localedef made no locale"
fi
gcc -std=c17 -Wall -Wextra -Werror -shared -fPIC tests/gates/comma.c -o build/check/comma.so
LOCPATH=$root/build/locale
export LOCPATH

# Proof that it works on a program that never asks for a locale itself.
seen=$(LD_PRELOAD=$root/build/check/comma.so lua5.4 -e 'io.write(string.format("%.1f", 1.5))')
[ "$seen" = 1,5 ] || fail "the comma does not reach a test program: $seen"
! LOCPATH=$root/build/check LD_PRELOAD=$root/build/check/comma.so lua5.4 -v >/dev/null 2>&1 ||
  fail "a missing locale goes unnoticed"

LD_PRELOAD=$root/build/check/comma.so
export LD_PRELOAD
# These read and write no number: they would only take their time again.
run_tests check-gcc \
  --exclude-regex '^(alloc|oracle)[.]|^property[.](coat|cure|fit|heat|laminate|panel|sweep)'
unset LD_PRELOAD
[ "$bad" -eq 0 ] || fail "$bad of $all tests failed"
