-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented hull whose hardener tin is too full: off ratio since when, and what to do about it?
local rw = require "resinwright"
local fixed = require "resinwright.text".fixed

local needed = 0.44 -- 100:44 by weight
local batches, noted = 14, 9
local hall = rw.steady { air = "18 degC", from = "2026-03-02 08:00", to = "2026-04-02 08:00" }
local laid, now = "2026-03-02 10:00", "2026-03-11 10:00"

-- The scale is good to 20 g, nine times in ten.
local function weighed(kilograms)
  local m = rw.q(kilograms, "kg")
  return { low = m - rw.q "20 g", high = m + rw.q "20 g" }
end
local resin = rw.tin_loss { before = weighed(10.30), after = weighed(2.10) }
local hardener = rw.tin_loss { before = weighed(4.40), after = weighed(2.57) }
local used = rw.ratio_used { resin = resin, hardener = hardener, needed = needed }

local function percent(x, digits)
  return fixed(100 * x, digits or 0) .. " %"
end
local function chance(x)
  return x < 0.001 and "below 0.1 %" or x > 0.999 and "above 99.9 %" or percent(x, 1)
end
local function span(range)
  return ("%s (%s to %s)"):format(percent(range.value), percent(range.low, 1),
    percent(range.high, 1))
end

print("All of this is invented: hull, tins and batch sheet.")
print(("%s of resin needed %s of hardener; %s is gone: %s of what it needed.")
  :format(resin.value:text(3), (needed * resin.value):text(3), hardener.value:text(3),
    span(used)))

-- "2 and 1" means one thing if both pumps give the same, another if they meter the ratio already.
local resin_density, hardener_density = rw.q "1.15 g/cm3", rw.q "1.0 g/cm3"
local stroke = rw.q "20 mL"
local pumps = {
  { words = "pumps that both give the same", stroke = stroke },
  { words = "pumps that meter the ratio stroke by stroke",
    stroke = needed * stroke * (resin_density / hardener_density) },
}
for _, pump in ipairs(pumps) do
  pump.ratio = rw.ratio_pumped { resin_strokes = 2, hardener_strokes = 1, resin_stroke = stroke,
    hardener_stroke = pump.stroke, resin_density = resin_density,
    hardener_density = hardener_density, needed = needed }
end

local function sheet(ratio)
  local list = {}
  for i = 1, batches do
    list[i] = i <= noted and { ratio = ratio, alike = 1 } or {}
  end
  return list
end
local function guess(first, rest)
  local list = {}
  for i = 1, batches do
    list[i] = i <= noted and first or rest
  end
  return list
end
local function books(ratio)
  return { batches = sheet(ratio), resin = resin, hardener = hardener, needed = needed }
end

-- Was it right while it was noted? Then even without a drop of hardener afterwards more would be
-- gone.
local test = books()
test.guess = guess(1, 0)
local fit = rw.ledger_test(test)
print(("Had batches 1 to %d been right and the rest without any hardener, %s (%s to %s) would be "
  .. "gone; a tin that differs so much has a chance of %s."):format(noted,
    fit.hardener.value:text(3), fit.hardener.low:text(3), fit.hardener.high:text(3),
    chance(fit.chance)))

-- Each kind of pumps with each story, both kinds of pumps alike beforehand.
local sum, weight, off = 0, {}, {}
for _, pump in ipairs(pumps) do
  pump.told = rw.ledger(books(pump.ratio))
  pump.likelihood = 0
  for _, story in ipairs(pump.told.stories) do
    pump.likelihood = pump.likelihood + math.exp(story.log_likelihood)
  end
  sum = sum + pump.likelihood
end
for _, pump in ipairs(pumps) do
  pump.chance = pump.likelihood / sum
  test.guess = guess(pump.ratio, pump.ratio)
  print(("With %s, \"2 and 1\" is %s of the hardener needed. Were all batches so, a tin that "
    .. "differs so much has a chance of %s."):format(pump.words, percent(pump.ratio),
      chance(rw.ledger_test(test).chance)))
  for _, story in ipairs(pump.told.stories) do
    weight[story.key] = (weight[story.key] or 0) + pump.chance * story.weight
  end
  for i, share in ipairs(pump.told.off) do
    off[i] = (off[i] or 0) + pump.chance * share
  end
end
local likelier = pumps[1].chance > pumps[2].chance and pumps[1] or pumps[2]
print(("So the tins speak for %s, chance %s."):format(likelier.words, chance(likelier.chance)))
print(("It was off from the start and throughout with a chance of %s; off at first and put right "
  .. "later %s; off only from some batch on %s; right throughout %s.")
  :format(chance(weight.from_start), chance(weight.put_right), chance(weight.part_way),
    chance(weight.right)))
local last_off = math.min(table.unpack(off, noted + 1))
print(("Batches 1 to %d were off with a chance of %s, the last ones with %s or more.")
  :format(noted, chance(off[1]), chance(last_off)))
print "Pump ten strokes of each into cups and weigh them: that settles what the pumps do."

-- Conversion of the epoxide at which a mix off its ratio has a glass transition; nil: never.
local function conversion(right, ratio, glass)
  local low, high = 0, math.min(ratio, 1)
  if right:ratio_glass { ratio = ratio, cure = high } < glass then
    return nil
  end
  while high - low > 1e-6 do
    local middle = (low + high) / 2
    if right:ratio_glass { ratio = ratio, cure = middle } < glass then
      low = middle
    else
      high = middle
    end
  end
  return high
end

-- What the mix can become. The class is not on the label, so both that it may be are asked.
local warmth = rw.q "18 degC"
for _, class in ipairs { "medium-cycloaliphatic", "slow-polyetheramine" } do
  local right = rw.resin { class = class }
  local ratio = used.value
  local state = right:judge_ratio { ratio = used }
  local mix = right:off_ratio { ratio = ratio }
  local cure = mix:cure { hull = hall, from = laid, to = now }
  local gel = cure:when { cure = mix.thresholds.gel }
  local hard_at = conversion(right, ratio, warmth)
  local hard = hard_at and cure:when { cure = hard_at }
  local glass = right:ratio_glass { ratio = ratio, cure = cure:at({ at = now }).cure }
  local in_time = right:cure({ hull = hall, from = laid, to = now })
    :when { cure = right.thresholds.gel }
  print(("If the hardener is of the class %s, the mix is %s."):format(class, state.meaning))
  print(("  %s Laid at %s it gels at %s, the right mix at %s.")
    :format(state.gels and ("It gelled, as any mix with %s of its hardener or more does.")
      :format(percent(state.gels_between.from)) or "It never gels.", laid, gel or "no time seen",
      in_time))
  local firm = gel and hard and math.max(rw.clock { at = gel }, rw.clock { at = hard })
  print(("  In a hall of %s it is hard to the nail from %s.")
    :format(warmth, firm and rw.clock_text { seconds = firm } or "no time seen"))
  print(("  It softens at %s today; the most it can ever reach is %s, where %s is needed. A dark "
    .. "hull in the sun is hotter."):format(glass:text(2), state.glass, state.need:text(2)))
  print(state.warming_helps and "  Warming it may help: warm a scrap to 60 degC first and try it."
    or "  Warming will not help: there is no hardener left to react with.")
end
print(("Hard to the nail in a cool hall says little. Lay a scrap of the first coats and one of "
  .. "the last in water of 45 degC: what bends like leather then has to come off, cloth and all. "
  .. "By the tins that is batches 1 to %d, chance %s, and the rest, chance %s.")
  :format(noted, chance(off[1]), chance(last_off)))
print("Scrape in gloves, goggles and the mask that the maker's safety data sheet names, with the "
  .. "dust drawn off: what has not reacted harms skin, eyes and lungs.")
print("The maker's data sheet comes before these numbers.")
