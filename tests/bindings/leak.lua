-- SPDX-License-Identifier: GPL-3.0-or-later
-- Nothing stays behind after many calls, refused or not. Under valgrind the same program shows
-- what the collector cannot see; RW_ROUNDS=20 makes it short enough for that.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local probe = require "rw_probe"

local rounds = tonumber(os.getenv "RW_ROUNDS" or "2000")

local function data(text) return rw.read_datafile { text = text, name = "boat.lua" } end

local calls = {
  good_quantity = function() return rw.q "520 mm" * "1 m" + "1 m2" end,
  good_range = function()
    return tostring(probe.stack { ply = { { thickness = "1 mm" } }, core = { thickness = "1 m" } })
  end,
  good_lists = function()
    return probe.echo_lists { girth = { unit = "mm", 520, 905 }, area = { "1 m2", "2 m2" } }
  end,
  good_object = function() return probe.crate { weight = "1 kg" }:weigh { times = 2 } end,
  bad_panel = function()
    return rw.laminate { plies = { { wood = "okoume", thickness = "6 mm" } } }
      :panel { length = "0.9 m", width = "0.01 m", pressure = "1 kPa" }
  end,
  good_file = function() return data "return {girth = {unit = 'mm', 520, 905}}" end,
  bad_dimension = function() return rw.q "520 mm" + "1 kg" end,
  bad_field = function() return probe.echo { lenght = "1 m" } end,
  bad_element = function() return probe.echo_lists { girth = { "1 m", "2 m", 520 } } end,
  bad_record = function() return probe.stack { ply = { { thickness = "1 mm" }, {} } } end,
  bad_object = function() return probe.crate { weight = "3 kg", fail = true } end,
  bad_progress = function()
    return probe.echo { length = "1 m", progress = function() error "stop" end }
  end,
  bad_syntax = function() return data "return {" end,
  bad_data = function() return data "return {a = {b = {function() end}}}" end,
  bad_global = function() return data "os.exit()" end,
  bad_path = function() return rw.read_datafile { path = "no/such/file" } end,
  bad_directory = function() return rw.read_datafile { path = "." } end,
}

TestLeak = {} -- luacheck: ignore
for name, call in pairs(calls) do
  TestLeak["test_" .. name] = function() -- luacheck: ignore
    local wanted = name:find "^good" ~= nil
    for _ = 1, 50 do
      lu.assertEquals(pcall(call), wanted)
    end
    local before = support.memory()
    for _ = 1, rounds do
      pcall(call)
    end
    lu.assertTrue(support.memory() - before < 4, "kilobytes stay behind")
  end
end

-- The state of a boat file is closed at once, also where its file was refused.
function TestLeak.test_memory_outside_of_lua() -- luacheck: ignore
  -- Sanitizers and valgrind keep freed memory back on purpose, and look for leaks themselves.
  lu.skipIf(os.getenv "RW_ROUNDS" or (os.getenv "LD_PRELOAD" or ""):find "asan", "under a checker")
  local function resident()
    local file = io.open "/proc/self/statm"
    if not file then
      return 0
    end
    local pages = file:read("a"):match "^%d+ (%d+)"
    file:close()
    return tonumber(pages) * 4
  end
  local big = "local t = {} for i = 1, 20000 do t[i] = 'text ' .. i end return {f = %s}"
  local function run(n)
    for i = 1, n do
      pcall(data, big:format(i % 2 == 0 and "function() end" or "1"))
    end
    collectgarbage()
    collectgarbage()
  end
  local n = math.max(4, rounds // 50)
  run(n)
  local before = resident()
  run(3 * n)
  lu.assertTrue(resident() - before < 8192, "kilobytes stay behind")
end

os.exit(lu.LuaUnit.run(), true)
