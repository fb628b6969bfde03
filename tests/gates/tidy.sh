# SPDX-License-Identifier: GPL-3.0-or-later
# clang-tidy, path analysis included, finds nothing in the library and the Lua module.
. "$(dirname -- "$0")/common.sh"
build_tree check-clang -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Release -DRW_WERROR=ON
ls lib/*/src/*.c bindings/lua/src/*.c >build/check/tidy-files
xargs -P "$(nproc)" -n 4 clang-tidy -p build/check-clang --quiet --warnings-as-errors='*' \
  <build/check/tidy-files
