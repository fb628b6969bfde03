-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented cold-moulded day sailer: which roll, which kits, what does the sheathing weigh?
local rw = require "resinwright"

local hull = rw.hull { spacing = "0.78 m",
  girth = { unit = "m", 1.10, 1.95, 2.55, 2.90, 3.05, 3.00, 2.80, 2.50, 2.20 } }
local resin = rw.resin { class = "medium-cycloaliphatic",
  label = { pot_life = "25 min", pot_temperature = "25 degC" } }
local area = hull:area {}
print("area of one face", area)
local reach = rw.reach { width = "1.52 m", lap = "60 mm", pieces = 2 }
print("two strips of 1.52 m with a lap of 60 mm reach", reach)
print("with a seam on the keel they stop short of the sheers over",
  hull:wider_than { girth = reach }.length)

-- Three layers of cloth in all: two outside, one inside.
local best
for _, roll in ipairs { { "1.00 m", "6.10 money/m" }, { "1.27 m", "7.40 money/m" },
  { "1.52 m", "9.90 money/m" } } do
  for _, way in ipairs { "lengthwise", "filled", "crosswise" } do
    local l = rw.cloth_layout { hull = hull, width = roll[1], shortfall = "12 mm",
      price = roll[2], overhang = "40 mm", lap = "60 mm", way = way }
    if l then
      print(("roll %s %s: %d pieces, three layers %s for %s"):format(roll[1], way, l.pieces,
        (3 * l.length):text(3), (3 * l.cost):text(3)))
      l.roll = roll[1]
      best = (not best or l.cost < best.cost) and l or best
    end
  end
end
print("cheapest:", best.roll, best.way, (3 * best.cost):text(3))

local soak = { low = "60 g/m2", high = "180 g/m2" }
local waste = { low = "8 %", high = "20 %" }
local function sheathing(outer)
  local inner = rw.cloth { fibre = "e-glass", areal_mass = "200 g/m2", weave = "plain" }
  local outside = rw.amounts { area = area, resin = resin, layers = { outer, inner },
    soak = soak, cover = { low = "0.1 mm", high = "0.25 mm" }, waste = waste }
  local inside = rw.amounts { area = area, resin = resin, layers = { inner },
    soak = soak, cover = { low = "0 mm", high = "0.05 mm" }, waste = waste }
  local dry = area.value * (2 * inner.areal_mass + outer.areal_mass)
  -- Two glue lines between three veneers, 250 to 350 g/m2 each.
  local glue = { low = 2 * area.value * rw.q "250 g/m2", high = 2 * area.value * rw.q "350 g/m2" }
  local mixed = rw.budget { items = { { name = "glue lines", mass = glue },
    { name = "outside", mass = outside.total }, { name = "inside", mass = inside.total } } }
  local added = rw.budget { items = { { name = "cloth", mass = { value = dry, sd = 0.04 * dry } },
    { name = "resin outside", mass = outside.on_hull },
    { name = "resin inside", mass = inside.on_hull } } }
  local enough = rw.quantile { amount = mixed.total, chance = "95 %" }
  local kits = rw.packs { need = enough, packs = { { mass = "1.5 kg", price = "41 money" },
    { mass = "6 kg", price = "138 money" }, { mass = "30 kg", price = "585 money" } } }
  print("  epoxy to mix", mixed.total, "enough in 95 of 100", enough)
  print("  kits of 1.5, 6 and 30 kg", table.concat(kits.counts, ", "), "for", kits.price:text(4),
    "left over if the best guess is right", (kits.mass - mixed.total.value):text(3))
  print("  mass that the sheathing adds", added.total)
end
print("two layers of 200 g/m2 outside")
sheathing(rw.cloth { fibre = "e-glass", areal_mass = "200 g/m2", weave = "plain" })
print("280 g/m2 in place of the outer one, if it went all over")
sheathing(rw.cloth { fibre = "e-glass", areal_mass = "280 g/m2", weave = "twill" })
