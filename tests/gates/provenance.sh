# SPDX-License-Identifier: GPL-3.0-or-later
# Every published value names a source that stands in the list of sources.
. "$(dirname -- "$0")/common.sh"
lua5.4 tests/gates/provenance_selftest.lua
lua5.4 tests/gates/provenance.lua "$root"
