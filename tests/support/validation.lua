-- SPDX-License-Identifier: GPL-3.0-or-later
-- Turns what the C tests noted (BUILD/validation/ROOM.csv) into docs/validation.md.
--
--   lua5.4 tests/support/validation.lua BUILD            writes the page
--   lua5.4 tests/support/validation.lua BUILD --check    fails where the page differs
local csv = dofile "lib/cmake/csv.lua"

-- Every points_NAME.csv there is.
local rooms = {}
local listing = assert(io.popen "LC_ALL=C ls reference-data/checks")
for name in listing:lines() do rooms[#rooms + 1] = name:match "^points_(.+)%.csv$" end
listing:close()
assert(#rooms > 0, "no points in reference-data/checks")

local build, check = arg[1], arg[2] == "--check"
assert(build, "name the build folder")

local columns = { "id", "what", "expected", "ours", "unit", "tolerance", "mode", "source" }

local function rows_of(room)
  local path = ("%s/validation/%s.csv"):format(build, room)
  local file = assert(io.open(path), path .. " is not there: run the tests first")
  local text = file:read "a"
  file:close()
  local t = assert(csv.parse(table.concat(columns, ",") .. "\n" .. text))
  assert(#t.rows > 0, path .. " is empty")
  return t.rows
end

local function cell(text)
  return (text:gsub("|", "\\|"))
end

local lines = { "# Validation", "",
  "Published values against this library's, noted by the tests when they passed. The values stand",
  "in `reference-data/checks` with the reason for each tolerance, the sources in",
  "`reference-data/SOURCES.csv`. Renew with `lua5.4 tests/support/validation.lua BUILD`.", "" }
local count = 0
for _, room in ipairs(rooms) do
  lines[#lines + 1] = "## " .. room
  lines[#lines + 1] = ""
  lines[#lines + 1] = "| check | published | ours | unit | tolerance | source |"
  lines[#lines + 1] = "|---|---|---|---|---|---|"
  for _, r in ipairs(rows_of(room)) do
    -- Six digits: the last ones of a longer print are the compiler's.
    local ours = ("%.6g"):format(tonumber(r.ours)):gsub(",", ".")
    lines[#lines + 1] = ("| %s | %s | %s | %s | %s %s | %s |"):format(cell(r.what), r.expected,
      ours, r.unit, r.tolerance, r.mode, r.source)
    count = count + 1
  end
  lines[#lines + 1] = ""
end
lines[#lines + 1] = ("%d values."):format(count)
local page = table.concat(lines, "\n") .. "\n"

if check then
  local file = assert(io.open "docs/validation.md")
  local same = file:read "a" == page
  file:close()
  assert(same, "docs/validation.md is not what the tests found; renew it")
else
  local file = assert(io.open("docs/validation.md", "w"))
  file:write(page)
  file:close()
end
print(("%d values"):format(count))
