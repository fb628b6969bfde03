# SPDX-License-Identifier: GPL-3.0-or-later
# The Lua files have no unused, undefined or shadowed name.
. "$(dirname -- "$0")/common.sh"
project_files '*.lua' >build/check/lua-files
[ -s build/check/lua-files ] || fail "no Lua file"
xargs luacheck --no-color -q <build/check/lua-files
xargs -n 1 luac5.4 -p <build/check/lua-files
