-- SPDX-License-Identifier: GPL-3.0-or-later
-- One object of each type, by the name of the type, for the tests that are made from
-- rw.describe(). A type that a field or a method asks for needs a line here.
local function history(rw)
  return rw.steady { air = "19 degC", from = "2026-10-03 08:00", to = "2026-10-10 08:00" }
end

local function cloth(rw) return rw.cloth { name = "glass-203-plain" } end

local function resin(rw) return rw.resin { class = "slow-polyetheramine" } end

local function log(rw)
  return rw.log { text = [[
row,batch,time,resin [g],hardener [g],found,not_yet,already,observer,low [degC],high [degC]
batch,1,2026-10-03 14:00,286,126,,,,,,
event,1,,,,gelled,2026-10-03 18:00,2026-10-03 20:00,Ann,,
event,1,,,,hard,2026-10-03 20:00,2026-10-04 08:00,Bo,,
reading,,2026-10-03,,,,,,,12,18
reading,,2026-10-04,,,,,,,12,18
]] }
end

local function law(rw)
  return rw.law { kind = "nth_order", k1 = "0.01 1/min", E1 = "55 kJ/mol", n = 2 }
end

return {
  crate = function(rw) return rw.crate { weight = "1 kg" } end,
  history = history,
  hull = function(rw)
    return rw.hull { girth = { unit = "mm", 520, 1260, 500 }, length = "5.20 m" }
  end,
  cloth = cloth,
  laminate = function(rw) return rw.laminate { plies = { { cloth = cloth(rw) } } } end,
  layups = function(rw)
    return rw.layups { outside = { least = 1, kinds = { { layer = rw.laminate {
      plies = { { cloth = cloth(rw) } } } } } } }
  end,
  panel = function(rw)
    return rw.laminate { plies = { { wood = "western-redcedar", thickness = "6 mm" } } }
      :panel { length = "0.9 m", width = "0.6 m", pressure = "1 kPa" }
  end,
  resin = resin,
  law = law,
  runs_fit = function(rw)
    return rw.fit_runs { law = law(rw), free = { "ln k1" }, runs = { { temperature = "25 degC",
      time = { unit = "min", 30, 60, 120 }, cure = { 0.24, 0.37, 0.56 } } } }
  end,
  intervals_fit = function(rw)
    return rw.fit_intervals { rows = { { exact = "2 h" }, { not_yet = "1 h", already = "4 h" },
      { exact = "3 h" } } }
  end,
  log = log,
  fit = function(rw) return log(rw):fit { resin = resin(rw) } end,
  cure = function(rw)
    return resin(rw):cure {
      hull = history(rw), from = "2026-10-03 09:00", to = "2026-10-04 09:00",
    }
  end,
}
