-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented boat in an invented shop, with an invented resin label: a place to start from.
-- Copy this folder, change the numbers, run  lua5.4 scripts/plan-day.lua YOUR-FOLDER
return {
  name = "Sandpiper",
  note = "invented boat, shop, label and prices",
  currency = "crowns",

  hull = { stations = "stations.csv" },
  wood = { name = "western-redcedar", thickness = "5.5 mm" },

  outside = {
    layers = { { cloth = "glass-203-plain" } },
    cover = { low = "0.10 mm", high = "0.25 mm" }, -- clear resin over the crowns, all fill coats
    waste = { low = "8 %", high = "20 %" },        -- pots, brushes, squeegeed off and thrown
  },
  inside = {
    layers = { { cloth = "glass-136-plain" } },
    cover = { low = "0 mm", high = "0.05 mm" },
    waste = { low = "8 %", high = "20 %" },
  },

  resin = {
    class = "slow-polyetheramine",
    label = {
      pot_life = "45 min", pot_mass = "100 g", pot_temperature = "25 degC",
      recoat_from = "6 h", recoat_to = "14 h", recoat_temperature = "21 degC",
      hardener = 0.36, density = "1.10 g/cm3",
    },
  },

  shop = {
    log = "air.csv",          -- readings so far and the forecast
    lag = "35 min",           -- how far the planks stay behind the air
    temperature_sd = "1.5 K", -- how far off the forecast may be
    after = "repeat_day",     -- after the last reading the last day comes again
  },
  day = { from = "2026-10-03 08:00", to = "2026-10-03 20:00" },

  crew = {
    rate = { low = "0.03 m2/min", high = "0.06 m2/min" },
    cup = "90 mm", mixing = "3 min", largest = "400 g",
  },

  rolls = {
    { width = "1.00 m", shortfall = "12 mm", price = "7.20 money/m" },
    { width = "1.27 m", shortfall = "12 mm", price = "9.10 money/m" },
    { width = "1.52 m", shortfall = "15 mm", price = "11.80 money/m" },
  },
  overhang = "60 mm",
  lap = "50 mm",

  packs = {
    { mass = "1.4 kg", price = "38 money" },
    { mass = "5.4 kg", price = "121 money" },
  },

  weights = {
    { name = "rails and decks", mass = { low = "3.2 kg", high = "4.6 kg" } },
    { name = "seats and thwart", mass = { low = "1.6 kg", high = "2.2 kg" } },
    { name = "varnish", mass = { low = "0.5 kg", high = "0.9 kg" } },
  },
}
