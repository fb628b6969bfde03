# SPDX-License-Identifier: GPL-3.0-or-later
# The C files are formatted as .clang-format says.
. "$(dirname -- "$0")/common.sh"
project_files '*.c' '*.h' >build/check/c-files
[ -s build/check/c-files ] || fail "no C file"
xargs clang-format --dry-run --Werror <build/check/c-files
