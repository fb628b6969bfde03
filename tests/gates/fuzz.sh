# SPDX-License-Identifier: GPL-3.0-or-later
# Forty seconds of random input to everything that reads text finds no fault.
. "$(dirname -- "$0")/common.sh"
seconds=40
flags='-g -O1 -std=c17 -D_POSIX_C_SOURCE=200809L -fsanitize=address,undefined
  -fno-sanitize-recover=all'

set -- tests/fuzz/*.c
[ -f "$1" ] || fail "tests/fuzz holds no program"
count=$#
build_tree check-fuzz -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=RelWithDebInfo \
  -DRW_SANITIZE=ON -DRW_TESTS=OFF -DRW_LUA=OFF -DCMAKE_C_FLAGS=-fsanitize=fuzzer-no-link
includes=
for dir in lib lib/*/include tests/support; do
  includes="$includes -I$dir"
done

make_scratch
for source in "$@"; do
  name=$(basename "$source" .c)
  corpus=tests/fuzz/corpus/$name
  [ -n "$(ls "$corpus" 2>/dev/null)" ] || fail "$corpus: no example to start from"
  # Lists of flags.
  # shellcheck disable=SC2086
  clang $flags -fsanitize=fuzzer $includes "$source" build/check-fuzz/lib/librw_static.a \
    $(pkgconf --libs gsl) -lm -o "$scratch/$name" || fail "$source does not build"
  cp -R "$corpus" "$scratch/$name.corpus"
done

# Two at a time.
each=$((seconds / ((count + 1) / 2)))
[ "$each" -ge 1 ] || each=1
mkdir -p build/check/fuzz
for source in "$@"; do
  basename "$source" .c
done | xargs -P 2 -I NAME sh -c '
  if "$1/NAME" -max_total_time='"$each"' -timeout=10 -rss_limit_mb=2048 -max_len=4096 -seed=1 \
    -verbosity=0 -print_final_stats=1 -artifact_prefix=build/check/fuzz/NAME- \
    "$1/NAME.corpus" >"$1/NAME.log" 2>&1; then
    runs=$(sed -n "s/^stat::number_of_executed_units: *//p" "$1/NAME.log")
    printf "%s: %s inputs\n" NAME "${runs:-0}"
    [ "${runs:-0}" -gt 0 ] && : >"$1/NAME.good"
  else
    tail -n 60 "$1/NAME.log"
  fi' sh "$scratch"
for source in "$@"; do
  name=$(basename "$source" .c)
  [ -f "$scratch/$name.good" ] || fail "$name: a fault, the input is in build/check/fuzz"
done
