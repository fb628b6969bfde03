# SPDX-License-Identifier: GPL-3.0-or-later
# The tests pass with address and undefined-behaviour checks switched on, without a leak.
. "$(dirname -- "$0")/common.sh"
build_tree check-sanitize -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=RelWithDebInfo \
  -DRW_SANITIZE=ON
ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1:detect_stack_use_after_return=1
UBSAN_OPTIONS=print_stacktrace=1
export ASAN_OPTIONS UBSAN_OPTIONS
# Scripts that run the module a hundred times over show it nothing that the bindings' tests don't.
run_tests check-sanitize --exclude-regex "$long_tests|^scripts[.]"
[ "$bad" -eq 0 ] || fail "$bad of $all tests failed"
