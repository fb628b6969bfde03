-- SPDX-License-Identifier: GPL-3.0-or-later
-- The plan of a sheathing day, put together from the library's answers.
--
-- dayplan.make(boat, choices) returns sections of rows, each row { key, label, value } with a
-- quantity, a range, a clock range, a number or a text as value; dayplan.text, .json and .csv
-- print them, resinwright.daysheet draws them.
local rw = require "resinwright"
local boats = require "resinwright.boat"
local json = require "resinwright.json"
local sections = require "resinwright.sections"

local dayplan = {}

local HOUR, DAY = 3600, 86400
local LOOK_AHEAD = 14 -- days
local MANY = 15       -- batches above which the plan says that the day does not fit
local CLOTH_SPREAD = 0.04 -- of a cloth's mass about its label, as in the tables of cloths
local FORECAST = 7    -- days after the last reading for which a day may still be planned

dayplan.cautions = {
  "Mixed resin in a cup heats itself and can smoke or burn: mix what can be spread, pour it out "
    .. "at once, put a hot cup outside on sand, never in a bin.",
  "Resin and hardener can make skin and lungs allergic for life: gloves, sleeves, fresh air; "
    .. "keep solvents off the skin.",
  "Dust of cloth, cured and half-cured resin and wood harms the lungs: mask, extraction, no dry "
    .. "sweeping. Sand only what is cured.",
  "Heaters and a tent over fresh resin can start a fire: no open flame, never unattended.",
  "Strength and stiffness here are for comparing and for shop planning, not an approval: "
    .. "scantling rules, survey and licensed practice decide.",
  "The maker's data sheet and local codes come before every number on this page. Times rest on "
    .. "a forecast and on touch: try a test patch first.",
}

local section, row, note = sections.add, sections.row, sections.note

local function take_warnings(s, ...)
  for _, result in ipairs { ... } do
    for _, warning in ipairs(result.warnings or {}) do
      note(s, warning)
    end
  end
end

local function skin(plan, b)
  local s = section(plan, "hull", "Hull")
  local area, widest = b.hull:area {}, b.hull:widest()
  row(s, "area", "skin area, one face", area)
  row(s, "length", "length over the stations", b.hull:length())
  row(s, "girth", "widest girth", widest.girth)
  row(s, "girth_at", "widest at", widest.at)
  take_warnings(s, area)
  plan.area = area
end

local function faces(b)
  local list = { { key = "outside", title = "outside", face = b.outside } }
  if b.inside then
    list[2] = { key = "inside", title = "inside", face = b.inside }
  end
  return list
end

local ways = {
  lengthwise = { one = "one strip from end to end", many = "%d strips from end to end" },
  filled = { one = "one strip and a filler", many = "%d strips and a filler" },
  crosswise = { one = "one piece from sheer to sheer", many = "%d pieces from sheer to sheer" },
}

-- How a layout lies on the hull, in words.
function dayplan.way(l)
  local words = ways[l.way]
  return l.pieces == 1 and words.one or words.many:format(l.pieces)
end

-- A refused price, where the boat's own currency was written for the word money.
local function pricing(b, names, build, ...)
  local results = table.pack(pcall(boats.within, b.file, names, build, ...))
  if results[1] then
    return table.unpack(results, 2, results.n)
  end
  local err = results[2]
  if type(err) == "table" and err.message:find(("the name %q is not known"):format(b.currency),
    1, true) then
    err.hint = "Write prices in money, such as \"38 money\"; currency is the word printed for it."
  end
  error(err, 0)
end

local function lay(b, i, way)
  local roll, field = b.rolls[i], ("rolls[%d]"):format(i)
  local names = { field, overhang = "overhang", lap = "lap", width = field .. ".width",
    shortfall = field .. ".shortfall", price = field .. ".price" }
  return (pricing(b, names, rw.cloth_layout, { hull = b.hull, width = roll.width,
    shortfall = roll.shortfall, price = roll.price, overhang = b.overhang, lap = b.lap,
    way = way }))
end

-- A roll as the boat file calls it.
function dayplan.roll_name(l)
  return l.roll.name or tostring(l.roll.width)
end

local function cheaper(l, than)
  return l and (not than or l.cost < than.cost or l.cost == than.cost and l.length < than.length)
end

local function cloth(plan, b)
  local s = section(plan, "cloth", "Cloth to buy, each layer")
  plan.layouts = {}
  for k, roll in ipairs(b.rolls) do
    local best, across = lay(b, k, "lengthwise"), lay(b, k, "crosswise")
    for _, other in ipairs { lay(b, k, "filled") or false, b.across and across or false } do
      if cheaper(other, best) then
        best = other
      end
    end
    best.roll, best.across = roll, across
    plan.layouts[#plan.layouts + 1] = best
    if cheaper(best, plan.layout) then
      plan.layout = best
    end
  end
  for i, l in ipairs(plan.layouts) do
    local key = "roll_" .. i
    row(s, key, "roll " .. dayplan.roll_name(l), dayplan.way(l))
    row(s, key .. "_length", "  off the roll", l.length)
    row(s, key .. "_cost", "  cost", l.cost)
    row(s, key .. "_offcut", "  cut away, overhang and ends", l.offcut)
    row(s, key .. "_across", "  off the roll if laid from sheer to sheer", l.across.length)
    if l.filler then
      row(s, key .. "_filler", "  filler along the keel",
        ("%s to %s"):format(l.filler_from:text(3), l.filler_to:text(3)))
    end
  end
  if not plan.layout then
    note(s, "No rolls are named in the boat file, so no cloth was laid out.")
    return
  end
  local layers = #b.outside.layers + (b.inside and #b.inside.layers or 0)
  local all = layers == 1 and "the one layer" or ("%d layers"):format(layers)
  row(s, "cheapest", "cheapest roll", dayplan.roll_name(plan.layout))
  row(s, "all_layers_length", all .. " off that roll", plan.layout.length * layers)
  row(s, "all_layers_cost", ("cost of %s at one price"):format(all), plan.layout.cost * layers)
  note(s, "Measure a roll across before cutting: rolls run narrower than their label.")
end

local terms = {
  { "soak", "into the wood" },
  { "cloth", "into the cloth" },
  { "fill", "weave and fill coats" },
  { "waste", "pots, tools and scrapings" },
}
-- Test panels can't tell wood from cloth.
local panel_terms = { { "cloth", "wood and cloth, by panels" },
  { "fill", "weave and coats, by panels" }, terms[4] }

-- The boat file lists the layers from the wood outwards, the library from the outside in.
local function outermost_first(layers)
  local list = {}
  for i = #layers, 1, -1 do
    list[#list + 1] = layers[i]
  end
  return list
end

local function amounts_of(b, area, where, face)
  local names = { where, chance = "chance" }
  for _, field in ipairs { "soak", "cover", "waste", "layup", "uptake" } do
    names[field] = where .. "." .. field
  end
  local waste = face.waste or { low = "8 %", high = "20 %" }
  if face.uptake then
    return boats.within(b.file, names, rw.amounts, { area = area, uptake = face.uptake,
      resin = b.resin, waste = waste, chance = b.chance })
  end
  return boats.within(b.file, names, rw.amounts, { area = area,
    layers = outermost_first(face.layers), resin = b.resin, layup = face.layup,
    soak = boats.soak(b, face), cover = face.cover or { low = "0.05 mm", high = "0.2 mm" },
    waste = waste, chance = b.chance })
end

local function buy(plan, s, b)
  if #b.packs == 0 then
    note(s, "No packs are named in the boat file, so none were chosen.")
    return
  end
  local packs = pricing(b, { "packs", packs = "packs" }, rw.packs,
    { need = plan.enough, packs = b.packs })
  local words = {}
  for i, count in ipairs(packs.counts) do
    if count > 0 then
      words[#words + 1] = ("%d of %s"):format(count, b.packs[i].name or b.packs[i].mass)
    end
  end
  row(s, "packs", "packs to buy", table.concat(words, ", "))
  row(s, "packs_mass", "resin and hardener in them", packs.mass)
  row(s, "packs_cost", "cost", packs.price)
  row(s, "packs_left", "left over if the best guess is right", packs.mass - plan.need.value)
  plan.packs = packs
end

local function resin(plan, b)
  local s = section(plan, "resin", "Resin to mix, resin and hardener together")
  plan.amounts = {}
  local items = {}
  for _, f in ipairs(faces(b)) do
    local a = amounts_of(b, plan.area, f.key, f.face)
    plan.amounts[f.key] = a
    a.measured = f.face.uptake ~= nil
    items[#items + 1] = { name = f.title, mass = a.total }
    for _, t in ipairs(f.face.uptake and panel_terms or terms) do
      row(s, f.key .. "_" .. t[1], ("%s: %s"):format(f.title, t[2]), a[t[1]])
    end
    row(s, f.key .. "_total", f.title .. ": mixed", a.total)
    take_warnings(s, a)
  end
  local total = rw.budget { items = items }.total
  plan.need = total
  plan.enough = rw.quantile { amount = total, chance = b.chance }
  row(s, "total", "all faces", total)
  row(s, "enough", ("enough with a chance of %s"):format(tostring(b.chance)), plan.enough)
  local hardener = b.resin.hardener
  row(s, "enough_resin", "  of that resin", plan.enough / (1 + hardener))
  row(s, "enough_hardener", "  of that hardener", plan.enough * hardener / (1 + hardener))
  buy(plan, s, b)
end

local function weight(plan, b)
  local s = section(plan, "weight", "Weight")
  local lam, items = plan.laminate, {}
  local area = plan.area.value
  local planking = rw.q "0 kg/m2"
  for _, layer in ipairs(lam.skins) do
    planking = layer.fibre_share and planking or planking + layer.areal_mass
  end
  items[1] = { name = "planking",
    mass = { value = planking * area, sd = planking * area * boats.wood_spread(b) } }
  for _, ply in ipairs((boats.plies(b))) do
    if ply.cloth then
      local mass = ply.cloth.areal_mass * area
      items[#items + 1] = { name = "cloth " .. ply.cloth.name,
        mass = { value = mass, sd = mass * CLOTH_SPREAD } }
    end
  end
  for _, f in ipairs(faces(b)) do
    items[#items + 1] = { name = "resin " .. f.title, mass = plan.amounts[f.key].on_hull }
  end
  local names = { "weights" }
  for i, w in ipairs(b.weights) do
    items[#items + 1] = { name = w.name, mass = w.mass }
    names[("items[%d]"):format(#items)] = ("weights[%d]"):format(i)
  end
  local budget = boats.within(b.file, names, rw.budget, { items = items })
  for i, item in ipairs(budget.items) do
    row(s, "item_" .. i, item.name, item.mass)
  end
  row(s, "total", "boat", budget.total)
  plan.budget = budget
  note(s, "Before sanding: fairing takes some of the wood and of the fill coats off again.")
end

local function layup(plan, b)
  local s = section(plan, "layup", "Layup, outside to inside")
  local lam = boats.laminate(b)
  plan.laminate = lam
  for i, ply in ipairs(lam.skins) do
    row(s, "ply_" .. i, ply.name, ply.thickness)
  end
  row(s, "thickness", "thickness", lam.thickness)
  row(s, "areal_mass", "mass", lam.areal_mass)
  row(s, "bend_along", "bending stiffness along", lam.bend_along)
  row(s, "bend_across", "bending stiffness across", lam.bend_across)
  take_warnings(s, lam)
  note(s, "Stiffness per width of a strip bent along or across the hull.")
end

local function clock(seconds)
  return rw.clock_text { seconds = seconds }
end

local function seconds_of(text)
  return rw.clock { at = text }
end

-- A time that a person wrote, in seconds; it must lie where the shop's air is known or foreseen.
local function written_time(b, field, text)
  local place = field:find "^%-%-" and field or b.file .. ": " .. field
  local fine, seconds = pcall(rw.clock, { at = text })
  if not fine then
    error({ message = place .. seconds.message:gsub("^at", ""), hint = seconds.hint }, 0)
  end
  local span = b.air:span()
  if seconds < span.seconds_from or seconds > span.seconds_to + FORECAST * DAY then
    error({ message = ("%s = \"%s\" is too far from the shop's readings, %s to %s"):format(
      place, text, span.from, span.to),
      hint = ("Plan a day between the first reading and %d days after the last."):format(
        FORECAST) }, 0)
  end
  return seconds
end

-- Air and hull far enough ahead, with a word on what was added to the readings.
local function weather(plan, s, b, from)
  local air, span = b.air, b.air:span()
  local until_then = from + LOOK_AHEAD * DAY
  if span.seconds_to < until_then then
    local how = b.shop.after or "repeat_day"
    air = boats.within(b.file, { "shop", how = "shop.after" }, air.extend, air,
      { to = clock(until_then), how = how })
    note(s, ("The readings end %s; after that %s."):format(span.to,
      how == "hold" and "the last one is kept" or "the last day is repeated"))
  end
  plan.air = air
  plan.hull_history = boats.within(b.file, { "shop", time_constant = "shop.lag" }, air.lag, air,
    { time_constant = b.shop.lag or "30 min" })
  plan.horizon = clock(until_then)
  plan.horizon_seconds = until_then
end

-- How long the outside takes to spread; the hours to begin are only known for less than a day.
local function spreading(plan, b)
  local names = { "crew", rate = "crew.rate" }
  local time = boats.within(b.file, names, rw.spreading_time,
    { area = plan.area, rate = b.crew.rate })
  if time.value > rw.q(DAY, "s") then
    error({ message = ("%s: crew.rate: at that rate the outside takes %s to spread, which is no "
      .. "day's work"):format(b.file, time.value:text(2)),
      hint = "One pair of hands wets out about 0.02 to 0.05 m2/min; see to the unit." }, 0)
  end
  return time
end

-- Earliest and latest hour to try, and the hour that was asked for, in seconds.
local function hours_asked(b, choices)
  local span = b.air:span()
  local from = b.day.from and written_time(b, "day.from", b.day.from) or span.seconds_from
  local to = b.day.to and written_time(b, "day.to", b.day.to)
    or math.min(from + DAY, span.seconds_to)
  if to < from then
    error({ message = b.file .. (b.day.to and ": day.to lies before day.from"
      or ": day.from lies after the last reading, so day.to is needed"),
      hint = "Give the earliest and the latest hour to begin." }, 0)
  elseif to - from > 4 * DAY then
    error({ message = ("%s: day.from to day.to is longer than four days"):format(b.file),
      hint = "Give the earliest and the latest hour of one day." }, 0)
  end
  local start = choices.start and written_time(b, "--start", choices.start)
    or b.day.start and written_time(b, "day.start", b.day.start)
  return from, to, start
end

local function start_hour(plan, b, choices)
  local s = section(plan, "hour", "When to begin")
  local from, to, start = hours_asked(b, choices)
  weather(plan, s, b, math.max(to, start or to))
  local step = 1800
  plan.duration = spreading(plan, b)
  local function try(first, count)
    return rw.start_hours { resin = b.resin, air = plan.air, hull = plan.hull_history,
      from = clock(first), step = "30 min", count = count, duration = plan.duration.value }
  end
  local hours = try(from, (to - from) // step + 1)
  plan.hours = hours
  local best = hours.hours[hours.best]
  local chosen = start and try(start, 1).hours[1] or best
  plan.begin = chosen.at
  row(s, "duration", "spreading alone takes", plan.duration)
  row(s, "best", hours.fine and "best hour" or "least bad hour", best.at)
  row(s, "chosen", "this plan begins", plan.begin)
  row(s, "rise", "wood warms before the last section gels by", chosen.rise or "not known")
  row(s, "margin", "hull stays above the dew point by", chosen.margin or "not known")
  row(s, "coldest", "coldest hull until it is past blushing", chosen.coldest or "not known")
  if hours.fine and not chosen.fine then
    note(s, "At the hour asked for the wood warms or the hull comes near the dew point; the best "
      .. "hour does neither.")
  end
  if not hours.fine then
    note(s, "No hour tried keeps the wood from warming and the hull 3 K above the dew point. "
      .. "A seal coat the day before stops gas; a heater through the night keeps dew off.")
  end
  note(s, "Warming wood pushes gas through wet cloth: begin when it cools.")
end

local function batches(plan, b)
  local s = section(plan, "batches", "Batches for the outside")
  local crew = b.crew
  local names = { "crew", most = "crew.largest" }
  for _, field in ipairs { "rate", "cup", "tray", "chilled", "mixing", "share" } do
    names[field] = "crew." .. field
  end
  local list, why = boats.within(b.file, names, rw.batches, { resin = b.resin,
    hull = plan.hull_history, start = plan.begin, area = plan.area.value,
    resin_per_area = plan.amounts.outside.wetout_per_area, rate = crew.rate, cup = crew.cup,
    tray = crew.tray, chilled = crew.chilled, mixing = crew.mixing, share = crew.share,
    most = crew.largest })
  if not list then
    local reason, hint = why:match "^(.-); (.*)$"
    error({ message = ("%s: crew: the wet-out cannot be planned: %s"):format(b.file,
      reason or why), hint = hint }, 0)
  end
  local bands = b.hull:bands { count = #list }
  plan.batch_list, plan.bands = list, bands
  for i, batch in ipairs(list) do
    batch.band = bands[i]
    row(s, "batch_" .. i, ("batch %d"):format(i),
      ("%s mixed %s, hull %s to %s, spread by %s, too thick %s, chance lost %.0f %%"):format(
        batch.mass:text(3), batch.mixed:sub(12), bands[i].from:text(3), bands[i].to:text(3),
        batch.spread:sub(12), batch.latest:sub(12), 100 * batch.lost))
  end
  if #list > MANY then
    note(s, ("%d batches are more than a crew keeps up: take a slower hardener, a tray, chilled "
      .. "resin, a cooler hour or a helper."):format(#list))
  end
  plan.first, plan.last = list[1].spread, list[#list].spread
  row(s, "done", "last batch spread", plan.last)
end

local function window(plan, b)
  local s = section(plan, "window", "Next coat and later")
  local sd = b.shop.temperature_sd
  local names = { "shop", temperature_sd = "shop.temperature_sd" }
  local w = boats.within(b.file, names, rw.window, { resin = b.resin, hull = plan.hull_history,
    first = plan.first, last = plan.last, to = plan.horizon, temperature_sd = sd })
  local early = b.resin:forecast { hull = plan.hull_history, laid = plan.first,
    to = plan.horizon, temperature_sd = sd }
  local late = b.resin:forecast { hull = plan.hull_history, laid = plan.last,
    to = plan.horizon, temperature_sd = sd }
  plan.recoat, plan.early, plan.late = w, early, late
  row(s, "trim_opens", "trim the cloth from", late.trim_opens)
  row(s, "trim_closes", "trim until", early.trim_closes)
  row(s, "recoat_opens", "next coat from, whole skin", w.open)
  row(s, "recoat_closes", "next coat until, without sanding", w.close)
  row(s, "handle", "turn the hull from", late.handle)
  row(s, "sand", "sand from", late.sand)
  row(s, "service", "varnish, load and launch from", late.service)
  if w.empty then
    note(s, "The first section is hard before the last is firm: split the job, take a slower "
      .. "hardener, or wash and sand before the next coat.")
  end
  note(s, "The window is that of the whole skin: from the last section's opening to the first "
    .. "one's closing. The thumbnail decides, not the clock.")
end

local function chances(plan, b)
  local s = section(plan, "chances", "Chance that the next coat may go on")
  local evening = math.floor(seconds_of(plan.last) / HOUR + 1) * HOUR
  for i = 0, 8 do
    local at = evening + i * 4 * HOUR
    row(s, ("at_%d"):format(i), clock(at), rw.window_chance { resin = b.resin,
      hull = plan.hull_history, first = plan.first, last = plan.last, at = clock(at),
      temperature_sd = b.shop.temperature_sd, draws = 256 })
  end
end

local function night(plan, b)
  local s = section(plan, "night", "What the night does")
  local done = seconds_of(plan.last)
  local morning = (done // DAY + 1) * DAY + 9 * HOUR
  local cold = plan.hull_history:extremes { from = plan.last, to = clock(morning) }
  local warm = plan.hull_history:at { at = plan.last }
  row(s, "at_end", "hull when the last batch is on", warm.air)
  row(s, "coldest", "coldest hull until 09:00", cold.low)
  local steady = rw.steady { air = warm.air, from = plan.last, to = plan.horizon }
  local even = b.resin:forecast { hull = steady, laid = plan.last, to = plan.horizon, draws = 0 }
  local function later(key, label)
    local real, fair = plan.late[key].seconds, even[key].seconds
    if real and fair and real - fair >= 60 then
      row(s, "later_" .. key, label, rw.q((real - fair) / 60, "min"))
    end
  end
  later("recoat_opens", "next coat comes later than in a shop kept as warm, by")
  later("sand", "sanding comes later by")
  local cure = b.resin:cure { hull = plan.hull_history, from = plan.last, to = plan.horizon }
  plan.cure = cure
  row(s, "cure_morning", "cured by 09:00", cure:at { at = clock(morning) }.cure)
  local week = cure:at { at = clock(done + 7 * DAY) }
  row(s, "glass_week", "softens at, after a week of this weather", week.glass)
  local warmth = b.resin:warmth { milestone = "sand", within = "2 d" }
  row(s, "warmth", "steady warmth for sanding in two days", warmth or "no warmth does it")
  note(s, "A cold cure stops short; it goes on when it is warmed, and softens in the sun until "
    .. "then.")
end

-- Makes the plan of a boat read by resinwright.boat; choices.start overrules the hour to begin.
function dayplan.make(b, choices)
  local plan = { sections = {}, boat = b, name = b.name, note = b.note,
    warnings = b.resin.warnings or {} }
  skin(plan, b)
  cloth(plan, b)
  resin(plan, b)
  layup(plan, b)
  weight(plan, b)
  start_hour(plan, b, choices or {})
  batches(plan, b)
  window(plan, b)
  chances(plan, b)
  night(plan, b)
  return plan
end

local function money(text, b)
  return (text:gsub("%f[%a]money%f[%A]", b.currency))
end

-- A value as a reader wants it; short leaves out what most of the spread comes from.
function dayplan.say(value, b, short)
  local words = money(sections.say(value), b)
  return short and words:gsub("; most of the spread: [^)]*", "") or words
end

function dayplan.text(plan)
  local lines = { plan.name .. (plan.note and " (" .. plan.note .. ")" or ""), "" }
  for _, w in ipairs(plan.warnings) do
    lines[#lines + 1] = "Note: " .. w
  end
  local rows = sections.text(plan, function(value)
    return dayplan.say(value, plan.boat)
  end)
  table.move(rows, 1, #rows, #lines + 1, lines)
  lines[#lines + 1] = "Cautions"
  for _, c in ipairs(dayplan.cautions) do
    lines[#lines + 1] = "  * " .. c
  end
  return table.concat(lines, "\n") .. "\n"
end

local parts = sections.parts

local function plain_batches(plan)
  local list = {}
  for i, batch in ipairs(plan.batch_list) do
    list[i] = { mass = parts(batch.mass), mixed = batch.mixed, spread = batch.spread,
      latest = batch.latest, lost = batch.lost, from = parts(batch.band.from),
      to = parts(batch.band.to), area = parts(batch.to - batch.from) }
  end
  return list
end

function dayplan.json(plan)
  local out = sections.into({ boat = plan.name, note = plan.note, currency = plan.boat.currency,
    warnings = json.array(plan.warnings), cautions = json.array(dayplan.cautions) }, plan)
  out.batch_list = json.array(plain_batches(plan))
  return json.encode(out)
end

dayplan.csv = sections.csv

return dayplan
