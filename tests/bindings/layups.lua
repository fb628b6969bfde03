-- SPDX-License-Identifier: GPL-3.0-or-later
-- Declared sets of layups: counted, worked out, ranked.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestSet TestCompared TestRefused

local names = { "glass-110-plain-tight", "glass-203-plain", "carbon-200-plain" }
local prices = { "5 money/m2", "6 money/m2", "32 money/m2" }

local function layer(name)
  return rw.laminate { plies = { { cloth = rw.cloth { name = name } } } }
end

local function kinds(first, last)
  local list = {}
  for i = first, last do
    list[#list + 1] = { layer = layer(names[i]), price = prices[i] }
  end
  return list
end

local function wood(name, thickness)
  return rw.laminate { plies = { { wood = name, thickness = thickness } } }
end

local all = { "hit", "hit_skins", "hit_outside", "hit_core", "hit_inside", "heel",
  "tension_across", "bending_along_inside" }

-- One or two layers outside, none or one inside, two planks: 42 times 7 times 2 layups.
local function set(changed)
  local angles = { "0 deg", "45 deg" }
  local plywood = rw.laminate { plies = { { wood = "okoume", thickness = "5 mm", veneers = 3 } } }
  local o = { outside = { kinds = kinds(1, 3), angles = angles, least = 1, most = 2 },
    inside = { kinds = kinds(1, 3), angles = angles },
    cores = { { laminate = wood("light-cedar", "6 mm"), price = "30 money/m2" },
      { laminate = plywood, price = "22 money/m2" } },
    resin_price = "19 money/kg", strengths = all }
  for field, value in pairs(changed or {}) do
    o[field] = value
  end
  return rw.layups(o)
end

TestSet = {}

function TestSet.test_count_and_words()
  local s = set()
  lu.assertEquals(s.count, 42 * 7 * 2)
  lu.assertEquals(s.strengths, all)
  lu.assertStrContains(tostring(s), "588 layups")
  lu.assertEquals(rw.kind(s), "layups")
end

-- Each of its numbers as the laminate of the same layers says it.
function TestSet.test_one_is_its_laminate()
  local s = set()
  local loads = { hit = { Mx = "1 N", My = "1 N" }, heel = { Mx = "-1 N", My = "-1 N" },
    tension_across = { Ny = "1 N/m" }, bending_along = { Mx = "1 N" } }
  local among = { skins = "cloth", core = "wood", outside = "outside", inside = "inside" }
  local never = 0
  for number = 1, s.count, 13 do
    local row, lam = s:at { number = number }, s:laminate { number = number }
    lu.assertEquals(row.number, number)
    for measure, property in pairs { mass = "areal_mass", thickness = "thickness" } do
      lu.assertAlmostEquals(row[measure]:si() / lam[property]:si(), 1, 1e-12)
    end
    lu.assertAlmostEquals(row.bend_along:si() / lam.bend_along.value:si(), 1, 1e-10)
    lu.assertAlmostEquals(row.bend_across:si() / lam.bend_across.value:si(), 1, 1e-10)
    lu.assertAlmostEquals(row.pull_along:si() / (lam.Ex:si() * lam.thickness:si()), 1, 1e-10)
    for _, name in ipairs(all) do
      local load, who = name, nil
      for place in pairs(among) do
        if name:find("_" .. place .. "$") then
          load, who = name:sub(1, -#place - 2), place
        end
      end
      local asked = { criterion = "tsai_wu", among = among[who] }
      for field, value in pairs(loads[load]) do
        asked[field] = value
      end
      if row[name] then
        lu.assertAlmostEquals(lam:first_failure(asked).factor / row[name]:si(), 1, 1e-9)
      else
        never = never + 1
        lu.assertEquals(who, "inside", name)
      end
    end
  end
  lu.assertTrue(never > 0, "no layup without cloth inside was tried")
end

-- Layers, plies and veneers by name, from the outside to the inside.
function TestSet.test_layers_by_name()
  local s = set()
  local last = s:laminate { number = s.count } -- carbon everywhere at 45 deg, on plywood
  local said = {}
  for i, layer_of in ipairs(last.skins) do
    said[i] = { layer_of.name, layer_of.ply, layer_of.veneer or 0,
      math.floor(layer_of.angle:to "deg" + 0.5) }
  end
  lu.assertEquals(said, { { "carbon-200-plain", 1, 0, 45 }, { "carbon-200-plain", 2, 0, 45 },
    { "okoume", 3, 1, 0 }, { "okoume", 3, 2, 90 }, { "okoume", 3, 3, 0 },
    { "carbon-200-plain", 4, 0, 45 } })
  local panel = last:panel { length = "0.6 m", width = "0.5 m", pressure = "5 kPa" }
  lu.assertTrue(panel.deflection:si() > 0)
end

-- 42 + 42 stacks without inner cloth come first; number 1 is one light layer on cedar.
function TestSet.test_resin_and_cost_are_sums()
  local cloth = rw.cloth { name = names[1] }
  local epoxy
  for _, m in ipairs(rw.materials { kind = "resin" }) do
    epoxy = m.name == "cured-epoxy" and m.properties.density.value or epoxy
  end
  local lam = layer(names[1])
  local share = lam.skins[1].fibre_share
  local resin = (1 - share) * lam.thickness:si() * epoxy:si()
  local row = set():at { number = 1 }
  lu.assertAlmostEquals(row.resin:si(), resin, 1e-12)
  lu.assertAlmostEquals(row.cost:to "money/m2", 30 + 5 + 19 * resin, 1e-9)
  lu.assertAlmostEquals(row.mass:si(), cloth.areal_mass:si() + resin
    + wood("light-cedar", "6 mm").areal_mass:si(), 1e-9)
end

-- Cloth on a core's faces is asked with the faces, and its resin scatters, not its stiffness.
function TestSet.test_cloth_on_a_core()
  local ply = { cloth = rw.cloth { name = names[2] } }
  local core = rw.laminate { plies = { ply, { wood = "light-cedar", thickness = "6 mm" }, ply } }
  local s = rw.layups { cores = { { laminate = core } }, inside = { kinds = kinds(3, 3) },
    strengths = { "hit_outside", "hit_inside", "hit_core", "hit_skins" } }
  lu.assertEquals(s.count, 2)
  for number = 1, 2 do
    local row, lam = s:at { number = number }, s:laminate { number = number }
    for place, who in pairs { outside = "outside", inside = "inside", core = "wood",
      skins = "cloth" } do
      lu.assertAlmostEquals(row["hit_" .. place]:si() / lam:first_failure { Mx = "1 N",
        My = "1 N", criterion = "tsai_wu", among = who }.factor, 1, 1e-9)
    end
    lu.assertEquals(#lam.skins, 2 + number)
  end
  local wishes = { { measure = "mass" } }
  local places = s:stability { numbers = { 1, 2 }, wishes = wishes, wood = 0 }
  lu.assertEquals({ places[1].first, places[2].first }, { 1.0, 0.0 })
end

-- What is to be known of a layer is to be known of the layup.
function TestSet.test_warnings_go_along()
  local odd = rw.laminate { plies = { { cloth = rw.cloth { name = names[2] }, thickness = "0.3 mm",
    resin = "120 g/m2" } } }
  local s = rw.layups { outside = { kinds = { { layer = odd } }, least = 1 },
    cores = { { laminate = wood("light-cedar", "6 mm") } } }
  lu.assertTrue(#odd.warnings > 0)
  lu.assertEquals(s:laminate { number = 1 }.warnings, odd.warnings)
end

function TestSet.test_symmetric_and_alone()
  local s = rw.layups { outside = { kinds = kinds(1, 2), least = 1, most = 2 }, symmetric = true,
    cores = { { laminate = wood("light-cedar", "6 mm") } } }
  lu.assertEquals(s.count, 2 + 4)
  local skins = s:laminate { number = 6 }.skins
  lu.assertEquals(#skins, 5)
  lu.assertEquals(skins[1].name, skins[5].name)
  local cloth = rw.layups { outside = { kinds = kinds(1, 1), least = 2, most = 2 } }
  lu.assertEquals(#cloth:laminate { number = 1 }.skins, 2)
end

function TestSet.test_progress_and_stop()
  local last, total
  local s = set { progress = function(done, of)
    last, total = done, of
  end }
  lu.assertEquals({ last, total }, { s.count, s.count })
  local none, why = set { progress = function()
    return false
  end }
  lu.assertNil(none)
  lu.assertStrContains(why, "stopped")
  local ok, err = pcall(set, { progress = function()
    error "the script's own"
  end })
  lu.assertFalse(ok)
  lu.assertStrContains(err, "the script's own")
end

TestCompared = {}

local function beats(a, b)
  return a.mass <= b.mass and a.hit >= b.hit and a.cost <= b.cost
    and (a.mass < b.mass or a.hit > b.hit or a.cost < b.cost)
end

function TestCompared.test_front_by_comparing_all()
  local s, rows = set(), {}
  for i = 1, s.count do
    rows[i] = s:at { number = i }
  end
  local wishes = { { measure = "mass" }, { measure = "hit" }, { measure = "cost" } }
  local front = s:front { wishes = wishes }
  local stands = {}
  for _, number in ipairs(front) do
    stands[number] = true
  end
  for i, row in ipairs(rows) do
    local beaten = false
    for _, other in ipairs(rows) do
      beaten = beaten or beats(other, row)
    end
    lu.assertEquals(stands[i] or false, not beaten, i)
  end
  lu.assertTrue(#front > 5 and #front < s.count / 2)
  lu.assertEquals(s:front { wishes = wishes, numbers = { front[2], front[1] } },
    { front[1], front[2] })
end

function TestCompared.test_rank_by_one_measure()
  local s = set()
  for measure, better in pairs { mass = "<=", bend_across = ">=", hit_inside = ">=" } do
    local before
    for _, r in ipairs(s:rank { wishes = { { measure = measure } }, top = 40 }) do
      local now = s:at { number = r.number }[measure]:si()
      lu.assertTrue(before == nil or (better == "<=" and before <= now)
        or (better == ">=" and before >= now), measure)
      before = now
    end
  end
  local heavy = s:rank { wishes = { { measure = "mass", want = "large" } }, top = 1 }[1]
  lu.assertEquals(heavy.behind, 0.0)
  local light = s:rank { wishes = { { measure = "mass" } }, top = 1 }[1]
  lu.assertTrue(s:at { number = heavy.number }.mass > 1.2 * s:at { number = light.number }.mass)
end

-- A tenth of the lightest counts as one, a fifth of the strongest as one and a half.
function TestCompared.test_sum_of_a_wish()
  local s = set()
  local wishes = { { measure = "mass", step = "10 %" }, { measure = "hit", weight = 1.5,
    step = "20 %" } }
  local lightest = s:rank { wishes = { { measure = "mass" } }, top = 1 }[1].number
  local strongest = s:rank { wishes = { { measure = "hit" } }, top = 1 }[1].number
  local mass, hit = s:at { number = lightest }.mass:si(), s:at { number = strongest }.hit:si()
  local ranked = s:rank { wishes = wishes, top = 25 }
  lu.assertEquals(#ranked, 25)
  for _, r in ipairs(ranked) do
    local row = s:at { number = r.number }
    lu.assertAlmostEquals(r.behind, (row.mass:si() - mass) / (0.1 * mass)
      + 1.5 * (hit - row.hit:si()) / (0.2 * hit), 1e-9)
  end
  lu.assertEquals(#s:rank { wishes = wishes, numbers = { 7, 3 } }, 2)
end

function TestCompared.test_stability()
  local s = set()
  local wishes = { { measure = "bend_along", step = "10 %" }, { measure = "mass", step = "10 %" } }
  local numbers = {}
  for i, r in ipairs(s:rank { wishes = wishes, top = 6 }) do
    numbers[i] = r.number
  end
  local sum, moved = 0, false
  for i, p in ipairs(s:stability { numbers = numbers, wishes = wishes, draws = 200 }) do
    lu.assertEquals(p.number, numbers[i])
    lu.assertTrue(p.best <= p.rank and p.rank <= p.worst)
    sum, moved = sum + p.first, moved or p.best < p.worst
  end
  lu.assertAlmostEquals(sum, 1, 1e-9)
  lu.assertTrue(moved)
  for i, p in ipairs(s:stability { numbers = numbers, wishes = wishes, wood = 0, resin = 0 }) do
    lu.assertEquals({ p.best, p.worst, p.first }, { i + 0.0, i + 0.0, i == 1 and 1.0 or 0.0 })
  end
end

TestRefused = {}

function TestRefused.test_sets()
  local function refused(argument, words, changed)
    support.refused_for(argument, words, set, changed)
  end
  local two = rw.laminate { plies = { { wood = "okoume", thickness = "2 mm" },
    { cloth = rw.cloth { name = names[1] } } } }
  local turned = rw.laminate { plies = { { cloth = rw.cloth { name = names[1] },
    angle = "45 deg" } } }
  refused("outside.kinds[1].layer", { "2 plies", "one layer" },
    { outside = { kinds = { { layer = two } } } })
  refused("inside.kinds[2].layer", { "angle" },
    { inside = { kinds = { kinds(1, 1)[1], { layer = turned } } } })
  refused("outside.kinds", { "empty" }, { outside = { kinds = {} } })
  refused("outside.angles[1]", { "45", "no unit", "deg" },
    { outside = { kinds = kinds(1, 1), angles = { 45 } } })
  refused("outside.angles[2]", { "450 deg", "-360 to 360 deg" },
    { outside = { kinds = kinds(1, 1), angles = { "0 deg", "450 deg" } } })
  refused("outside.least", { "3", "0 to 2" },
    { outside = { kinds = kinds(1, 1), least = 3, most = 2 } })
  refused("inside.most", { "17", "0 to 16" }, { inside = { kinds = kinds(1, 1), most = 17 } })
  refused("count", { "fewer kinds" }, { outside = { kinds = kinds(1, 3), most = 16 } })
  refused("symmetric", { "inside", "mirrors" }, { symmetric = true })
  local many = {}
  for i = 1, 17 do
    many[i] = "hit"
  end
  refused("strengths", { "17", "1 to 16" }, { strengths = many })
  refused("strengths[1]", { '"hits"', '"hit"' }, { strengths = { "hits" } })
  refused("resin_price", { "money" }, { resin_price = "19 kg" })
  refused("resin_price", { "below zero" }, { resin_price = "-19 money/kg" })
  local cheap = kinds(1, 1)
  cheap[1].price = "-1 money/m2"
  refused("inside.kinds[1].price", { "below zero" }, { inside = { kinds = cheap } })
  local plank = wood("light-cedar", "6 mm")
  refused("cores[2].price", { "below zero" }, { cores = { { laminate = plank },
    { laminate = plank, price = "-2 money/m2" } } })
  refused("outside.angles", { "empty" }, { outside = { kinds = kinds(1, 1), angles = {} } })
  local thick = rw.laminate { plies = { { wood = "okoume", thickness = "40 mm", veneers = 49 } } }
  refused("cores[1].laminate.plies", { "49", "32" }, { cores = { { laminate = thick } } })
  refused("cores[1].laminate", { "laminate" }, { cores = { { laminate = "okoume" } } })
  support.refused_for("cores", { "core", "no ply" }, rw.layups, {})
end

function TestRefused.test_questions()
  local s = set()
  local function refused(argument, words, method, asked)
    support.refused_for(argument, words, s[method], s, asked)
  end
  local mass = { { measure = "mass" } }
  refused("number", { "589", "1 to 588" }, "at", { number = 589 })
  refused("number", { "0", "1 to 588" }, "laminate", { number = 0 })
  refused("wishes", { "empty" }, "rank", { wishes = {} })
  refused("wishes[2].measure", { "strength", "rw.layups{strengths" }, "rank",
    { wishes = { mass[1], { measure = "tension_along" } } })
  refused("wishes[1].measure", { '"mas"', '"mass"' }, "front",
    { wishes = { { measure = "mas" } } })
  refused("wishes[1].step", { "0" }, "rank", { wishes = { { measure = "mass", step = 0 } } })
  refused("wishes[1].weight", { "-1" }, "rank", { wishes = { { measure = "mass", weight = -1 } } })
  refused("numbers", { "empty" }, "rank", { wishes = mass, numbers = {} })
  refused("numbers", { "empty" }, "stability", { wishes = mass, numbers = {} })
  refused("numbers[2]", { "9999" }, "front", { wishes = mass, numbers = { 1, 9999 } })
  refused("wood", { "0.6", "0.5" }, "stability", { wishes = mass, numbers = { 1 }, wood = "60 %" })
  refused("draws", { "0", "1 to" }, "stability", { wishes = mass, numbers = { 1 }, draws = 0 })
  local free = rw.layups { outside = { kinds = { { layer = layer(names[1]) } }, least = 1 } }
  support.refused_for("wishes[1].step", { "share of the best", "no size" }, free.rank, free,
    { wishes = { { measure = "cost", step = "10 %" } } })
end

os.exit(lu.LuaUnit.run())
