# SPDX-License-Identifier: GPL-3.0-or-later
# Installed and moved elsewhere, the library serves pkg-config, CMake and a fresh Lua.
. "$(dirname -- "$0")/common.sh"
build_gcc
make_scratch
cmake --install build/check-gcc --prefix "$scratch/first"
mv "$scratch/first" "$scratch/home"
home=$scratch/home
! grep -rIlF -e "$root" -e "$scratch/first" "$home" || fail "an installed text names this machine"

libdir=$(dirname "$(find "$home" -name libresinwright.so)")
PKG_CONFIG_PATH=$libdir/pkgconfig
LD_LIBRARY_PATH=$libdir
export PKG_CONFIG_PATH LD_LIBRARY_PATH

# Each header on its own, in C and in C++.
for header in "$home"/include/resinwright.h "$home"/include/resinwright/*.h; do
  for language in 'c -std=c17' 'c++ -std=c++17'; do
    # shellcheck disable=SC2086
    clang -x $language -pedantic -Wall -Wextra -Werror -fsyntax-only -I"$home/include" \
      -include "$header" /dev/null || fail "$header does not stand alone"
  done
done

version=$(sed -n 's/^project(resinwright VERSION \([0-9.]*\).*/\1/p' CMakeLists.txt)
[ "$(pkgconf --modversion resinwright)" = "$version" ] || fail "pkg-config tells another version"
# shellcheck disable=SC2046
gcc -std=c17 -Wall -Werror tests/install/use.c -o "$scratch/use" \
  $(pkgconf --cflags --libs resinwright) -lm
[ "$("$scratch/use")" = "$version" ] || fail "the library is of another version"

cmake -S tests/install -B "$scratch/build" -DCMAKE_PREFIX_PATH="$home"
cmake --build "$scratch/build"
unset LD_LIBRARY_PATH
"$scratch/build/use"

# The folders Lua looks in below /usr and /usr/local are the ones the module goes to.
module=$(find "$home" -name resinwright.so)
[ -f "$module" ] || fail "the Lua module is not installed"
below=$(dirname "${module#"$home"/}")
lua5.4 -e 'print(package.cpath)' | tr ';' '\n' | grep -qxE "/usr(/local)?/$below/\?\.so" ||
  fail "Lua does not look in $below"
written=$(find "$home/share" -path '*/resinwright/*.lua' | head -n 1)
[ -f "$written" ] || fail "the Lua files of the module are not installed"
share=$(dirname "$(dirname "${written#"$home"/}")")
lua5.4 -e 'print(package.path)' | tr ';' '\n' | grep -qxE "/usr(/local)?/$share/\?\.lua" ||
  fail "Lua does not look in $share"
env -i PATH="$PATH" LUA_CPATH="$home/$below/?.so" \
  LUA_PATH="$home/$share/?.lua;$home/$share/?/init.lua" lua5.4 tests/install/use.lua "$home"
! ldd "$module" | grep -E 'liblua|not found' || fail "the module asks for a library it must not"
