#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Which cloth, on which face, how many layers? Every way to lay the faces of a boat folder with
-- some cloths, for strength against weight. All numbers come from the library.
local rw = require "resinwright"
local boats = require "resinwright.boat"
local chart = require "resinwright.chart"
local clothchoice = require "resinwright.clothchoice"
local clothpage = require "resinwright.clothpage"
local clothtable = require "resinwright.clothtable"
local options = require "resinwright.options"
local progress = require "resinwright.progress"
local refusal = require "resinwright.refusal"
local skinchoice = require "resinwright.skinchoice"

local indent = (" "):rep(25)
local spec = {
  script = "compare-cloths",
  about = "Lays a boat's faces in every way with some cloths: weight, stiffness, strength by\n"
    .. "face, resin, cost; ranks what no other layup beats.",
  arguments = { { name = "FOLDER", doc = "boat folder, with boat.lua" } },
  options = {
    { name = "cloths", value = "names",
      fallback = "glass-110-plain-tight,glass-136-plain,glass-203-plain,glass-280-twill,"
        .. "s-glass-190-plain,carbon-200-plain,aramid-170-plain",
      doc = "cloths to choose from, by name, with commas between" },
    { name = "face", value = "both|outside|inside", fallback = "both",
      doc = "face that is laid anew; the other stays as planned" },
    { name = "layers", value = "n or n-m", fallback = "1-2", doc = "layers on each such face" },
    { name = "angles", value = "list", fallback = "0 deg",
      doc = "angles to choose from, such as \"0 deg, 45 deg\"" },
    { name = "planks", value = "list",
      doc = "woods and their thickness in place of the boat's, with\n" .. indent
        .. "commas between: \"okoume 4 mm, light-cedar 6 mm\"" },
    { name = "wish", value = "list", fallback = "mass, hit_skins",
      doc = "what counts, a weight after it where it is\n" .. indent
        .. "not 1: \"mass 2, bend_across, cost\"; of mass,\n" .. indent
        .. "thickness, resin, cost, bend_along, bend_across, and\n" .. indent
        .. "strengths: hit, heel, bending_along, bending_across,\n" .. indent
        .. "tension_along, tension_across, and of the skins,\n" .. indent
        .. "outside, inside or core alone: hit_inside" },
    { name = "prices", value = "list",
      doc = "of every cloth per area: \"glass-203-plain 6 money/m2,\n" .. indent
        .. "carbon-200-plain 32 money/m2\"" },
    { name = "resin-price", value = "price",
      doc = "of mixed resin, such as \"19 money/kg\"; else that of\n" .. indent
        .. "the boat's largest pack" },
    { name = "show", value = "count", fallback = "12", doc = "how many of the best to show" },
    { name = "wood-scatter", value = "share", fallback = "20 %",
      doc = "standard deviation of the wood's moduli" },
    { name = "resin-scatter", value = "share", fallback = "15 %",
      doc = "standard deviation of the resin in the cloth" },
    { name = "draws", value = "count", fallback = "500",
      doc = "trials with other wood and resin" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "svg", value = "file", doc = "draw strength against weight into that file" },
    { name = "page", value = "file", doc = "write a page to print into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", doc = "print a comma-separated table instead" },
    { name = "list", doc = "list the cloths there are" },
  },
  more = "For comparison and shop planning only, not an approval; scantling rules, survey and\n"
    .. "licensed practice decide; wood scatter is real.",
}

local function list_cloths()
  for _, m in ipairs(rw.materials { kind = "cloth" }) do
    if not m.name:find "^default" then
      print(("%-24s %s"):format(m.name, m.title))
    end
  end
end

local function refuse(message, hint)
  error({ message = message, hint = hint }, 0)
end

local function whole(o, name, low, high)
  local n = math.tointeger(tonumber(o[name]))
  if not n or n < low or n > high then
    refuse(("--%s is %s, it must be a whole number from %d to %d"):format(name, o[name], low,
      high))
  end
  return n
end

local function read_cloths(words)
  local names, seen = {}, {}
  for _, name in ipairs(options.items(words)) do
    rw.cloth { name = name }
    if not seen[name] then
      names[#names + 1], seen[name] = name, true
    end
  end
  if #names == 0 then
    refuse("no cloths to compare", "Name some: --cloths a,b or --list.")
  end
  return names
end

local function read_layers(words)
  local least, most = words:match "^%s*(%d+)%s*%-%s*(%d+)%s*$"
  least = least or words:match "^%s*(%d+)%s*$"
  least, most = math.tointeger(tonumber(least)), math.tointeger(tonumber(most or least))
  if not least or least > most or most > 16 then
    refuse(("--layers is \"%s\", it must be such as 1 or 0-2, 16 at most"):format(words))
  end
  return { least = least, most = most }
end

local function read_planks(words)
  local planks = {}
  for i, item in ipairs(options.items(words)) do
    planks[i] = skinchoice.plank("planks", item)
  end
  return planks
end

local function read_wishes(words)
  local wishes = {}
  for _, item in ipairs(options.items(words)) do
    local measure, weight = item:match "^([%w_]+)%s*(.*)$"
    local known = false
    for _, name in ipairs(clothchoice.measures) do
      known = known or name == measure
    end
    if not known then
      local near = rw.nearest { word = measure or item, known = clothchoice.measures }
      refuse(("--wish: there is no measure \"%s\""):format(measure or item),
        near and ("Did you mean \"%s\"?"):format(near)
        or "Measures: " .. table.concat(clothchoice.measures, ", ") .. ".")
    end
    local number = weight == "" and 1 or tonumber(weight)
    if not number or number <= 0 or number == math.huge then
      refuse(("--wish: the weight of %s is \"%s\", it must be a number above 0"):format(measure,
        weight))
    end
    wishes[#wishes + 1] = { measure = measure, weight = number, step = "10 %" }
  end
  if #wishes == 0 or #wishes > 8 then
    refuse(("--wish has %d measures, it must have 1 to 8"):format(#wishes))
  end
  return wishes
end

-- Prices by name, of all cloths or of none.
local function read_prices(words, cloths, b, face)
  local prices = {}
  for _, item in ipairs(options.items(words)) do
    local name, price = item:match "^(%S+)%s+(.+)$"
    if not name then
      refuse(("--prices: \"%s\" has no price"):format(item),
        ("Write such as \"%s 6 money/m2\"."):format(item:match "^[%w-]+" or "glass-203-plain"))
    end
    prices[name] = skinchoice.quantity({ prices = price }, "prices", "money per area")
  end
  for _, name in ipairs(next(prices) and cloths or {}) do
    if not prices[name] then
      refuse(("--prices: there is no price of %s"):format(name),
        "Give one for every cloth that is compared, or for none.")
    end
  end
  local stays = next(prices) and clothchoice.unpriced(b, prices,
    { outside = face == "inside", inside = face == "outside" })
  if stays then
    refuse(("--prices: there is no price of %s, which stays on the other face"):format(stays))
  end
  return prices
end

-- That of the boat's largest pack where none is said.
local function read_resin_price(words, b)
  if words then
    return skinchoice.quantity({ ["resin-price"] = words }, "resin-price", "money per mass")
  end
  local largest, price = nil, rw.q "0 money/kg"
  for _, pack in ipairs(b.packs) do
    local mass = rw.q(pack.mass)
    if not largest or mass > largest then
      largest, price = mass, rw.q(pack.price) / mass
    end
  end
  return price
end

-- Patterns of how a refusal begins, and what to say in their place; the first that fits is taken.
local said = {
  { "^outside%.angles", "--angles" }, { "^inside%.angles", "--angles" },
  { "^wood is", "--wood-scatter is" }, { "^resin is", "--resin-scatter is" },
  { "^wood =? ?", "--wood-scatter: " }, { "^resin =? ?", "--resin-scatter: " },
  { "^wishes%[(%d+)%]%.step is a share.*$", "--wish: measure %1 has a number in no layup" },
  { "^count is out of range: found ([^,]*), allowed 1 to .*$",
    "these would be %1 layups, a million at most are compared" },
  { "^resin_price is", "--resin-price is" },
  { "^outside%.kinds%[%d+%]%.price is", "a price of --prices is" },
  { "^inside%.kinds%[%d+%]%.price is", "a price of --prices is" },
  { "^cores%[%d+%]%.price is", "a price of --prices is" },
}
local hints = { ["so many layups; take fewer kinds, angles or layers, or compare in parts"] =
  "Name fewer cloths or angles, or fewer layers.",
  ["such as \"10 %\"; left out, the step is from the best to the worst"] =
  "Lay some cloth, or wish for something else." }

-- Calls, and tells a refusal in the words of the command line.
local function asked(wishes, call, ...)
  return refusal.reworded(function(message, hint)
    for _, rule in ipairs(said) do
      local other, fits = message:gsub(rule[1], rule[2])
      if fits > 0 then
        message = other
        break
      end
    end
    message = message:gsub("measure (%d+) has", function(i)
      return wishes[math.tointeger(i)].measure .. " has"
    end)
    return message, hints[hint] or hint
  end, call, ...)
end

options.run(spec.script, function()
  for _, word in ipairs(arg) do
    if word == "--list" then
      return list_cloths()
    end
  end
  local o = options.read(spec)
  rw.reader(o.units)
  local b = boats.read(o.FOLDER)
  if o.face == "inside" and not b.inside then
    refuse(b.file .. ": there is no inside skin to lay anew",
      "Describe one: inside = { layers = { ... } }.")
  end
  local cloths, wishes = read_cloths(o.cloths), read_wishes(o.wish)
  for _, w in ipairs(wishes) do
    if w.measure == "cost" and not o.prices then
      refuse("--wish: cost needs the prices of the cloths",
        "Give them: --prices \"glass-203-plain 6 money/m2, ...\".")
    end
  end
  local plan = asked(wishes, clothchoice.make, { boat = b, cloths = cloths, face = o.face,
    layers = read_layers(o.layers), planks = read_planks(o.planks),
    angles = options.items(o.angles),
    wishes = wishes, prices = read_prices(o.prices, cloths, b, o.face),
    resin_price = read_resin_price(o["resin-price"], b), show = whole(o, "show", 1, 1000),
    wood_scatter = o["wood-scatter"], resin_scatter = o["resin-scatter"],
    draws = whole(o, "draws", 1, 1000000), progress = progress.bar "layups" })
  if o.svg then
    options.save(o.svg, chart.standalone(clothpage.picture(plan)), "svg")
  end
  if o.page then
    options.save(o.page, clothpage.page(plan), "page")
  end
  options.print(o, clothtable, plan)
end)
