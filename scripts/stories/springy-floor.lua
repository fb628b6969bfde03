-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented open-water wherry with a springy floor: which cloth inside stops it? All numbers
-- here, and the prices, are made up for the demonstration.
local rw = require "resinwright"

-- A bottom panel between floors; the strips run lengthwise.
local length, width = "0.90 m", "0.62 m"
local strip = { wood = "light-cedar", thickness = "6 mm", density = "0.34 g/cm3",
  modulus = "7.15 GPa" }
local weight = -1 * rw.q "80 kg" * rw.q "9.80665 m/s2" -- from inside
local loads = { { name = "on a heel 60 mm across", load = weight, diameter = "60 mm" },
  { name = "spread over 300 mm by 300 mm", load = weight, size = "300 mm" } }

local glass = rw.cloth { fibre = "e-glass", areal_mass = "200 g/m2", weave = "plain" }
local light = rw.cloth { fibre = "e-glass", areal_mass = "136 g/m2", weave = "plain" }
local carbon = rw.cloth { fibre = "carbon", areal_mass = "200 g/m2", weave = "plain" }
local resin_price = rw.q "19 money/kg"
local price = { [glass] = rw.q "6 money/m2", [light] = rw.q "5 money/m2",
  [carbon] = rw.q "32 money/m2" }
local options = {
  { name = "a: 200 g/m2 glass", inside = { { glass } } },
  { name = "b: two of 136 g/m2 glass", inside = { { light }, { light } } },
  { name = "c: 200 g/m2 carbon", inside = { { carbon } } },
  { name = "d: 200 g/m2 glass at 45 deg", inside = { { glass, "45 deg" } } },
}

-- The wood's modulus and the resin in every cloth may differ by these factors.
local function skin(option, wood, resin)
  local function layer(cloth, angle)
    return { cloth = cloth, angle = angle, resin = resin * cloth:resin({}).value,
      resin_density = "1.1 g/cm3" }
  end
  local core = {}
  for field, value in pairs(strip) do
    core[field] = value
  end
  core.modulus = wood * rw.q(strip.modulus)
  local plies = { layer(glass), core }
  for _, inner in ipairs(option.inside) do
    plies[#plies + 1] = layer(inner[1], inner[2])
  end
  return rw.laminate { plies = plies }
end

local function bend(lam, load, edges)
  return lam:panel { length = length, width = width, edges = edges,
    patch = { load = load.load, diameter = load.diameter, size = load.size } }
end

-- What the inside costs per area.
local function cost(option)
  local sum = rw.q "0 money/m2"
  for _, inner in ipairs(option.inside) do
    local cloth = inner[1]
    sum = sum + price[cloth] + resin_price * cloth:resin({}).value
  end
  return sum
end

local function per_cent(strain)
  return ("%.2f %%"):format(100 * strain):gsub(",", ".")
end

-- Greater of the strains along and across, of its sign.
local function greater(strain)
  return math.abs(strain.x) > math.abs(strain.y) and strain.x or strain.y
end

local linear_no_more = false
local weakest, strongest = math.huge, 0 -- under the heel, edges resting
for _, option in ipairs(options) do
  local lam = skin(option, 1, 1)
  print(("%s: %s, the inside costs %s"):format(option.name, lam.areal_mass:text(3),
    cost(option):text(3)))
  for _, load in ipairs(loads) do
    local rests, clamped = bend(lam, load, "resting"), bend(lam, load, "clamped")
    print(("  80 kg %s: deflects %s resting, %s clamped"):format(load.name,
      (-1 * rests.deflection):text(2), (-1 * clamped.deflection):text(2)))
    print(("    if the floors let nothing slide in, about %s and %s"):format(
      (-1 * rests.held):text(2), (-1 * clamped.held):text(2)))
    local at, f = rests.stretched, rests.failure
    print(("    strain outside %s, inside %s"):format(per_cent(greater(at.outer)),
      per_cent(greater(at.inner))))
    print(("    first damage at %s times the load (clamped: %s): %s, %s face of ply %d, %s")
      :format(rw.q(f.factor, "1"):text(2), rw.q(clamped.failure.factor, "1"):text(2), f.name,
      f.face, f.ply, f.mode))
    if load == loads[1] then
      weakest, strongest = math.min(weakest, f.factor), math.max(strongest, f.factor)
    end
    linear_no_more = linear_no_more or #rests.warnings > 0
  end
end

-- The order of the options, best first, by a number of theirs.
local function order(number)
  local sorted = table.move(options, 1, #options, 1, {})
  table.sort(sorted, function(x, y)
    return number[x] < number[y]
  end)
  local letters = {}
  for i, option in ipairs(sorted) do
    letters[i] = option.name:match "^%a"
  end
  return table.concat(letters, " ")
end

-- Wood 20 per cent either way, resin 15 per cent.
print "Ranking, best first, by deflection under the heel; by the load at first damage:"
local least, most, orders = {}, {}, {}
for _, case in ipairs { { 1, 1, "as planned" }, { 0.8, 0.85, "soft wood, little resin" },
  { 0.8, 1.15, "soft wood, much resin" }, { 1.2, 0.85, "stiff wood, little resin" },
  { 1.2, 1.15, "stiff wood, much resin" } } do
  local deep, weak = {}, {}
  for _, option in ipairs(options) do
    local p = bend(skin(option, case[1], case[2]), loads[1], "resting")
    deep[option], weak[option] = -p.deflection:si(), -p.failure.factor
    least[option] = math.min(least[option] or math.huge, deep[option])
    most[option] = math.max(most[option] or 0, deep[option])
  end
  local found = ("%s; %s"):format(order(deep), order(weak))
  orders[#orders + 1] = found
  print(("  %s: %s"):format(case[3], found))
end
if strongest < 1.2 * weakest then
  print(("First damage comes at %s to %s times the load whatever lies inside: the outside is "
    .. "stretched. A cloth inside makes that the floor flexes less, not that it holds more; "
    .. "cloth outside, or less span, does."):format(rw.q(weakest, "1"):text(2),
    rw.q(strongest, "1"):text(2)))
end
local moved = 0
for i = 2, #orders do
  moved = moved + (orders[i] == orders[1] and 0 or 1)
end
print(("The ranking changes in %d of 4 corners."):format(moved))
for _, option in ipairs(options) do
  print(("  %s: %s to %s under the heel"):format(option.name, rw.q(least[option], "m"):text(2),
    rw.q(most[option], "m"):text(2)))
end

if linear_no_more then
  print("All of this is small-deflection theory: beyond half a thickness the panel also carries "
    .. "as a membrane, and strain and first damage are told without that. The comparison holds "
    .. "better than the numbers; a floor or a stringer more in the middle of the panel does "
    .. "more than any of these cloths.")
end
print("Not known: how firmly the floors hold the panel (between resting and clamped), knots and "
  .. "slope of grain, how well the cloth is wetted. Step on a trial panel.")
print("For comparison and shop planning only, not an approval; scantling rules, survey and "
  .. "licensed practice decide; wood scatter is real. Mask, gloves and moving air where old "
  .. "cloth is sanded off; carbon dust is kept from skin and from anything electric.")
