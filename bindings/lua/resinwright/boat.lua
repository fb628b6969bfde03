-- SPDX-License-Identifier: GPL-3.0-or-later
-- Reads a boat folder: one small Lua file that holds data only, and the tables it names.
--
-- boat.lua is a text chunk that returns one table. It is run where nothing can be reached (no
-- files, no other programs, bounded steps and memory), and may name files of its own folder only.
local rw = require "resinwright"
local refusal = require "resinwright.refusal"
local resinfile = require "resinwright.resinfile"

local boat = {}

-- The fields of boat.lua, for the check of names. A table here is the pattern of a record, one in
-- braces with [1] that of a list of records, "text" stands for words, true for anything.
local layer = { cloth = true, fibre = true, areal_mass = true, weave = true, angle = true,
  crown = true, hand = true }
local panel = { area = true, bare = true, wet_out = true, filled = true, sanded = true }
local face = { layers = { layer }, soak = true, cover = true, waste = true, layup = true,
  uptake = { wet_out = true, filling = true }, panels = { panel }, weighed_with_cloth = true }
local wood = { layers = { {} } }
for _, name in ipairs { "name", "thickness", "angle", "cut", "moisture", "modulus", "density",
  "veneers", "face" } do
  wood[name], wood.layers[1][name] = true, true
end
local fields = {
  name = "text", note = "text", currency = "text", chance = true,
  hull = { stations = true, girth = true, spacing = true, length = true, x = true },
  wood = wood,
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

local check_names

local function check_list(file, where, pattern, t)
  for k in pairs(t) do
    if math.type(k) ~= "integer" or k < 1 or k > #t then
      stop(("%s: %s is a list, \"%s\" cannot stand in it"):format(file, where, tostring(k)),
        ("Put each entry in braces: %s = { { ... }, { ... } }."):format(where:match "[^.]*$"))
    end
  end
  for i, entry in ipairs(t) do
    check_names(file, ("%s[%d]"):format(where, i), pattern, entry)
  end
end

function check_names(file, where, pattern, t)
  if pattern == true then
    return
  elseif pattern == "text" then
    if type(t) ~= "string" then
      stop(("%s: %s must be words between quotes, found a %s"):format(file, where, type(t)))
    end
    return
  elseif type(t) ~= "table" then
    stop(("%s: %s must be a table, found a %s"):format(file, where, type(t)),
      ("Write %s = { ... }."):format(where:match "[^.]*$"))
  elseif pattern[1] then
    check_list(file, where, pattern[1], t)
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

-- Whether a text begins with some words and no letter or digit goes on after them.
local function begins(text, words)
  return text:sub(1, #words) == words and not text:find("^[%w_]", #words + 1)
end

-- A refusal's sentence in the words of the boat file.
local function reworded(file, names, message)
  if message:sub(1, #file - #"boat.lua") == file:sub(1, -1 - #"boat.lua") then
    return message -- it names a file of the folder already
  end
  for argument, field in pairs(names) do
    if type(argument) == "string" and begins(message, argument) then
      return ("%s: %s%s"):format(file, field, message:sub(#argument + 1))
    end
  end
  return names[1] and ("%s: %s: %s"):format(file, names[1], message) or message
end

-- Calls build; a refusal is said again with the boat file's name and its fields. names[1] is the
-- part of the boat file that it is about, the rest which argument comes from which field.
function boat.within(file, names, build, ...)
  return refusal.reworded(function(message, hint)
    return reworded(file, names, message), hint
  end, build, ...)
end

local within = boat.within

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

-- What the face's own test panels took, or nil. The dry cloth on them is that of its layers.
local function uptake_of(file, where, t, layers)
  local with_cloth = t.weighed_with_cloth
  if with_cloth ~= nil and (not t.panels or type(with_cloth) ~= "boolean") then
    stop(("%s: %s.weighed_with_cloth is true or false and goes with panels"):format(file, where),
      "Write true where the bare panels were weighed with the dry cloth on them.")
  elseif not (t.panels or t.uptake) then
    return nil
  end
  for _, field in ipairs { "soak", "cover", t.panels and "uptake" } do
    if t[field] then
      stop(("%s: %s.%s is given beside %s, which holds it already"):format(file, where, field,
        t.panels and "panels" or "uptake"), "Leave one of the two out.")
    end
  end
  if not t.panels then
    return t.uptake
  end
  local cloth = rw.q "0 kg/m2"
  for _, l in ipairs(with_cloth and {} or layers) do
    cloth = cloth + l.areal_mass
  end
  local place = where .. ".panels"
  local found = within(file, { place, panels = place }, rw.panels,
    { panels = t.panels, cloth = cloth })
  if not found.uptake then
    local why, hint = found.why:match "^(.-); (.*)$"
    stop(("%s: %s: %s"):format(file, place, why), hint)
  end
  return found.uptake
end

local function read_face(file, where, t)
  if t == nil then
    return nil
  end
  local f = { layers = {}, angles = {}, soak = t.soak, cover = t.cover, waste = t.waste,
    layup = t.layup }
  for i, l in ipairs(need(file, t, where .. ".", "layers", "List the layers of cloth.")) do
    f.layers[i] = within(file, { ("%s.layers[%d]"):format(where, i) }, cloth_of, l)
    f.angles[i] = l.angle
  end
  if #f.layers == 0 then
    stop(("%s: %s.layers is empty"):format(file, where), "List at least one layer of cloth.")
  end
  f.uptake = uptake_of(file, where, t, f.layers)
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

local thickest = rw.q("60 mm") -- thicker is no plank to be sheathed but a slip of the unit

--- Refuses wood, all its plies together, that is too thick to be meant; `plies` are of wood only.
function boat.check_planks(plies)
  local plank = rw.laminate { plies = plies }
  if plank.thickness > thickest then
    stop(("thickness is %s, planks are up to %s thick"):format(plank.thickness:text(3),
      thickest:text(3)), "Is the unit right?")
  end
end

local function check_wood_name(file, name, known)
  for _, one in ipairs(known) do
    if one == name then
      return
    end
  end
  local near = type(name) == "string" and rw.nearest { word = name, known = known }
  stop(("%s: no wood is called \"%s\""):format(file, tostring(name)),
    near and ("Did you mean \"%s\"?"):format(near)
    or "Woods: " .. table.concat(known, ", ") .. ".")
end

-- The plies of the wood from the outside to the inside, and the field each comes from: one plank
-- or sheet, or the layers of veneer it is moulded from.
local function planking(file, t)
  local plies, names = {}, { "wood" }
  local function add(veneer, where)
    local ply = { wood = veneer.name or t.name }
    for field, value in pairs(veneer) do
      if field ~= "name" and field ~= "layers" then
        ply[field] = value
      end
    end
    need(file, veneer, where .. ".", "thickness", "Give thickness = \"... mm\".")
    plies[#plies + 1] = ply
    names[("plies[%d]"):format(#plies)] = where
  end
  if not t.layers then
    names.thickness = "wood.thickness"
    add(t, "wood")
    return plies, names
  end
  names[1] = "wood.layers"
  for field in pairs(t) do
    if field ~= "layers" and field ~= "name" then
      stop(("%s: wood.%s stands beside wood.layers"):format(file, field),
        ("Give each layer its own %s."):format(field))
    end
  end
  for i, veneer in ipairs(t.layers) do
    add(veneer, ("wood.layers[%d]"):format(i))
  end
  if #plies == 0 then
    stop(("%s: wood.layers is empty"):format(file), "List at least one layer of wood.")
  end
  return plies, names
end

local function check_wood(file, t)
  local known = {}
  for i, m in ipairs(rw.materials { kind = "wood" }) do
    known[i] = m.name
  end
  need(file, t, "wood.", "name", "Woods: " .. table.concat(known, ", ") .. ".")
  check_wood_name(file, t.name, known)
  local plies, names = planking(file, t)
  for _, ply in ipairs(plies) do
    check_wood_name(file, ply.wood, known)
  end
  within(file, names, boat.check_planks, plies)
end

-- The resin in numbers, or from a file of the folder that a logbook was fitted into.
local function read_resin(file, folder, t)
  if type(t) ~= "table" or t.file == nil then
    return within(file, { "resin", label = "resin.label", class = "resin.class" }, rw.resin, t)
  end
  for field in pairs(t) do
    if field ~= "file" then
      stop(("%s: resin.%s stands beside resin.file, which holds all of it"):format(file,
        tostring(field)), "Give the file alone, or the class and its label.")
    end
  end
  return (resinfile.read(folder .. "/" .. plain_name(file, "resin.file", t.file)))
end

-- Reads FOLDER/boat.lua and what it names. Returns a table of objects of the module and of the
-- fields as written; raises one sentence where something is wrong.
function boat.read(folder)
  local path = folder .. "/boat.lua"
  local file = path
  local t = within(file, {}, rw.read_datafile, { path = path })
  check_names(file, "", fields, t)
  local b = { folder = folder, file = file, written = t }
  b.name = need(file, t, "", "name", "Give the boat a name: name = \"...\".")
  b.note = t.note
  b.currency = t.currency or "money"
  b.chance = t.chance or "95 %"
  b.hull = within(file, { "hull", girth = "hull.girth", x = "hull.x", spacing = "hull.spacing",
    length = "hull.length" }, hull, file, folder,
    need(file, t, "", "hull", "Give hull = { stations = \"stations.csv\" }."))
  b.wood = need(file, t, "", "wood", "Give wood = { name = ..., thickness = ... }.")
  check_wood(file, b.wood)
  b.outside = read_face(file, "outside",
    need(file, t, "", "outside", "Describe the outside skin: outside = { layers = { ... } }."))
  b.inside = read_face(file, "inside", t.inside)
  b.resin = read_resin(file, folder, need(file, t, "", "resin",
    "Give resin = { class = ..., label = { ... } }, or resin = { file = ... }."))
  b.shop = need(file, t, "", "shop", "Give shop = { log = \"air.csv\", lag = ... }.")
  b.air = within(file, { "shop" }, shop_air, file, folder, b.shop)
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

-- Plies from outside to inside, as rw.laminate takes them, and the field each comes from.
function boat.plies(b)
  local plies, names = {}, { "wood and layers" }
  local function add(ply, field)
    plies[#plies + 1] = ply
    names[("plies[%d]"):format(#plies)] = field
  end
  local function add_layer(f, i, where)
    add({ cloth = f.layers[i], angle = f.angles[i], layup = f.layup },
      ("%s.layers[%d]"):format(where, i))
  end
  for i = #b.outside.layers, 1, -1 do
    add_layer(b.outside, i, "outside")
  end
  local planks, fields_of = planking(b.file, b.wood)
  for i, plank in ipairs(planks) do
    add(plank, fields_of[("plies[%d]"):format(i)])
  end
  for i = 1, b.inside and #b.inside.layers or 0 do
    add_layer(b.inside, i, "inside")
  end
  return plies, names
end

function boat.laminate(b)
  local plies, names = boat.plies(b)
  return within(b.file, names, rw.laminate, { plies = plies })
end

return boat
