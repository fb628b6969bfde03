-- SPDX-License-Identifier: GPL-3.0-or-later
-- What the handbook says of mending is what its own commands print.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"

-- luacheck: globals TestHandbook

TestHandbook = {}

local section = support.read("docs/handbook.md"):match "\n### Mending a gouge.-\n## "
local prose = section:gsub("```.-```", "")

-- The commands of its block, each as the words that stand after lua5.4.
local function commands()
  local out = {}
  for line in section:match("```sh\n(.-)```"):gmatch "[^\n]+" do
    local words, from = {}, assert(line:match "^lua5%.4 ()")
    while from <= #line do
      local word, after = line:match('^"([^"]*)"%s*()', from)
      if not word then
        word, after = line:match("^(%S+)%s*()", from)
      end
      words[#words + 1], from = word, after
    end
    out[#out + 1] = words
  end
  return out
end

-- What a command prints, told as sections; some of its words may be left out and others added.
local function runs(words, less, ...)
  local kept = { words[1] }
  local i = 2
  while words[i] do
    if less and words[i] == less then
      i = i + 1
    elseif words[i] ~= "--page" then
      kept[#kept + 1] = words[i]
    else
      i = i + 1
    end
    i = i + 1
  end
  table.move({ ... }, 1, select("#", ...), #kept + 1, kept)
  kept[#kept + 1] = "--json"
  return support.json(support.runs(table.unpack(kept)))
end

-- The captures of a pattern in the prose, where it must stand.
local function said(pattern)
  local found = { prose:match(pattern) }
  lu.assertTrue(#found > 0, "the handbook doesn't say: " .. pattern)
  return table.unpack(found)
end

local function number(words)
  return math.tointeger(tonumber(words))
end

local all = commands()
local gouge, let_in, bottom = runs(all[1]), runs(all[2]), runs(all[3])

function TestHandbook.test_there_are_three_commands()
  lu.assertEquals(#all, 3)
  for _, words in ipairs(all) do
    lu.assertEquals(words[1], "scripts/repair-patch.lua")
  end
end

function TestHandbook.test_a_gouge()
  local n, cloth, largest, rim, low, high = said("at a price: (%d+) layers of (%S+), the largest "
    .. "(%S+ mm by %S+ mm), inside a sanded rim of (%S+ mm), and (%S+) to (%S+) g more")
  local short = gouge.short
  lu.assertEquals(short.layers.value, ("%s layers of %s"):format(n, cloth))
  lu.assertEquals(short.largest.value, largest)
  lu.assertEquals(short.sand.value, "a rim of " .. rim)
  lu.assertStrContains(short.added.value, ("(%s to %s)"):format(low, high))
end

function TestHandbook.test_new_wood()
  local n, largest, wood, low, high = said("lets new wood in first, and (%d+) layer of the old "
    .. "cloth does, (%S+ mm by %S+ mm) over new wood of (%S+ mm by %S+ mm), with (%S+) to (%S+) "
    .. "g of resin to mix")
  local short = let_in.short
  lu.assertEquals(short.layers.value, n .. " layer of glass-203-plain")
  lu.assertEquals(short.largest.value, largest)
  lu.assertEquals(short.new_wood.value, wood)
  lu.assertStrContains(short.mix.value, ("(%s to %s)"):format(low, high))
end

function TestHandbook.test_a_bottom_patch()
  local n, step, blunt, stepped = said("lays (%d+) more layers along the keel, each step "
    .. "(%S+ mm); the strain that jumps by up to (%S+) times at a blunt edge jumps by (%S+) at")
  local short = bottom.short
  lu.assertEquals(short.layers.value, n .. " layers of glass-203-plain")
  lu.assertEquals(short.step.value, step)
  lu.assertAlmostEquals(short.jump.value, tonumber(blunt), 0.005 + 1e-9)
  lu.assertAlmostEquals(short.step_jump.value, tonumber(stepped), 0.005 + 1e-9)
end

function TestHandbook.test_layers_and_slopes()
  lu.assertEquals(runs(all[1], nil, "--aim", "stiffness").layers.taken.value,
    number(said "for stiffness alone: (%d+) layers in the first command"))
  local more, light, old = said("`%-%-layers%-gone 1`, (%d+) layers of (%S+) for the one of "
    .. "(%S+)%.")
  local function taken(cloth)
    return runs(all[1], "--wood-left", "--layers-gone", "1", "--cloth", cloth).layers.taken.value
  end
  lu.assertEquals(taken(light), number(more))
  lu.assertEquals(taken(old), 1)
  lu.assertEquals(gouge.taper.cloth_along.value, (said "width: (1 in %d+) in the first command"))
end

-- The defaults that the text names are those of the help.
function TestHandbook.test_defaults()
  local help = support.runs(all[1][1], "--help")
  for _, name in ipairs { "factor", "glue", "least-lap", "least-step", "waste" } do
    local value = said("`%-%-" .. name:gsub("%-", "%%-") .. "`[^,]*, (%d[%d.]*[^,]*),")
    local doc = help:match("\n  %-%-" .. name:gsub("%-", "%%-") .. "[%s%u].-unless said%)")
    lu.assertStrContains(doc, ("(%s unless said)"):format(value))
  end
end

os.exit(lu.LuaUnit.run())
