-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented canoe in an unheated garage: may the first fill coat go on tonight?
local rw = require "resinwright"

local hull = rw.hull { length = "5.20 m",
  girth = { unit = "mm", 520, 905, 1130, 1260, 1300, 1255, 1120, 890, 500 } }
local resin = rw.resin { class = "slow-polyetheramine", label = {
  pot_life = "45 min", pot_mass = "100 g", pot_temperature = "25 degC",
  recoat_from = "6 h", recoat_to = "14 h", recoat_temperature = "21 degC" } }
local laid = "2026-10-03 15:30"

-- The builder's notes, then nights at 5 degC again and again.
local garage = rw.history { readings = {
  { at = "2026-10-03 11:00", air = "18 degC" }, { at = laid, air = "19 degC" },
  { at = "2026-10-03 18:00", air = "19 degC" }, { at = "2026-10-03 21:00", air = "11 degC" },
  { at = "2026-10-04 06:00", air = "5 degC" }, { at = "2026-10-04 09:00", air = "8 degC" },
  { at = "2026-10-04 11:00", air = "18 degC" }, { at = "2026-10-04 18:00", air = "18 degC" } } }
garage = garage:extend { to = "2026-10-25 18:00", how = "repeat_day" }
local planks = garage:lag { time_constant = "35 min" }

local area = hull:area {}
print("area of one face", area)
print("cloth on it", (area.value * rw.q "203 g/m2"):text(3))

-- The whole skin at a time: how likely it takes a coat unsanded, and what that means.
local function say(at)
  local chance = rw.window_chance { resin = resin, hull = planks, first = laid, last = laid,
    at = at }
  local word = chance > 0.8 and "yes" or chance < 0.2 and "no" or "perhaps, try the thumbnail"
  print(("next coat, unsanded, at %s: %s (chance %.0f %%)"):format(at, word, 100 * chance))
end
say "2026-10-03 21:30"
say "2026-10-04 11:00"
local film = resin:forecast { hull = planks, laid = laid, to = "2026-10-25 18:00" }
print("the window opens", film.recoat_opens)
print("and closes", film.recoat_closes)
print("sand from", film.sand)
print("The thumbnail decides, and the maker's data sheet comes before these times.")
