-- SPDX-License-Identifier: GPL-3.0-or-later
-- Refuses a published value without source, standing, tolerance or reason:
--   lua5.4 tests/gates/provenance.lua [TOP_OF_THE_TREE]
local here = arg[0]:match("^(.*)/[^/]*$") or "."
package.path = here .. "/../../lib/cmake/?.lua;" .. package.path
local csv = require "csv"

local root = arg[1] or "."
local data = root .. "/reference-data"

-- A value recalled and not recomputed cannot carry a test tighter than this.
local MEMORY_TOLERANCE = 1e-3

local function set(...)
  local out = {}
  for _, word in ipairs { ... } do
    out[word] = true
  end
  return out
end

local standings = set("read", "second-hand", "read second-hand", "derived", "computed", "memory",
  "synthetic", "common practice")
local material_standings = set("read", "second-hand", "derived", "memory", "common practice")

local faults, rows, known, used = 0, 0, {}, {}

local function fault(file, line, format, ...)
  faults = faults + 1
  io.stderr:write(("%s:%d: %s\n"):format(file, line, format:format(...)))
end

local function load(file, needed)
  local t, line, why = csv.read(data .. "/" .. file)
  if not t then
    fault(file, line, "%s", why)
    return { header = {}, comments = {}, rows = {} }
  end
  local there = set(table.unpack(t.header))
  for _, column in ipairs(needed) do
    if not there[column] then
      fault(file, 1, "the column %s is missing", column)
      return { header = t.header, comments = t.comments, rows = {} }
    end
  end
  return t
end

-- One id, or several with "; " between them.
local function check_sources(file, line, text)
  local any = false
  for id in text:gmatch("[^;%s]+") do
    any = true
    used[id] = true
    if not known[id] then
      fault(file, line, "the source \"%s\" does not stand in SOURCES.csv", id)
    end
  end
  if not any then
    fault(file, line, "source is missing")
  end
end

local function check_given(file, row, columns)
  for _, column in ipairs(columns) do
    if row[column] == "" then
      fault(file, row.line, "%s is missing", column)
    end
  end
end

local function check_standing(file, line, standing, allowed)
  if standing ~= "" and not allowed[standing] then
    fault(file, line, "unknown standing \"%s\"", standing)
  end
end

local function read_sources()
  local file = "SOURCES.csv"
  local t = load(file, { "id", "title", "where", "standing", "note" })
  for _, row in ipairs(t.rows) do
    check_given(file, row, { "id", "title", "where", "standing" })
    check_standing(file, row.line, row.standing, standings)
    if row.id:find("[;%s]") then
      fault(file, row.line, "the id \"%s\" holds a blank or a semicolon", row.id)
    elseif known[row.id] then
      fault(file, row.line, "the id \"%s\" is repeated", row.id)
    end
    known[row.id] = row.line
  end
  return #t.rows
end

-- Plain decimal numbers only: no hexadecimal, no infinity.
local function number(text)
  return text:match("^[+-]?[%d.]+[eE]?[+-]?%d*$") and tonumber(text)
end

local function says(reason, ...)
  for _, word in ipairs { ... } do
    if reason:lower():find(word, 1, true) then
      return true
    end
  end
  return false
end

local function check_memory(file, row, tolerance, expected)
  local relative = tolerance
  if row.mode == "abs" then
    relative = expected ~= 0 and tolerance / math.abs(expected) or math.huge
  end
  if row.standing == "memory" and relative < MEMORY_TOLERANCE
      and not says(row.reason, "recomputed", "exact") then
    fault(file, row.line, "%s: a value from memory with a tolerance of %s", row.id, row.tolerance)
  end
end

local function check_point(file, row)
  check_given(file, row, { "id", "what", "expected", "unit", "tolerance", "mode", "reason",
    "source", "standing" })
  check_sources(file, row.line, row.source)
  check_standing(file, row.line, row.standing, standings)
  local expected, tolerance = number(row.expected), number(row.tolerance)
  if row.expected ~= "" and not expected then
    fault(file, row.line, "expected \"%s\" is not a number", row.expected)
  end
  if row.mode ~= "" and row.mode ~= "abs" and row.mode ~= "rel" then
    fault(file, row.line, "mode \"%s\" is neither abs nor rel", row.mode)
  end
  if row.tolerance ~= "" and not tolerance then
    fault(file, row.line, "tolerance \"%s\" is not a number", row.tolerance)
  elseif tolerance and tolerance < 0 then
    fault(file, row.line, "the tolerance is negative")
  elseif tolerance == 0 and not says(row.reason, "exact") then
    fault(file, row.line, "the tolerance is 0 and the reason does not say exact")
  elseif tolerance and expected then
    check_memory(file, row, tolerance, expected)
  end
end

local function check_points(file)
  local t = load(file, { "id", "what", "expected", "unit", "tolerance", "mode", "reason",
    "source", "standing" })
  local seen = {}
  for _, row in ipairs(t.rows) do
    check_point(file, row)
    if seen[row.id] then
      fault(file, row.line, "the id \"%s\" is repeated", row.id)
    end
    seen[row.id] = true
  end
  if #t.rows == 0 then
    fault(file, 1, "no row")
  end
  rows = rows + #t.rows
end

local function check_table(file)
  local t = load(file, {})
  local said = {}
  for _, comment in ipairs(t.comments) do
    local key, text = comment:match("^#%s*(%a+):%s*(.-)%s*$")
    if key then
      said[key] = text
    end
  end
  for _, key in ipairs { "source", "standing", "tolerance", "reason", "units" } do
    if (said[key] or "") == "" then
      fault(file, 1, "the line \"# %s: ...\" is missing", key)
    end
  end
  if (said.source or "") ~= "" then
    check_sources(file, 1, said.source)
  end
  -- A remark on single rows may follow a semicolon.
  check_standing(file, 1, (said.standing or ""):match("^[^;]*"), standings)
  for _, row in ipairs(t.rows) do
    if row.source then
      check_sources(file, row.line, row.source)
    end
  end
  if #t.rows == 0 then
    fault(file, 1, "no row")
  end
  rows = rows + #t.rows
end

local function check_materials(file)
  local t = load(file, { "name", "property", "value", "unit", "sd", "low", "high", "standing",
    "source" })
  for _, row in ipairs(t.rows) do
    check_given(file, row, { "name", "property", "value", "sd", "low", "high", "standing" })
    check_standing(file, row.line, row.standing, material_standings)
    check_sources(file, row.line, row.source)
  end
  if #t.rows == 0 then
    fault(file, 1, "no row")
  end
  rows = rows + #t.rows
end

local function check_folder(folder, pattern, check)
  local files = csv.list(data .. "/" .. folder, pattern)
  if #files == 0 then
    fault(folder, 0, "no table of the form %s", pattern)
  end
  for _, file in ipairs(files) do
    check(folder .. "/" .. file)
  end
end

local function check_strangers()
  for _, file in ipairs(csv.list(data .. "/checks", "%.csv$")) do
    if not file:match("^points_") and not file:match("^table_") then
      fault("checks/" .. file, 0, "is neither points_ROOM.csv nor table_NAME.csv")
    end
  end
end

local sources = read_sources()
if faults > 0 then
  os.exit(1)
end
check_folder("checks", "^points_.*%.csv$", check_points)
check_folder("checks", "^table_.*%.csv$", check_table)
check_folder("materials", "%.csv$", check_materials)
check_strangers()

local unused = {}
for id in pairs(known) do
  if not used[id] then
    unused[#unused + 1] = id
  end
end
table.sort(unused)
for _, id in ipairs(unused) do
  io.stderr:write(("SOURCES.csv:%d: warning: \"%s\" is never used\n"):format(known[id], id))
end

print(("%d rows, %d sources"):format(rows, sources))
os.exit(faults == 0 and 0 or 1)
