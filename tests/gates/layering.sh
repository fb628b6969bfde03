# SPDX-License-Identifier: GPL-3.0-or-later
# A room sees the rooms below it and no others; only lib/num names GSL.
. "$(dirname -- "$0")/common.sh"

# The floors of lib/README.md.
floor_of()
{
  case $1 in
  base) echo 0 ;;
  num | text) echo 1 ;;
  units) echo 2 ;;
  data | history) echo 3 ;;
  air | cure | cloth | hull | log) echo 4 ;;
  laminate | heat) echo 5 ;;
  fit) echo 6 ;;
  plan) echo 7 ;;
  *) fail "tests/gates/layering.sh: no floor for the room $1" ;;
  esac
}

rooms=$(sed -n 's/^rw_room(\([a-z]*\).*/\1/p' lib/CMakeLists.txt)
[ -n "$rooms" ] || fail "lib/CMakeLists.txt names no room"
for header in lib/*/include; do
  room=$(basename "$(dirname "$header")")
  printf '%s\n' "$rooms" | grep -qx "$room" || fail "lib/CMakeLists.txt does not name $room"
done
build_gcc
make_scratch
bad=0
wrong()
{
  printf '%s\n' "$*"
  bad=$((bad + 1))
}

# Include folders that the build gives a room, as compiler flags.
flags_of()
{
  sed -n '/^ *"command"/h; /^ *"file".*\/lib\/'"$1"'\/src\//{x;p;q;}' \
    build/check-gcc/compile_commands.json | tr ' ' '\n' | grep '^-I' || true
}

# compiles ROOM HEADER: whether a file of the room may include the other's header.
compiles()
{
  printf '#include <resinwright/%s.h>\n' "$2" >"$scratch/one.c"
  # shellcheck disable=SC2046
  gcc -std=c17 -D_POSIX_C_SOURCE=200809L -fsyntax-only $(flags_of "$1") "$scratch/one.c" \
    2>"$scratch/said"
}

seen=0
for room in $rooms; do
  [ -n "$(flags_of "$room")" ] || fail "compile_commands.json has no file of the room $room"
  own=$(floor_of "$room")
  compiles "$room" "$room" || wrong "$room: its own header does not compile by itself"
  compiles "$room" base || wrong "$room: the ground floor is out of sight"
  for other in $rooms; do
    [ "$other" = "$room" ] && continue
    if [ "$(floor_of "$other")" -ge "$own" ]; then
      seen=$((seen + 1))
      if compiles "$room" "$other"; then
        wrong "$room can include $other, which is not below it"
      elif ! grep -q "resinwright/$other.h: No such file" "$scratch/said"; then
        wrong "$room with $other fails for another reason: $(cat "$scratch/said")"
      fi
    fi
  done
done
printf '%s includes upward or sideways refused\n' "$seen"

# What the build names, a file can use.
sed -n 's/^rw_room(\([a-z ]*\)).*/\1/p' lib/CMakeLists.txt >"$scratch/rooms"
while read -r room below; do
  for other in $below; do
    compiles "$room" "$other" || wrong "$room cannot include $other, which the build names"
    [ "$(floor_of "$other")" -lt "$(floor_of "$room")" ] ||
      wrong "lib/CMakeLists.txt lets $room use $other, which is not below it"
  done
done <"$scratch/rooms"

# No way round by a path.
! grep -nE '^ *# *include +"[^"]*\.\./' lib/*/src/*.[ch] lib/*/include/resinwright/*.h ||
  wrong "an include leaves its room by a path"
! grep -nE '^ *# *include +[<"]resinwright\.h' lib/*/src/*.[ch] lib/*/include/resinwright/*.h ||
  wrong "a room includes the header of all rooms"

# The real build: as it stands it compiles, with an upward include it stops.
mkdir "$scratch/tree"
project_files | tar -cf - -T - | tar -xf - -C "$scratch/tree"
cmake -S "$scratch/tree" -B "$scratch/build" -DRW_LUA=OFF -DRW_TESTS=OFF >"$scratch/log" 2>&1 ||
  fail "the copy cannot be configured: $(tail -n 5 "$scratch/log")"
cmake --build "$scratch/build" --target rw_units >"$scratch/log" 2>&1 ||
  fail "the untouched copy does not build: $(tail -n 5 "$scratch/log")"
source=$(find "$scratch/tree/lib/units/src" -name '*.c' | sort | head -n 1)
printf '#include <resinwright/plan.h>\n' >>"$source"
if cmake --build "$scratch/build" --target rw_units >"$scratch/log" 2>&1; then
  wrong "the build lets units include plan (is an older copy installed in the system folders?)"
elif ! grep -q 'resinwright/plan.h: No such file' "$scratch/log"; then
  wrong "the build stops for another reason: $(tail -n 5 "$scratch/log")"
fi

# GSL by name: lib/num alone.
project_files '*.c' '*.h' '*.lua' | grep -E '^(lib|bindings|scripts)/' |
  grep -v '^lib/num/' >"$scratch/sources"
! xargs grep -niE '(^|[^a-z])gsl' <"$scratch/sources" || wrong "GSL is named outside lib/num"
grep -qE '# *include +<gsl/' lib/num/src/*.c || wrong "lib/num does not use GSL: look again"
[ "$bad" -eq 0 ] || fail "$bad faults"
