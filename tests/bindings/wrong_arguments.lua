-- SPDX-License-Identifier: GPL-3.0-or-later
-- Wrong arguments, made from what rw.describe() says each function takes: every required field
-- left out, an unknown field, each field misspelt, each field of a wrong kind. Every one must be
-- refused with an error that names the field.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local samples = require "samples"

-- luacheck: globals TestWrongArguments TestZCount TestSelf

local modules = { resinwright = require "resinwright", rw_probe = require "rw_probe" }

local function sample(rw, kind)
  local make = samples[kind]
  lu.assertNotNil(make, "tests/bindings/samples.lua has no line for " .. kind)
  return make(rw)
end

local right -- forward

local function right_record(rw, fields)
  local record = {}
  for _, field in ipairs(fields) do
    if field.required then
      record[field.name] = right(rw, field)
    end
  end
  return record
end

local one = {
  quantity = function(_, field) return field.unit == "" and 1 or "1 " .. field.unit end,
  temperature = function() return "21 degC" end,
  ["temperature difference"] = function() return "5 K" end,
  share = function() return 0.5 end,
  number = function() return 1 end,
  integer = function() return 1 end,
  string = function() return "x" end,
  boolean = function() return true end,
  choice = function(_, field) return field.choices[1] end,
  ["clock time"] = function() return "2026-10-03 15:30" end,
  object = function(rw, field) return sample(rw, field.type) end,
  table = function() return {} end,
  ["function"] = function() return print end,
  record = function(rw, field) return right_record(rw, field.fields) end,
}
one["uncertain quantity"] = function(rw, field)
  return field.unit == "K" and "21 degC" or one.quantity(rw, field)
end

function right(rw, field)
  local value = one[field.kind](rw, field)
  return field.list and { value } or value
end

-- A text of another dimension than the unit's.
local function other(unit)
  return (unit == "kg" and "1 m" or "1 kg")
end

local function wrong_quantity(_, field)
  local list = { true, {}, print, "no number", "", "\n\0", "1 nonsense", other(field.unit),
    "5 oz" }
  if field.unit ~= "" then
    list[#list + 1] = 5
    list[#list + 1] = "5"
  else
    list[#list + 1] = 0 / 0
  end
  return list
end

local wrong = {
  quantity = wrong_quantity,
  temperature = function() return { true, {}, 21, "21", "5 kg", "warm" } end,
  ["temperature difference"] = function() return { true, {}, 5, "5 degC", "5 kg" } end,
  share = function() return { true, {}, 70, -0.1, 0 / 0, "x", "5 m", "170 %", "0.5" } end,
  number = function() return { true, {}, "5", "5 m", 0 / 0, 1 / 0, print } end,
  integer = function() return { true, {}, "5", 1.5, 1e300, 0 / 0 } end,
  string = function() return { true, {}, 5, print } end,
  boolean = function() return { "true", {}, 1, print } end,
  choice = function(_, field)
    return { true, {}, 5, "no such word", field.choices[1] .. "x", "" }
  end,
  ["clock time"] = function() return { true, {}, 1700000000, "yesterday", "2026-02-30 10:00" } end,
  object = function() return { true, {}, 5, "x", io.stdout } end,
  table = function() return { true, 5, "x" } end,
  ["function"] = function() return { true, 5, "x", {} } end,
  record = function() return { true, 5, "x" } end,
  ["uncertain quantity"] = function(rw, field)
    local good = one["uncertain quantity"](rw, field)
    return { true, {}, other(field.unit), { value = good }, { low = good },
      { value = good, sd = -1 }, { value = good, sd = other(field.unit) },
      { value = good, high = good }, { low = good, high = good, more = 1 } }
  end,
}

-- Calls a described function with an argument table.
local function caller(rw, f)
  if f.self then
    local object = sample(rw, f.self)
    return function(...) return object[f.name](object, ...) end
  end
  return rw[f.name]
end

local function names(argument, place)
  return argument == place or argument:sub(1, #place + 1) == place .. "."
    or argument:sub(1, #place + 1) == place .. "["
end

local checked = 0

local function check(place, call, arguments)
  checked = checked + 1
  local err = support.refused(call, arguments)
  lu.assertNotNil(err.argument, place .. ": " .. tostring(err))
  lu.assertTrue(names(err.argument, place),
    ("%s expected, %s named: %s"):format(place, err.argument, tostring(err)))
  lu.assertStrContains(err.message, place)
end

local walk -- forward

-- `wrap` puts a record where it belongs in the arguments; `up` is its place in words.
local function check_field(rw, call, field, wrap, up)
  local place = up .. field.name
  for _, value in ipairs(wrong[field.kind](rw, field)) do
    check(place, call, wrap { [field.name] = field.list and { value } or value })
  end
  if field.list then
    local good = one[field.kind](rw, field)
    for _, value in ipairs { true, 5, "x", { [1] = good, [3] = good }, { good, name = good } } do
      check(place, call, wrap { [field.name] = value })
    end
  end
  check(up .. field.name .. "qq", call, wrap { [field.name .. "qq"] = 1 })
  if field.fields then
    walk(rw, call, field.fields, function(record)
      return wrap { [field.name] = field.list and { record } or record }
    end, place .. (field.list and "[1]." or "."))
  end
end

local function check_missing(rw, call, fields, wrap, up)
  for _, field in ipairs(fields) do
    if field.required then
      local record = right_record(rw, fields)
      record[field.name] = nil
      check(up .. field.name, call, wrap(record))
    end
  end
end

local function check_default(call, field, wrap, up)
  if not field.default then
    return
  end
  local value = field.default
  if field.kind == "number" or field.kind == "integer" then
    value = tonumber(value)
  elseif field.kind == "boolean" then
    value = value == "true"
  end
  local _, err = pcall(call, wrap { [field.name] = value })
  lu.assertFalse(type(err) == "table" and err.argument == up .. field.name, tostring(err))
end

function walk(rw, call, fields, wrap, up)
  check(up .. "entirely_unknown", call, wrap { entirely_unknown = 1 })
  check_missing(rw, call, fields, wrap, up)
  for _, field in ipairs(fields) do
    check_field(rw, call, field, wrap, up)
    check_default(call, field, wrap, up)
  end
end

local function itself(record) return record end

local function check_shape(call, f)
  for _, value in ipairs { 5, "x", true, print } do
    support.refused(call, value)
  end
  support.refused(call, {}, {})
  support.refused(call, { "unnamed" })
  support.refused(call, { [true] = 1 })
  for _, field in ipairs(f.fields) do
    if field.required then
      support.refused(call)
    end
  end
end

local cases = {}
for module, rw in pairs(modules) do
  for _, f in ipairs(rw.describe().functions) do
    local title = module .. "_" .. (f.self and f.self .. "_" or "") .. f.name
    if f.style == "named" then
      cases["test_" .. title:gsub(" ", "_")] = function()
        local call = caller(rw, f)
        check_shape(call, f)
        walk(rw, call, f.fields, itself, "")
      end
    end
  end
end
TestWrongArguments = cases

-- Guards against a description that came back empty; runs last, as luaunit goes by the alphabet.
TestZCount = {}
function TestZCount.test_count()
  lu.assertTrue(checked > 250, tostring(checked))
end

-- A method called with a dot where a colon belongs.
TestSelf = {}
function TestSelf.test_dot()
  local rw = modules.rw_probe
  local crate = rw.crate { weight = "1 kg" }
  support.refused_for("crate", { "colon" }, crate.weigh, { times = 1 })
  support.refused_for("crate", { "colon" }, crate.weigh)
end

-- A misspelt name is told with the one that was meant.
function TestSelf.test_nearest()
  local rw = modules.rw_probe
  support.refused_for("lenght", { "did you mean length?" }, rw.echo, { lenght = "1 m" })
  support.refused_for("weave", { "did you mean \"twill\"?" }, rw.echo, { weave = "twil" })
end

os.exit(lu.LuaUnit.run(), true)
