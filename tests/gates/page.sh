# SPDX-License-Identifier: GPL-3.0-or-later
# The demo's sheet is complete in itself, comes out the same twice, and prints on A4.
. "$(dirname -- "$0")/common.sh"
build_gcc
use_lua check-gcc
make_scratch
for copy in one two; do
  lua5.4 scripts/plan-day.lua scripts/demo --sheet "$scratch/$copy.html" >"$scratch/$copy.txt"
done
cmp "$scratch/one.html" "$scratch/two.html" || fail "the sheet differs from run to run"
cat "$scratch/one.txt"
grep -qF "$scratch/one.html" "$scratch/one.txt" || fail "the summary does not tell where the sheet is"

# Nothing fetched from elsewhere; the name of the drawing language is no address.
! sed 's,xmlns="http://www\.w3\.org/2000/svg",,g' "$scratch/one.html" |
  grep -niE 'https?:|ftp:|@import|<script|<link|<iframe|[ "]src=|href="[^#]|url\([^#]' ||
  fail "the sheet leans on something outside it"

HOME=$scratch
export HOME
timeout 120 chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run \
  --disable-background-networking --disable-component-update --disable-sync \
  --disable-dev-shm-usage --user-data-dir="$scratch/profile" --no-pdf-header-footer \
  --print-to-pdf="$scratch/sheet.pdf" "file://$scratch/one.html" || fail "the browser stopped"
[ -s "$scratch/sheet.pdf" ] || fail "the browser printed nothing"

pages=$(pdfinfo "$scratch/sheet.pdf" | sed -n 's/^Pages: *//p')
case $pages in
1 | 2) ;;
*) fail "the sheet takes $pages pages" ;;
esac
a4=$(pdfinfo -f 1 -l "$pages" "$scratch/sheet.pdf" | grep -c '^Page .*size:.*(A4)$' || true)
[ "$a4" -eq "$pages" ] || fail "$a4 of $pages pages are A4"

boat=$(sed -n 's/.*name *= *"\([^"]*\)".*/\1/p' scripts/demo/*.lua | head -n 1)
[ -n "$boat" ] || fail "the demo names no boat"
pdftotext -layout "$scratch/sheet.pdf" - | tee "$scratch/sheet.txt" | head -n 20
grep -qF "$boat" "$scratch/sheet.txt" || fail "the printed sheet does not name the boat, $boat"
