# SPDX-License-Identifier: GPL-3.0-or-later
# No common misspelling in any file; exceptions stand in codespell.ignore.
. "$(dirname -- "$0")/common.sh"
project_files | grep -vx tests/gates/codespell.ignore >build/check/all-files
xargs codespell --ignore-words tests/gates/codespell.ignore <build/check/all-files
