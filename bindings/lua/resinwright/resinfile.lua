-- SPDX-License-Identifier: GPL-3.0-or-later
-- A resin as a small file of data, so that what one script has found another can use.
--
-- The file returns one table: `name`, `note` and `from` say what it is, `resin` holds its numbers
-- as resin:values gives them. It is read where nothing can be reached, as a boat file is.
local rw = require "resinwright"
local refusal = require "resinwright.refusal"
local text = require "resinwright.text"

local resinfile = {}

local function stop(message, hint)
  error({ message = message, hint = hint }, 0)
end

-- SI units in which a value reads back to the same digits.
local units = {
  rate = "1/s", k1 = "1/s", k2 = "1/s", k3 = "1/s", slope = "1/K", c2 = "K",
  E1 = "J/mol", E2 = "J/mol", E3 = "J/mol", energy = "J/mol", energy_sd = "J/mol",
  reference = "K", uncured = "K", cured = "K",
  viscosity = "Pa s", work_viscosity = "Pa s",
  heat = "J/kg", heat_capacity = "J/(kg K)", density = "kg/m3",
}

local function written(name, value)
  local unit = units[name]
  if unit then
    return ('"%s %s"'):format(text.shortest(value:to(unit)), unit)
  elseif type(value) == "number" then
    return text.shortest(value)
  end
  return ("%q"):format(value)
end

-- Lines of a table in the order of its names, those that are tables last.
local function add_table(lines, margin, t)
  local names = {}
  for name in pairs(t) do
    names[#names + 1] = name
  end
  table.sort(names, function(a, b)
    local x, y = type(t[a]) == "table", type(t[b]) == "table"
    if x ~= y then
      return y
    end
    return a < b
  end)
  for _, name in ipairs(names) do
    local value = t[name]
    if type(value) == "table" then
      lines[#lines + 1] = ("%s%s = {"):format(margin, name)
      add_table(lines, margin .. "  ", value)
      lines[#lines + 1] = margin .. "},"
    else
      lines[#lines + 1] = ("%s%s = %s,"):format(margin, name, written(name, value))
    end
  end
end

-- The text of a resin file. about: name, note and from, each words or left out.
function resinfile.text(resin, about)
  local lines = {
    "-- A resin in numbers, for scripts that take a resin file. SI units.",
    "-- The maker's data sheet comes before every number here.",
    "return {",
  }
  for _, name in ipairs { "name", "note", "from" } do
    if about[name] then
      lines[#lines + 1] = ("  %s = %q,"):format(name, about[name])
    end
  end
  lines[#lines + 1] = "  resin = {"
  add_table(lines, "    ", resin:values {})
  lines[#lines + 1] = "  },"
  lines[#lines + 1] = "}"
  return table.concat(lines, "\n") .. "\n"
end

local known = { name = "string", note = "string", from = "string", resin = "table" }

local function check(path, t)
  for name, value in pairs(t) do
    local kind = known[name]
    if not kind then
      stop(("%s: there is no field \"%s\""):format(path, tostring(name)),
        "A resin file has name, note, from and resin.")
    elseif type(value) ~= kind then
      stop(("%s: %s must be a %s, found a %s"):format(path, name, kind, type(value)))
    end
  end
  if not t.resin then
    stop(("%s: this is no resin file, it has no field resin"):format(path),
      "The script logbook writes one.")
  end
end

-- Makes one object; a refusal is said again with the file's name.
local function made(path, what, build, record)
  return refusal.reworded(function(message, hint)
    return ("%s: %s: %s"):format(path, what, message), hint
  end, build, record)
end

-- Reads a resin file: the resin, and the file's name, note and from.
function resinfile.read(path)
  local t = rw.read_datafile { path = path }
  check(path, t)
  local record = {}
  for name, value in pairs(t.resin) do
    record[name] = value
  end
  if record.law ~= nil then
    if type(record.law) ~= "table" then
      stop(("%s: resin.law must be a table, found a %s"):format(path, type(record.law)))
    end
    record.law = made(path, "resin.law", rw.law, record.law)
  end
  return made(path, "resin", rw.resin, record), { name = t.name, note = t.note, from = t.from }
end

return resinfile
