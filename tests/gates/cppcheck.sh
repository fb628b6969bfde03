# SPDX-License-Identifier: GPL-3.0-or-later
# cppcheck finds nothing in the library and the Lua module.
. "$(dirname -- "$0")/common.sh"
includes=
for dir in lib lib/*/include lib/*/src lib/base/src/shared bindings/lua/src; do
  includes="$includes -I$dir"
done
# Off: checks that do not follow a status or a call that does not return (a Lua error) from
# one function to the next; the compilers and the sanitizer runs look at those.
# shellcheck disable=SC2086
cppcheck $includes --enable=warning,performance,portability --std=c11 -D_POSIX_C_SOURCE=200809L \
  -D__GNUC__ -q -j "$(nproc)" --inline-suppr --error-exitcode=1 \
  --suppress=legacyUninitvar --suppress=uninitvar --suppress=invalidPointerCast \
  --suppress='nullPointer:bindings/*' --suppress='nullPointerRedundantCheck:bindings/*' \
  lib/*/src bindings/lua/src
