# SPDX-License-Identifier: GPL-3.0-or-later
# The C manual builds; a public name or a parameter without a description is an error.
. "$(dirname -- "$0")/common.sh"
RW_VERSION=$(sed -n 's/^project(resinwright VERSION \([0-9.]*\).*/\1/p' CMakeLists.txt)
[ -n "$RW_VERSION" ] || fail "CMakeLists.txt gives no version"
export RW_VERSION
rm -rf build/doxygen
mkdir -p build/doxygen
doxygen docs/Doxyfile || fail "the manual has gaps"
for header in lib/*/include/resinwright/*.h; do
  name=$(basename "$header" .h)
  [ -f "build/doxygen/html/${name}_8h.html" ] || fail "no page for $header"
done
