# SPDX-License-Identifier: GPL-3.0-or-later
# The shell scripts are plain sh, and every gate that stands here is run.
. "$(dirname -- "$0")/common.sh"

sh=sh
command -v dash >/dev/null && sh=dash
for file in scripts/try scripts/check scripts/bench scripts/prepare $(project_files '*.sh'); do
  $sh -n "$file" || fail "$file: not sh"
  ! grep -nE '^ *(\[\[|function |local |source )|<<[<]|&[>]' "$file" ||
    fail "$file: that is not in POSIX sh"
done

bash -n .ci/run || fail ".ci/run: not bash"

sh scripts/check --list | cut -d' ' -f1 | sort >build/check/listed
for file in tests/gates/*.sh; do
  name=${file##*/}
  printf '%s\n' "${name%.sh}"
done | grep -vx common | sort >build/check/standing
diff build/check/standing build/check/listed ||
  fail "scripts/check and the folder tests/gates do not name the same gates"
