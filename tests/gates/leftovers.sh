# SPDX-License-Identifier: GPL-3.0-or-later
# No machine path, no unfinished place; every source file names its licence.
. "$(dirname -- "$0")/common.sh"
# Split, so that this file does not match itself.
places="/(wo""rk|fa""rm|tm""p|roo""t|ho""me)/"
notes="TO""DO|FIX""ME|(^|[^X])XX""X([^X]|$)|not imple""mented|place""holder"
project_files | grep -v '^docs/.*\.svg$' >build/check/all-files
[ -s build/check/all-files ] || fail "no file"
! xargs grep -nIE -- "$places|$notes" <build/check/all-files | grep -v mktemp ||
  fail "a leftover"

project_files '*.c' '*.h' '*.lua' '*.sh' '*.cmake' CMakeLists.txt check try bench prepare run |
  while IFS= read -r file; do
    head -n 3 "$file" | grep -qE 'SPDX-License-Identifier: GPL-3.0-or-later( \*/)?$' ||
      printf '%s\n' "$file"
  done >build/check/unlicensed
[ ! -s build/check/unlicensed ] || fail "no licence line: $(cat build/check/unlicensed)"

project_files '*.c' '*.h' '*.lua' '*.sh' '*.cmake' '*.md' '*.csv' '*.txt' >build/check/text-files
! xargs grep -nE ' +$' <build/check/text-files || fail "blanks at the end of a line"
tops='README\.md|DEVELOPERS\.md|LICENSE|CMakeLists\.txt|\..*'
tops="$tops|lib|bindings|scripts|tests|reference-data|docs"
project_files | cut -d/ -f1 | sort -u | grep -vxE "$tops" >build/check/strangers || true
[ ! -s build/check/strangers ] || fail "not in the agreed tree: $(cat build/check/strangers)"
