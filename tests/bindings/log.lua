-- SPDX-License-Identifier: GPL-3.0-or-later
-- Logbooks and the resins fitted to them, as a script sees them.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local rw = require "resinwright"
local resinfile = require "resinwright.resinfile"

-- luacheck: globals TestLog TestAppend TestFit TestResinFile

-- Invented.
local TEXT = "row,batch,time,on_hull,resin [g],hardener [g],form,found,not_yet,already,observer,"
  .. [[
air [degC],low [degC],high [degC],note
batch,1,2026-10-03 14:00,2026-10-03 14:30,200,72,,,,,,,,,
event,1,,,,,,gelled,2026-10-03 18:00,2026-10-03 20:00,Ann,,,,
event,1,,,,,,hard,2026-10-03 20:00,2026-10-04 08:00,Bo,,,,
batch,2,2026-10-04 09:00,,200,30,,,,,,,,,pump stuck
event,2,,,,,,firm,2026-10-04 12:00,,Ann,,,,
event,2,,,,,cup,thick,,2026-10-04 10:00,Ann,,,,
reading,,2026-10-03 12:00,,,,,,,,,18,,,
reading,,2026-10-03 22:00,,,,,,,,,14,,,
reading,,2026-10-04,,,,,,,,,,12,18,
]]

local function log(changed)
  return rw.log { text = changed or TEXT, name = "book", ratio = 0.36 }
end

local function class()
  return rw.resin { class = "slow-polyetheramine" }
end

local function refused(argument, call, ...)
  local fine, err = pcall(call, ...)
  lu.assertFalse(fine)
  lu.assertEquals(err.argument, argument, tostring(err))
  lu.assertNotStrContains(tostring(err), "rw_")
  return err
end

local function read(path)
  local file <close> = assert(io.open(path, "rb"))
  return file:read "a"
end

local function write(path, text)
  local file <close> = assert(io.open(path, "wb"))
  file:write(text)
end

TestLog = {}

function TestLog.test_rows()
  local l = log()
  lu.assertEquals(#l.batches, 2)
  local b = l.batches[1]
  lu.assertEquals(b.name, "1")
  lu.assertEquals(b.mixed, "2026-10-03 14:00")
  lu.assertEquals(b.mixed_seconds, rw.clock { at = "2026-10-03 14:00" })
  lu.assertEquals(b.on_hull, "2026-10-03 14:30")
  lu.assertAlmostEquals(b.mass:to "g", 272, 1e-9)
  lu.assertFalse(b.suspect)
  lu.assertTrue(l.batches[2].suspect)
  lu.assertNil(l.batches[2].on_hull)
  local e = l.events[1]
  lu.assertEquals({ e.batch, e.found, e.milestone, e.known, e.observer, e.form },
    { "1", "gelled", "gel", "interval", "Ann", "film" })
  lu.assertEquals(e.not_yet, "2026-10-03 18:00")
  lu.assertEquals(l.events[3].known, "right")
  lu.assertEquals(l.events[4].known, "left")
  lu.assertEquals(l.observers, { "Ann", "Bo" })
  lu.assertAlmostEquals(l.readings[1].air:to "degC", 18, 1e-9)
  lu.assertAlmostEquals(l.readings[3].low:to "degC", 12, 1e-9)
  lu.assertEquals(l.left_out, 0)
  lu.assertFalse(l.universal)
end

function TestLog.test_bad_rows_are_refused_or_listed()
  local bad = TEXT .. "event,1,,,,,,tacky,2026-10-04 09:00,2026-10-04 08:30,Ann,,,,\n"
  local fine, err = pcall(log, bad)
  lu.assertFalse(fine)
  lu.assertEquals(err.line, 11)
  local l = rw.log { text = bad, keep_good = true }
  lu.assertEquals(l.left_out, 1)
  local listed
  for _, r in ipairs(l.remarks) do
    listed = listed or r.left_out and r.line
  end
  lu.assertEquals(listed, 11)
  lu.assertEquals(#l.events, 4)
end

function TestLog.test_temperatures()
  local l = log()
  local h = l:history { from = "2026-10-03 12:00", to = "2026-10-03 22:00" }
  lu.assertAlmostEquals(h:at { at = "2026-10-03 17:00" }.air:to "degC", 16, 1e-9)
  refused("log", l.history, l, { from = "2026-10-03 12:00", to = "2026-10-07 12:00" })
  local gaps = l:gaps { from = "2026-10-03 12:00", to = "2026-10-07 12:00" }
  lu.assertEquals(#gaps, 1)
  lu.assertEquals(gaps[1].to, "2026-10-07 12:00")
  lu.assertEquals(l:gaps { from = "2026-10-03 12:00", to = "2026-10-04 12:00" }, {})
  local span = l:span { batch = "1" }
  lu.assertEquals({ span.from, span.to }, { "2026-10-03 14:00", "2026-10-04 08:00" })
  refused("batch", l.span, l, { batch = "7" })
end

function TestLog.test_refusals()
  refused("path", rw.log, {})
  refused("path", rw.log, { path = "x.csv", text = "y" })
  refused("ratio", rw.log, { text = TEXT, ratio = 44 })
  local words = rw.log_words {}
  lu.assertEquals(words[1].found, "thick")
  lu.assertEquals(words[1].milestone, "work_end")
end

function TestLog.test_closed()
  local kept
  do
    local l <close> = log()
    kept = l
  end
  lu.assertFalse((pcall(function() return kept.batches end)))
  lu.assertFalse((pcall(kept.fit, kept, { resin = class() })))
end

TestAppend = {}

function TestAppend.test_what_is_written_reads_again()
  local path = os.tmpname()
  os.remove(path)
  rw.log_add_batch { path = path, batch = "a", time = "2026-10-03 14:00", mass = "272 g",
    place = "keel" }
  rw.log_add_event { path = path, batch = "a", found = "gelled", not_yet = "2026-10-03 18:00",
    already = "2026-10-03 20:00", observer = "Ann" }
  rw.log_add_reading { path = path, time = "2026-10-03 14:00", air = "64.4 degF",
    humidity = "60 %" }
  local before = read(path)
  -- A second look that contradicts the first: refused, and nothing is written.
  local fine, err = pcall(rw.log_add_event, { path = path, batch = "a", found = "sands",
    already = "2026-10-03 16:00", observer = "Ann" })
  lu.assertFalse(fine)
  lu.assertNotNil(err.message)
  lu.assertEquals(read(path), before)
  local l = rw.log { path = path }
  os.remove(path)
  lu.assertEquals(l.batches[1].place, "keel")
  lu.assertAlmostEquals(l.batches[1].mass:to "g", 272, 1e-9)
  lu.assertEquals(l.events[1].already, "2026-10-03 20:00")
  lu.assertAlmostEquals(l.readings[1].air:to "degC", 18, 1e-9)
  lu.assertAlmostEquals(l.readings[1].humidity, 0.6, 1e-12)
end

TestFit = {}

function TestFit.test_what_it_tells()
  local f = log():fit { resin = class(), lag = "30 min" }
  lu.assertEquals(f.class, "slow-polyetheramine")
  lu.assertEquals(f.fitness.notes, 2)
  lu.assertEquals(#f.notes, 2)
  lu.assertEquals(#f.omitted, 2) -- in the cup, and the batch in doubt
  for _, o in ipairs(f.omitted) do
    lu.assertEquals(o.batch, "2")
    lu.assertNotEquals(o.text, "")
  end
  lu.assertTrue(f.rate.value.low < f.rate.value.value and f.rate.value.value < f.rate.value.high)
  lu.assertTrue(f.rate.value.high / f.rate.value.low < f.rate.before.high / f.rate.before.low)
  lu.assertEquals(f.ages.gel.not_yet, 1)
  lu.assertEquals(f.ages.sand.told, "others")
  lu.assertEquals(f.observers[2].name, "Bo")
  lu.assertEquals(#f.batches, 1)
  lu.assertNil(f.drift) -- one batch
  for _, n in ipairs(f.notes) do
    lu.assertTrue(n.low < n.high and n.age_low < n.age_high)
    lu.assertTrue(n.chance > 0 and n.chance <= 1)
  end
  local more = log():fit { resin = class(), suspects = true }
  lu.assertEquals(more.fitness.notes, 3)
  lu.assertNotNil(more.drift)
  lu.assertEquals(log():fit { resin = class(), without = { "1" } }.fitness.notes, 0)
end

function TestFit.test_forecast_and_resin()
  local f = log():fit { resin = class() }
  local hull = rw.steady { air = "16 degC", from = "2026-10-05 08:00", to = "2026-10-09 08:00" }
  local asked = { hull = hull, laid = "2026-10-05 08:00", to = "2026-10-09 08:00", draws = 500 }
  local c = f:forecast(asked)
  local half, all = c.half.recoat_opens, c.recoat_opens
  lu.assertTrue(all.low < half.low and half.low < half.high and half.high < all.high)
  asked.next_batch = false
  local still = f:forecast(asked).recoat_opens
  lu.assertTrue(still.low > all.low and still.high < all.high)
  asked.observer = "Nobody"
  refused("observer", f.forecast, f, asked)
  refused("draws", f.forecast, f, { hull = hull, laid = "2026-10-05 08:00",
    to = "2026-10-09 08:00", draws = -1 })
  -- The resin alone gives about the same middle.
  local r = f:resin { observer = "Ann" }
  lu.assertEquals(r.class, "slow-polyetheramine")
  local by_resin = f:resin {}:forecast { hull = hull, laid = "2026-10-05 08:00",
    to = "2026-10-09 08:00", draws = 0 }
  lu.assertAlmostEquals(by_resin.recoat_opens.seconds, all.seconds, 120)
end

function TestFit.test_limits()
  local f = log():fit { resin = class() }
  for _, of in ipairs { "rate", "energy", "scatter", "age" } do
    local told = of == "age" and f.ages.gel or f[of]
    local wide = f:limits { of = of, milestone = of == "age" and "gel" or nil }
    local narrow = f:limits { of = of, milestone = of == "age" and "gel" or nil, level = "50 %" }
    lu.assertTrue(wide.low < narrow.low and narrow.low < told.value.value, of)
    lu.assertTrue(told.value.value < narrow.high and narrow.high < wide.high, of)
  end
  refused("of", f.limits, f, {})
  refused("level", f.limits, f, { of = "rate", level = "20 %" })
  refused("milestone", f.limits, f, { of = "age", milestone = "gell" })
end

function TestFit.test_refusals()
  local l = log()
  refused("resin", l.fit, l, {})
  refused("lag", l.fit, l, { resin = class(), lag = "-1 h" })
  refused("bridge", l.fit, l, { resin = class(), bridge = "1 s" })
  refused("together", l.fit, l, { resin = class(), together = 1 })
  refused("scatter", l.fit, l, { resin = class(), scatter = 0 })
  refused("reference", l.fit, l, { resin = class(), reference = "200 degC" })
  local _, err = pcall(l.fit, l, { resin = class(), without = { "12" } })
  lu.assertStrContains(tostring(err), "12")
  local fit
  do
    local f <close> = l:fit { resin = class() }
    fit = f
  end
  lu.assertFalse((pcall(function() return fit.rate end)))
end

TestResinFile = {}

local function written(resin, about)
  local path = os.tmpname()
  write(path, resinfile.text(resin, about or {}))
  local fine, got, said = pcall(resinfile.read, path)
  os.remove(path)
  assert(fine, got)
  return got, said
end

-- To the last digit, whatever the resin is made of.
function TestResinFile.test_round_trip()
  local resins = { log():fit { resin = class() }:resin {}, class(),
    rw.resin { class = "fast-polyamine", label = { pot_life = "12 min" } },
    rw.resin { class = "medium-cycloaliphatic", law = rw.law { kind = "two_stage",
      k1 = "0.01 1/min", E1 = "55 kJ/mol", k2 = "0.1 1/min", E2 = "51.7 kJ/mol",
      k3 = "0.001 1/min", E3 = "61 kJ/mol", limit = 0.9, split = 0.4,
      stiffening = { rate = "3 1/min", glass = { uncured = "-20 degC", cured = "150 degC",
        lambda = 0.4 } } } } }
  for _, resin in ipairs(resins) do
    local about = { name = "mine \"so\"", note = "a\nb", from = "log" }
    local again, said = written(resin, about)
    lu.assertEquals(resinfile.text(again, about), resinfile.text(resin, about))
    lu.assertEquals(said, about)
    lu.assertEquals(again.class, resin.class)
  end
end

function TestResinFile.test_refusals()
  local good = resinfile.text(class(), { name = "x" })
  local function reads(text, words)
    local path = os.tmpname()
    write(path, text)
    local fine, err = pcall(resinfile.read, path)
    os.remove(path)
    lu.assertFalse(fine)
    lu.assertStrContains(err.message, words)
  end
  reads("return {}", "no field resin")
  reads("return { resin = 3 }", "resin must be a table")
  reads((good:gsub('name = "x"', 'names = "x"')), "names")
  reads((good:gsub("lambda = [%d.]+", "lambda = 7")), "glass.lambda")
  reads((good:gsub('kind = "kamal"', 'kind = "kamall"')), "kind")
  reads((good:gsub("gel = {\n%s+sd = [%d.]+,\n%s+value = [%d.]+", "gel = { value = 3, sd = 0")),
    "thresholds.gel")
  reads((good:gsub("density = \"[^\"]+\"", "density = 1100")), "density")
end

os.exit(lu.LuaUnit.run())
