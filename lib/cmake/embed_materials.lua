-- SPDX-License-Identifier: GPL-3.0-or-later
-- Turns the material tables into C:  lua5.4 embed_materials.lua MATERIALS_DIR OUT.c
-- Every value is converted to SI. Exit 1 with FILE:LINE: MESSAGE where a table cannot be trusted.
local here = arg[0]:match("^(.*)/[^/]*$") or "."
package.path = here .. "/?.lua;" .. package.path
local csv = require "csv"

-- In the order of rw_material_kind.
local kinds = {
  { enum = "RW_FIBRE", files = { "fibres.csv" } },
  { enum = "RW_CLOTH", files = { "cloths.csv" } },
  { enum = "RW_WOOD", files = { "woods.csv" } },
  { enum = "RW_RESIN", files = { "resins.csv", "matrix.csv" } },
}

local columns = { "name", "title", "weave", "fibre", "property", "value", "unit", "sd", "low",
  "high", "standing", "source" }
local weaves = { plain = true, twill = true, satin = true, unidirectional = true, biaxial = true,
  mat = true }
local standings = { read = true, ["second-hand"] = true, derived = true, memory = true,
  ["common practice"] = true }

-- Room that data.c keeps for names; see tables.h.
local MOST_MATERIALS, MOST_PROPERTIES = 96, 64

-- { factor, SI unit, offset }: SI = factor x + offset; a spread takes the factor only.
local units = {
  [""] = { 1, "" },
  ["%"] = { 0.01, "" },
  ["kg/m3"] = { 1, "kg/m3" },
  ["g/cm3"] = { 1000, "kg/m3" },
  ["lb/ft3"] = { 0.45359237 / 0.3048 ^ 3, "kg/m3" },
  ["Pa"] = { 1, "Pa" },
  ["kPa"] = { 1e3, "Pa" },
  ["MPa"] = { 1e6, "Pa" },
  ["GPa"] = { 1e9, "Pa" },
  ["psi"] = { 0.45359237 * 9.80665 / 0.0254 ^ 2, "Pa" },
  ["kg/m2"] = { 1, "kg/m2" },
  ["g/m2"] = { 1e-3, "kg/m2" },
  ["oz/yd2"] = { 0.45359237 / 16 / 0.9144 ^ 2, "kg/m2" },
  ["m"] = { 1, "m" },
  ["mm"] = { 1e-3, "m" },
  ["um"] = { 1e-6, "m" },
  ["m3/kg"] = { 1, "m3/kg" },
  ["mm m2/kg"] = { 1e-3, "m3/kg" },
  ["rad"] = { 1, "rad" },
  ["deg"] = { math.pi / 180, "rad" },
  ["K"] = { 1, "K" },
  ["degC"] = { 1, "K", 273.15 },
  ["1/K"] = { 1, "1/K" },
  ["J/mol"] = { 1, "J/mol" },
  ["kJ/mol"] = { 1e3, "J/mol" },
  ["J/kg"] = { 1, "J/kg" },
  ["kJ/kg"] = { 1e3, "J/kg" },
  ["J/g"] = { 1e3, "J/kg" },
  ["J/(kg K)"] = { 1, "J/(kg K)" },
  ["J/(g K)"] = { 1e3, "J/(kg K)" },
  ["kJ/(kg K)"] = { 1e3, "J/(kg K)" },
  ["W/(m K)"] = { 1, "W/(m K)" },
  ["W/(m2 K)"] = { 1, "W/(m2 K)" },
  ["kg/mol"] = { 1, "kg/mol" },
  ["g/mol"] = { 1e-3, "kg/mol" },
  ["s"] = { 1, "s" },
  ["min"] = { 60, "s" },
  ["h"] = { 3600, "s" },
  ["d"] = { 86400, "s" },
  ["1/s"] = { 1, "1/s" },
  ["1/min"] = { 1 / 60, "1/s" },
  ["1/h"] = { 1 / 3600, "1/s" },
  ["1/d"] = { 1 / 86400, "1/s" },
  ["Pa s"] = { 1, "Pa s" },
  ["mPa s"] = { 1e-3, "Pa s" },
  ["N/m"] = { 1, "N/m" },
  ["mN/m"] = { 1e-3, "N/m" },
  ["m2/s"] = { 1, "m2/s" },
  ["mm2/s"] = { 1e-6, "m2/s" },
}

local function refuse(file, line, format, ...)
  io.stderr:write(("%s:%d: %s\n"):format(file, line, format:format(...)))
  os.exit(1)
end

local function number(file, row, column)
  local text = row[column]
  if text == "" then
    refuse(file, row.line, "%s of %s: %s is missing", row.property, row.name, column)
  end
  local plain = text:match("^[+-]?%d+%.?%d*[eE]?[+-]?%d*$")
  local value = plain and tonumber(text)
  if not value or value ~= value or value == math.huge or value == -math.huge then
    refuse(file, row.line, "%s of %s: %s \"%s\" is not a number", row.property, row.name, column,
      text)
  end
  return value + 0.0
end

-- Dividing by 1000 gives the double nearest to 0.203; multiplying by 0.001 may miss it.
local function scaled(x, factor)
  return factor < 1 and x / (1 / factor) or x * factor
end

local function property(file, row)
  for _, column in ipairs { "property", "standing", "source" } do
    if row[column] == "" then
      refuse(file, row.line, "%s of %s: %s is missing", row.property, row.name, column)
    end
  end
  if not standings[row.standing] then
    refuse(file, row.line, "%s of %s: unknown standing \"%s\"", row.property, row.name,
      row.standing)
  end
  local unit = units[row.unit]
  if not unit then
    refuse(file, row.line, "%s of %s: unknown unit \"%s\"", row.property, row.name, row.unit)
  end
  local value, sd = number(file, row, "value"), number(file, row, "sd")
  local low, high = number(file, row, "low"), number(file, row, "high")
  if low > value then
    refuse(file, row.line, "%s of %s: low is above the value", row.property, row.name)
  elseif value > high then
    refuse(file, row.line, "%s of %s: the value is above high", row.property, row.name)
  elseif sd < 0 then
    refuse(file, row.line, "%s of %s: sd is negative", row.property, row.name)
  end
  local offset = unit[3] or 0.0
  return {
    name = row.property, unit = unit[2], standing = row.standing, source = row.source,
    value = scaled(value, unit[1]) + offset, sd = scaled(sd, unit[1]),
    low = scaled(low, unit[1]) + offset, high = scaled(high, unit[1]) + offset,
  }
end

local function new_material(file, row, kind)
  local is_cloth = kind.enum == "RW_CLOTH"
  if row.title == "" then
    refuse(file, row.line, "%s: title is missing on its first row", row.name)
  elseif is_cloth and not weaves[row.weave] then
    refuse(file, row.line, "%s: unknown weave \"%s\"", row.name, row.weave)
  elseif is_cloth and row.fibre == "" then
    refuse(file, row.line, "%s: fibre is missing on its first row", row.name)
  elseif not is_cloth and (row.weave ~= "" or row.fibre ~= "") then
    refuse(file, row.line, "%s: only a cloth has a weave and a fibre", row.name)
  end
  return { name = row.name, title = row.title, weave = row.weave, fibre = row.fibre, file = file,
    line = row.line, seen = {} }
end

local function add(kind, file, row)
  if row.name == "" then
    refuse(file, row.line, "name is missing")
  end
  local last = kind[#kind]
  local key = row.name:lower()
  if not last or last.name ~= row.name then
    if kind.known[key] then
      refuse(file, row.line, "the name \"%s\" is repeated", row.name)
    end
    last = new_material(file, row, kind)
    kind.known[key] = true
    kind[#kind + 1] = last
  else
    for _, column in ipairs { "title", "weave", "fibre" } do
      if row[column] ~= "" and row[column] ~= last[column] then
        refuse(file, row.line, "%s: its %s differs from the first row", row.name, column)
      end
    end
  end
  local p = property(file, row)
  if last.seen[p.name:lower()] then
    refuse(file, row.line, "the property \"%s\" of %s is repeated", p.name, last.name)
  end
  last.seen[p.name:lower()] = true
  last[#last + 1] = p
  if #last > MOST_PROPERTIES then
    refuse(file, row.line, "%s has more than %d properties", last.name, MOST_PROPERTIES)
  elseif #kind > MOST_MATERIALS then
    refuse(file, row.line, "more than %d materials of a kind", MOST_MATERIALS)
  end
end

local function read(folder)
  local present, expected = {}, {}
  for _, file in ipairs(csv.list(folder, "%.csv$")) do
    present[file] = true
  end
  for _, kind in ipairs(kinds) do
    kind.known = {}
    for _, file in ipairs(kind.files) do
      expected[file] = true
      if present[file] then
        local t, line, why = csv.read(folder .. "/" .. file)
        if not t then
          refuse(file, line, "%s", why)
        elseif table.concat(t.header, ",") ~= table.concat(columns, ",") then
          refuse(file, 1, "the columns must be %s", table.concat(columns, ","))
        end
        for _, row in ipairs(t.rows) do
          add(kind, file, row)
        end
      elseif file ~= "resins.csv" then
        refuse(file, 0, "the table is missing")
      end
    end
    if #kind == 0 then
      refuse(kind.files[1], 0, "no material at all")
    end
  end
  for file in pairs(present) do
    if not expected[file] then
      refuse(file, 0, "no kind of material is known for this table")
    end
  end
  for _, cloth in ipairs(kinds[2]) do
    if not kinds[1].known[cloth.fibre:lower()] then
      refuse(cloth.file, cloth.line, "%s: unknown fibre \"%s\"", cloth.name, cloth.fibre)
    end
  end
end

local function quote(text)
  return '"' .. text:gsub('[\\"]', "\\%0"):gsub("?", "\\?") .. '"'
end

local function real(x)
  local text = ("%.17g"):format(x):gsub(",", ".")
  return text:find("[.e]") and text or text .. ".0"
end

local function write(path)
  local lines = {
    "/* SPDX-License-Identifier: GPL-3.0-or-later */",
    "/* Made at build time from reference-data/materials; not for editing. */",
    '#include "tables.h"',
    "",
  }
  local function put(format, ...)
    lines[#lines + 1] = format:format(...)
  end
  for k, kind in ipairs(kinds) do
    for i, m in ipairs(kind) do
      put("static const rw_property property_%d_%d[] = {", k, i)
      for _, p in ipairs(m) do
        put("    {%s, %s, %s, %s, %s, %s, %s, %s},", quote(p.name), quote(p.unit), real(p.value),
          real(p.sd), real(p.low), real(p.high), quote(p.standing), quote(p.source))
      end
      put("};")
    end
    put("static const rw_material kind_%d[] = {", k)
    for i, m in ipairs(kind) do
      put("    {%s, %s, %s, %s, %s, %d, property_%d_%d},", kind.enum, quote(m.name),
        quote(m.title), quote(m.weave), quote(m.fibre), #m, k, i)
    end
    put("};")
    put("")
  end
  put("const rw_material_list rw_material_lists[RW_MATERIAL_KINDS] = {")
  for k, kind in ipairs(kinds) do
    put("    {%d, kind_%d},", #kind, k)
  end
  put("};")
  local f, why = io.open(path, "w")
  if not f or not f:write(table.concat(lines, "\n"), "\n") or not f:close() then
    refuse(path, 0, "%s", why or "cannot be written")
  end
end

if #arg ~= 2 then
  io.stderr:write("use: lua5.4 embed_materials.lua MATERIALS_DIR OUT.c\n")
  os.exit(1)
end
read(arg[1])
write(arg[2])
