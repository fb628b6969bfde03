# SPDX-License-Identifier: GPL-3.0-or-later
# The examples in README.md and docs/ run and print what stands below them.
. "$(dirname -- "$0")/common.sh"
build_gcc
use_lua check-gcc
lua5.4 tests/gates/readme.lua --need README.md
for page in docs/*.md; do
  lua5.4 tests/gates/readme.lua "$page"
done
