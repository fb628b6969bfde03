# SPDX-License-Identifier: GPL-3.0-or-later
# All of it builds with clang, warnings as errors; the C tests pass there too, bar the longest.
. "$(dirname -- "$0")/common.sh"
build_tree check-clang -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Release -DRW_WERROR=ON
run_tests check-clang --exclude-regex "$long_tests|^(bindings|scripts)[.]"
[ "$bad" -eq 0 ] || fail "$bad of $all tests failed"
