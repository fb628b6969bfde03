-- SPDX-License-Identifier: GPL-3.0-or-later
-- Reads a boat folder: one small Lua file that holds data only, and the tables it names.
--
-- boat.lua is a text chunk that returns one table. It is run where nothing can be reached (no
-- files, no other programs, bounded steps and memory), and may name files of its own folder only.
local rw = require "resinwright"

local boat = {}

-- The fields of boat.lua, for the check of names. A table here is the pattern of a record, one in
-- braces with [1] that of a list of records; true stands for anything.
local layer = { cloth = true, fibre = true, areal_mass = true, weave = true, angle = true,
  crown = true, hand = true }
local face = { layers = { layer }, soak = true, cover = true, waste = true, layup = true }
local fields = {
  name = true, note = true, currency = true, chance = true,
  hull = { stations = true, girth = true, spacing = true, length = true, x = true },
  wood = { name = true, thickness = true, angle = true },
  outside = face, inside = face,
  resin = true,
  shop = { log = true, steady = true, lag = true, temperature_sd = true, as_read = true,
    after = true },
  day = { from = true, to = true, start = true },
  crew = { rate = true, cup = true, tray = true, chilled = true, mixing = true, share = true,
    largest = true },
  rolls = { { width = true, shortfall = true, price = true, name = true } },
  overhang = true, lap = true, across = true,
  packs = { { mass = true, price = true, name = true } },
  weights = { { name = true, mass = true } },
}

local function stop(message, hint)
  error({ message = message, hint = hint }, 0)
end

local function keys(t)
  local list = {}
  for k in pairs(t) do
    if type(k) == "string" then
      list[#list + 1] = k
    end
  end
  table.sort(list)
  return list
end

local function check_names(file, where, pattern, t)
  if pattern == true then
    return
  end
  if type(t) ~= "table" then
    stop(("%s: %s is %s, it must be a table"):format(file, where, type(t)),
      ("Write %s = { ... }."):format(where))
  end
  if pattern[1] then
    for i, entry in ipairs(t) do
      check_names(file, ("%s[%d]"):format(where, i), pattern[1], entry)
    end
    return
  end
  for k, v in pairs(t) do
    local inner = pattern[k]
    local full = where == "" and tostring(k) or where .. "." .. tostring(k)
    if not inner then
      local near = type(k) == "string" and rw.nearest { word = k, known = keys(pattern) }
      stop(("%s: there is no field \"%s\""):format(file, full),
        near and ("Did you mean \"%s\"?"):format(near)
        or "The fields here are " .. table.concat(keys(pattern), ", ") .. ".")
    end
    check_names(file, full, inner, v)
  end
end

-- Runs a builder and says which part of which file its refusal is about.
local function within(file, part, build, ...)
  local results = table.pack(pcall(build, ...))
  if results[1] then
    return table.unpack(results, 2, results.n)
  end
  local err = results[2]
  if type(err) ~= "table" then
    error(err, 0)
  end
  stop(("%s: %s: %s"):format(file, part, err.message or tostring(err)), err.hint)
end

local function need(file, t, where, name, how)
  if t[name] == nil then
    stop(("%s: %s%s is missing"):format(file, where, name), how)
  end
  return t[name]
end

local function plain_name(file, where, name)
  if type(name) ~= "string" or name == "" or name:find "[/\\]" or name:sub(1, 1) == "." then
    stop(("%s: %s may only name a file in the boat's own folder"):format(file, where),
      "Write the bare file name, such as \"stations.csv\".")
  end
  return name
end

local function hull(file, folder, t)
  if t.stations then
    local path = folder .. "/" .. plain_name(file, "hull.stations", t.stations)
    return rw.hull_file { path = path }
  end
  need(file, t, "hull.", "girth", "Give stations = \"FILE.csv\", or girths with a spacing.")
  return rw.hull { girth = t.girth, spacing = t.spacing, length = t.length, x = t.x }
end

local function cloth_of(l)
  if l.cloth then
    return rw.cloth { name = l.cloth, crown = l.crown, hand = l.hand }
  end
  return rw.cloth { fibre = l.fibre, areal_mass = l.areal_mass, weave = l.weave,
    crown = l.crown, hand = l.hand }
end

local function read_face(file, where, t)
  if t == nil then
    return nil
  end
  local f = { layers = {}, angles = {}, soak = t.soak, cover = t.cover, waste = t.waste,
    layup = t.layup }
  for i, l in ipairs(need(file, t, where .. ".", "layers", "List the layers of cloth.")) do
    f.layers[i] = within(file, ("%s.layers[%d]"):format(where, i), cloth_of, l)
    f.angles[i] = l.angle
  end
  if #f.layers == 0 then
    stop(("%s: %s.layers is empty"):format(file, where), "List at least one layer of cloth.")
  end
  return f
end

local function shop_air(file, folder, t)
  if t.log then
    local path = folder .. "/" .. plain_name(file, "shop.log", t.log)
    return rw.history_file { path = path, as_read = t.as_read }
  end
  return rw.steady(need(file, t, "shop.", "steady",
    "Give log = \"FILE.csv\", or steady = { air = ..., from = ..., to = ... }."))
end

-- Reads FOLDER/boat.lua and what it names. Returns a table of objects of the module and of the
-- fields as written; raises one sentence where something is wrong.
function boat.read(folder)
  local path = folder .. "/boat.lua"
  local t = rw.read_datafile { path = path, name = "boat.lua" }
  local file = path
  check_names(file, "", fields, t)
  local b = { folder = folder, file = file, written = t }
  b.name = need(file, t, "", "name", "Give the boat a name: name = \"...\".")
  b.note = t.note
  b.currency = t.currency or "money"
  b.chance = t.chance or "95 %"
  b.hull = within(file, "hull", hull, file, folder,
    need(file, t, "", "hull", "Give hull = { stations = \"stations.csv\" }."))
  b.wood = need(file, t, "", "wood", "Give wood = { name = ..., thickness = ... }.")
  b.outside = read_face(file, "outside",
    need(file, t, "", "outside", "Describe the outside skin: outside = { layers = { ... } }."))
  b.inside = read_face(file, "inside", t.inside)
  b.resin = within(file, "resin", rw.resin,
    need(file, t, "", "resin", "Give resin = { class = ..., label = { ... } }."))
  b.shop = need(file, t, "", "shop", "Give shop = { log = \"air.csv\", lag = ... }.")
  b.air = within(file, "shop", shop_air, file, folder, b.shop)
  b.day = t.day or {}
  b.crew = need(file, t, "", "crew", "Give crew = { rate = ..., cup = ... }.")
  need(file, b.crew, "crew.", "rate",
    "Give the wet-out rate, such as { low = \"0.02 m2/min\", high = \"0.04 m2/min\" }.")
  b.rolls = t.rolls or {}
  b.overhang = t.overhang or "50 mm"
  b.lap = t.lap or "50 mm"
  b.across = t.across
  b.packs = t.packs or {}
  b.weights = t.weights or {}
  return b
end

-- A property of the boat's wood from the tables, or nil.
local function wood_property(b, name)
  for _, m in ipairs(rw.materials { kind = "wood" }) do
    if m.name == b.wood.name then
      return m.properties[name]
    end
  end
end

-- Relative spread of the wood's density; a tenth where the table is silent.
function boat.wood_spread(b)
  local density = wood_property(b, "density")
  return density and density.sd / density.value or 0.1
end

-- The soak of a face: as written, or that of the wood's table with its spread.
function boat.soak(b, f)
  if f.soak then
    return f.soak
  end
  local soak = wood_property(b, "soak")
  if soak then
    return { value = soak.value, sd = soak.sd }
  end
  stop(("%s: the table of woods has no soak for \"%s\""):format(b.file, b.wood.name),
    "Give soak = { low = \"...g/m2\", high = \"... g/m2\" } for the face.")
end

-- Plies from outside to inside, as rw.laminate takes them.
function boat.plies(b)
  local plies = {}
  local function add(f, first, last, step)
    for i = first, last, step do
      plies[#plies + 1] = { cloth = f.layers[i], angle = f.angles[i], layup = f.layup }
    end
  end
  add(b.outside, #b.outside.layers, 1, -1)
  plies[#plies + 1] = { wood = b.wood.name, thickness = b.wood.thickness, angle = b.wood.angle }
  if b.inside then
    add(b.inside, 1, #b.inside.layers, 1)
  end
  return plies
end

function boat.laminate(b)
  return within(b.file, "wood and layers", rw.laminate, { plies = boat.plies(b) })
end

return boat
