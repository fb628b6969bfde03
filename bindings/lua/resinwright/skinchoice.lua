-- SPDX-License-Identifier: GPL-3.0-or-later
-- The skin of a shop script, as its command line names it: a boat folder or --plies; and options
-- that are quantities, refused in the words of the command line.
local rw = require "resinwright"
local boats = require "resinwright.boat"
local options = require "resinwright.options"
local refusal = require "resinwright.refusal"

local skinchoice = {}

skinchoice.argument = { name = "FOLDER", optional = true,
  doc = "boat folder, with boat.lua; or --plies" }

skinchoice.option = { name = "plies", value = "list",
  doc = "plies from outside to inside, with commas between: cloths, woods and\n"
    .. (" "):rep(25) .. "their thickness, plywood in its veneers, @ an angle:\n"
    .. (" "):rep(25) .. "\"western-redcedar 6 mm, glass-136-plain @ 45 deg\",\n"
    .. (" "):rep(25) .. "\"glass-203-plain, okoume 6 mm in 3 veneers\"" }

local function stop(message, hint)
  error({ message = message, hint = hint }, 0)
end

local function names_of(kind, list)
  for _, m in ipairs(rw.materials { kind = kind }) do
    list[#list + 1] = m.name
  end
  return list
end

local function is_in(list, name)
  for _, known in ipairs(list) do
    if known == name then
      return true
    end
  end
  return false
end

local function no_such_cloth(option, word, known, more)
  local near = rw.nearest { word = word, known = known }
  stop(("--%s: no cloth is called \"%s\"%s"):format(option, word, more),
    near and ("Did you mean \"%s\"?"):format(near)
    or "scripts/compare-cloths.lua --list names the cloths.")
end

local function what_and_angle(words)
  local what, angle = words:match "^(.-)%s*@%s*(.+)$"
  return what or words, angle
end

-- "6 mm in 3 veneers": a thickness, and of how many veneers it is.
local function in_veneers(words)
  local thickness, n = words:match "^(.-)%s+in%s+(%d%d?)%s+veneers$"
  if not n and words:find "veneer" then
    stop(("--plies: \"%s\" is no thickness of plywood"):format(words),
      "Write such as \"okoume 6 mm in 3 veneers\".")
  end
  return thickness or words, math.tointeger(n)
end

-- "okoume 6 mm in 3 veneers @ 90 deg": a wood where a thickness is said, else a cloth.
local function read_ply(words)
  local what, angle = what_and_angle(words)
  local name, rest = what:match "^(%S+)%s+(%S.*)$"
  if name then
    local thickness, veneers = in_veneers(rest)
    return { wood = name, thickness = thickness, veneers = veneers, angle = angle }
  end
  local woods = names_of("wood", {})
  if is_in(woods, what) then
    stop(("--plies: %s has no thickness"):format(what),
      ("Write such as \"%s 6 mm\"."):format(what))
  elseif not is_in(names_of("cloth", {}), what) then
    no_such_cloth("plies", what, names_of("cloth", woods), ", and a wood needs its thickness")
  end
  return { cloth = rw.cloth { name = what }, angle = angle }
end

-- "glass-136-plain @ 45 deg" of an option: one ply of that cloth.
function skinchoice.cloth(o, option)
  local what, angle = what_and_angle(o[option])
  local cloths = names_of("cloth", {})
  if not is_in(cloths, what) then
    no_such_cloth(option, what, cloths, "")
  end
  local ply = { cloth = rw.cloth { name = what }, angle = angle }
  refusal.reworded(function(message, hint)
    return message:gsub("^plies%[1%]%.?", ("--%s: "):format(option)), hint
  end, rw.laminate, { plies = { ply } })
  return ply
end

-- "okoume 6 mm @ 90 deg" of an option: one ply of that wood.
function skinchoice.plank(option, words)
  local what, angle = what_and_angle(words)
  local name, thickness = what:match "^(%S+)%s+(%S.*)$"
  if not name then
    stop(("--%s: \"%s\" has no thickness"):format(option, what),
      ("Write such as \"%s 6 mm\"."):format(what))
  end
  local ply = { wood = name, thickness = thickness, angle = angle }
  refusal.reworded(function(message, hint)
    return (message:gsub("^plies%[1%]%.?", ("--%s: "):format(option))
      :gsub("^no wood", ("--%s: no wood"):format(option))), hint
  end, rw.laminate, { plies = { ply } })
  return ply
end

local function read_plies(words)
  local plies = {}
  for i, item in ipairs(options.items(words)) do
    plies[i] = read_ply(item)
  end
  if #plies == 0 then
    stop("--plies is empty",
      "Write such as --plies \"glass-203-plain, okoume 6 mm, glass-203-plain\".")
  end
  return plies
end

local said = { ["^plies%[(%d+)%]%.?"] = "--plies: ply %1, ", ["^name "] = "--plies " }

-- Calls, and tells a refusal in the words of the command line: `own` has patterns of how one
-- begins, and what to say in their place.
function skinchoice.asked(own, call, ...)
  return refusal.reworded(function(message, hint)
    for _, list in ipairs { own, said } do
      for pattern, words in pairs(list) do
        message = message:gsub(pattern, words)
      end
    end
    return message, hint
  end, call, ...)
end

-- An option that must be given; `how` ends the hint and has %s for the example.
function skinchoice.need(o, name, how, example)
  if not o[name] then
    stop(("--%s is missing"):format(name), how:format(("--%s \"%s\""):format(name, example)))
  end
  return o[name]
end

-- A quantity of an option, told in its words where it is none or, where one is asked for, not of
-- that dimension, or of neither of two.
function skinchoice.quantity(o, name, dimension, other)
  local fine, q = pcall(rw.q, o[name])
  if not fine then
    stop(("--%s: %s"):format(name, q.message), q.hint)
  elseif dimension and q:dimension() ~= dimension and q:dimension() ~= other then
    stop(("--%s: \"%s\" is a %s, a %s is wanted"):format(name, o[name], q:dimension(), other
      and ("%s or a %s"):format(dimension, other) or dimension), "Is the unit right?")
  end
  return q
end

local function check_planks(plies)
  local woods = {}
  for _, ply in ipairs(plies) do
    woods[#woods + 1] = ply.wood and ply
  end
  if #woods > 0 then
    skinchoice.asked({ ["^thickness"] = "--plies: the wood's thickness" }, boats.check_planks,
      woods)
  end
end

-- The skin: plies, their laminate, the name and the note of the boat.
function skinchoice.read(o, script)
  if (o.FOLDER ~= nil) == (o.plies ~= nil) then
    stop("give a boat folder or --plies, and not both",
      ("Write %s.lua FOLDER, or --plies \"glass-203-plain, okoume 6 mm\"."):format(script))
  elseif o.FOLDER then
    local b = boats.read(o.FOLDER)
    return { plies = (boats.plies(b)), laminate = boats.laminate(b), name = b.name,
      note = b.note }
  end
  return skinchoice.asked({}, function()
    local plies = read_plies(o.plies)
    local laminate = rw.laminate { plies = plies }
    check_planks(plies)
    return { plies = plies, laminate = laminate, name = "Plies of the command line" }
  end)
end

return skinchoice
