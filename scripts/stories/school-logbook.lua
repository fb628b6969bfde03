-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented school builds a canoe and keeps a log: 22 batches, two pupils and a teacher, a
-- logger for twelve days and lows and highs for the rest. What does it tell of the resin?
local rw = require "resinwright"
local logfit = require "resinwright.logfit"

local log = rw.log { path = "scripts/stories/school-logbook.csv", keep_good = true }
local resin = rw.resin { class = "slow-polyetheramine" } -- the label says no more
local lag = "40 min" -- of 6 mm strips behind the air

print "Rows that cannot be right, and what else is odd:"
for _, r in ipairs(log.remarks) do
  print(("  line %d%s: %s"):format(r.line, r.left_out and ", left out" or "", r.text))
end

-- With the batch in doubt among the others, to test it; then without.
local ninth
for _, b in ipairs(log:fit { resin = resin, lag = lag, suspects = true }.batches) do
  if b.name == "9" then
    ninth = b
  end
end
print(("batch 9 took %s times as long as the others; chance of that in a good batch %.1f %%: %s")
  :format(ninth.factor, 100 * ninth.chance, ninth.chance < 0.05 and "an outlier" or "no outlier"))

local fit = log:fit { resin = resin, lag = lag }
print(("notes taken: %d; ages at a steady %s"):format(fit.fitness.notes, fit.reference:text(3)))
print("rate over the class's", fit.rate.value)
print("scatter of a time", fit.scatter.value)
for _, who in ipairs(fit.observers) do
  print(("%s calls things after, over the middle"):format(who.name), who.value)
end
local told, untold = {}, {}
for _, word in ipairs(rw.log_words {}) do
  local key = word.milestone
  local age = fit.ages[key]
  if not told[key] then
    told[key] = true
    print(("%s: %s; %s"):format(word.meaning, age.value, age.meaning))
    if age.not_yet + age.already == 0 then
      untold[#untold + 1] = word.found
    end
  end
end
print("the log does not determine", table.concat(untold, ", "))

-- Next week, 12 to 16 degC every day.
local days = {}
for i, day in ipairs { "08", "09", "10", "11", "12", "13", "14" } do
  days[i] = { day = "2026-11-" .. day, low = "12 degC", high = "16 degC" }
end
local plan = logfit.make { log = log, resin = resin, name = "school", lag = lag,
  air = rw.days { days = days }, from_seconds = rw.clock { at = "2026-11-09" },
  until_seconds = rw.clock { at = "2026-11-11" }, lay = { 8 * 3600, 13 * 3600 },
  temperature_sd = "1.5 K", draws = 1000 }
for _, w in ipairs(plan.windows) do
  print(("laid %s: the next coat from %s"):format(w.laid, w.opens))
  print(("  half of all between %s and %s; sand first from %s"):format(w.opens_half.low,
    w.opens_half.high, w.closes))
end
print "Touch decides, gloves on, and the maker's data sheet comes before these hours."
