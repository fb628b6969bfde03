-- SPDX-License-Identifier: GPL-3.0-or-later
-- Whole jobs answered by short scripts, then with a value missing, a unit wrong, a value
-- impossible.
package.path = "tests/scripts/?.lua;" .. package.path
local lu = require "luaunit"
local support = require "support"

local function changed(path, from, to)
  local text = support.read(path)
  local first, last = text:find(from, 1, true)
  assert(first, "nothing to change: " .. from)
  local name = os.tmpname()
  support.write(name, text:sub(1, first - 1) .. to .. text:sub(last + 1))
  local printed, complaint, status = support.run(name)
  os.remove(name)
  return complaint, status, printed
end

local function refused(path, from, to, words)
  local complaint, status = changed(path, from, to)
  lu.assertNotEquals(status, 0)
  for _, word in ipairs(words) do
    lu.assertStrContains(complaint, word)
  end
end

TestCanoe = {}
local canoe = "scripts/stories/autumn-canoe.lua"

function TestCanoe.test_answers()
  local text = support.runs(canoe)
  lu.assertStrContains(text, "5.49 m2")
  lu.assertStrContains(text, "1.12 kg")
  local evening = tonumber(text:match "21:30\t[^\n]-(%d+) %%")
  local morning = tonumber(text:match "11:00\t[^\n]-(%d+) %%")
  lu.assertTrue(evening < 20, "at 21:30: " .. evening)
  lu.assertTrue(morning > 80, "at 11:00: " .. morning)
end

function TestCanoe.test_refuses()
  refused(canoe, 'recoat_temperature = "21 degC"', "", { "recoat_temperature" })
  refused(canoe, 'length = "5.20 m"', 'length = "5.20 kg"', { "length" })
  refused(canoe, "905", "-905", { "girth", "-0.905 m" })
  refused(canoe, "905", '"905"', { "girth[2]" })
end

TestSailer = {}
local sailer = "scripts/stories/day-sailer.lua"

function TestSailer.test_answers()
  local text = support.runs(sailer)
  lu.assertStrContains(text, "15.99 m2")
  lu.assertStrContains(text, "2.98 m")
  lu.assertStrContains(text, "roll 1.52 m lengthwise: 3 pieces")
  lu.assertStrContains(text, "0, 0, 1\tfor\t585 money")
  lu.assertStrMatches(text:match "mass that the sheathing adds[^\n]*", ".*kg %(.* to .*%).*")
end

function TestSailer.test_refuses()
  refused(sailer, 'pot_life = "25 min", ', "", { "no time" })
  refused(sailer, 'areal_mass = "200 g/m2"', 'areal_mass = "6 oz"', { "oz/yd2" })
  refused(sailer, 'price = "41 money"', 'price = "-41 money"', { "price" })
end

os.exit(lu.LuaUnit.run())
