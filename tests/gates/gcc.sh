# SPDX-License-Identifier: GPL-3.0-or-later
# The library, the Lua module and the tests build with gcc, warnings as errors.
. "$(dirname -- "$0")/common.sh"
build_gcc
