-- SPDX-License-Identifier: GPL-3.0-or-later
-- A damaged place in a skin, such as a gouge: how many layers bring it back, how wide they must
-- lap onto sound skin, how large each is cut, and what stays weaker. As text, CSV, JSON and a
-- page.
--
-- repairplan.make { name, note, plies, face, layers_gone, wood_left, hole, cloth, share, aim,
-- most, strength, factor, carry, glue, least_lap, least_step, joint, let_in, first, waste,
-- criterion, units } asks the library; the others print what it gives. Lengths and strength are
-- quantities; hole is { length, width }; cloth one ply; share, factor, carry and waste numbers.
-- All numbers come from the library.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local patchdrawing = require "resinwright.patchdrawing"
local repairjoint = require "resinwright.repairjoint"
local report = require "resinwright.report"
local sections = require "resinwright.sections"
local skinwords = require "resinwright.skinwords"
local work = require "resinwright.repairwork"

local repairplan = {}

local refuse = work.refuse

-- ---------------------------------------------------------------- what is gone

-- The plies from the damaged face on, each with its place in the list.
local function from_face(o)
  local out = {}
  for i, ply in ipairs(o.plies) do
    out[o.face == "inside" and #o.plies + 1 - i or i] = { at = i, ply = ply }
  end
  return out
end

-- How many layers of cloth lie on the face, and the wood directly below them.
local function look_below(order)
  local cover, woods, thickness = 0, {}, rw.q "0 mm"
  while order[cover + 1] and not order[cover + 1].ply.wood do
    cover = cover + 1
  end
  local i = cover + 1
  while order[i] and order[i].ply.wood do
    woods[#woods + 1] = order[i]
    thickness = thickness + rw.q(order[i].ply.thickness)
    i = i + 1
  end
  return cover, woods, thickness
end

local function layer_words(n)
  return n == 1 and "1 layer" or n .. " layers"
end

local function check_gone(o, cover, woods, thickness)
  if not o.layers_gone and not o.wood_left then
    refuse("layers_gone", "is missing, and so is what is left of the wood",
      "Say what is gone: --layers-gone 1, or --wood-left \"4 mm\", or both.")
  elseif o.layers_gone and o.layers_gone > cover then
    refuse("layers_gone", ("is %d, there %s on the %s"):format(o.layers_gone,
      cover == 1 and "is 1 layer of cloth" or ("are %d layers of cloth"):format(cover), o.face))
  elseif not o.wood_left then
    return
  elseif #woods == 0 then
    refuse("wood_left", ("is given, there is no wood below the cloth on the %s"):format(o.face))
  elseif o.wood_left:si() < 0 or o.wood_left > thickness then
    refuse("wood_left", ("is %s, the wood there is %s thick"):format(o.wood_left:text(3),
      thickness:text(3)), "It is what is left, not what is gone.")
  elseif o.layers_gone and o.layers_gone < cover then
    refuse("wood_left", ("is given, but only %d of %s of cloth above it"):format(o.layers_gone,
      layer_words(cover)), ("Where wood is gone, so is all cloth over it: --layers-gone %d.")
      :format(cover))
  end
end

-- Takes a thickness of wood off, the ply nearest to the face first; what is lost, and what is
-- left by places in the list.
local function take_wood(woods, lost, left)
  local gone = {}
  for _, w in ipairs(woods) do
    local thickness = rw.q(w.ply.thickness)
    local off = lost < thickness and lost or thickness
    if off:si() > 1e-9 then
      gone[#gone + 1] = work.with(w.ply, { thickness = off })
      left[w.at] = thickness - off
    end
    lost = lost - off
  end
  return gone
end

-- What is gone and what is left: lists of plies from outside to inside.
local function damage(o)
  local order = from_face(o)
  local cover, woods, thickness = look_below(order)
  check_gone(o, cover, woods, thickness)
  local layers = o.layers_gone or cover
  local d = { cloth = {}, wood = {}, left = {}, layers = layers, lost = rw.q "0 mm",
    bare = layers == cover and #woods > 0, ply_left = {} }
  for i = 1, d.layers do
    d.cloth[i] = order[i].ply
    d.ply_left[order[i].at] = rw.q "0 mm"
  end
  if o.wood_left then
    d.lost = thickness - o.wood_left
    d.wood = take_wood(woods, d.lost, d.ply_left)
  end
  if #d.cloth + #d.wood == 0 then
    refuse(o.wood_left and "wood_left" or "layers_gone", "leaves all as it was: nothing is gone")
  elseif o.let_in and #d.wood == 0 then
    refuse("let_in", "puts new wood in, but no wood is gone", "Say how much is left: --wood-left.")
  end
  for i, ply in ipairs(o.plies) do
    local rest = d.ply_left[i]
    if not rest or (ply.wood and o.let_in) then
      d.left[#d.left + 1] = ply
    elseif rest:si() > 1e-9 then
      d.left[#d.left + 1] = work.with(ply, { thickness = rest })
    end
  end
  if #d.left == 0 then
    refuse(o.wood_left and "wood_left" or "layers_gone", "leaves nothing to lay a patch on",
      o.wood_left and "Let new wood in first: --let-in." or "One layer at least must be sound.")
  end
  return d
end

local function describe(plan, o, d, sound)
  local s = sections.add(plan, "skin", "Sound skin, from the outside to the inside")
  plan.skin_layers = {}
  for i, layer in ipairs(sound.skins) do
    local rest = d.ply_left[layer.ply]
    local gone = rest and (rest:si() < 1e-9 and ", gone" or ", %s left")
    sections.row(s, "ply_" .. i, skinwords.layer(layer, o.veneer[layer.ply])
      .. (gone and gone:format(rest:text(3)) or ""), layer.thickness)
    plan.skin_layers[i] = { name = layer.name, thickness = layer.thickness, ply = layer.ply,
      wood = o.plies[layer.ply].wood ~= nil, left = rest }
  end
  sections.row(s, "thickness", "thickness", sound.thickness)
  s = sections.add(plan, "damage", "What is gone, " .. o.face)
  sections.row(s, "hole", "length along the hull by width", work.size_words(o.hole, o.units))
  sections.row(s, "layers_gone", "layers of cloth", d.layers)
  if d.lost:si() > 0 then
    sections.row(s, "wood_gone", "depth of wood", d.lost)
  end
end

-- ---------------------------------------------------------------- layers

local measures = { { "bend_along", "bending stiffness along" },
  { "bend_across", "bending stiffness across" },
  { "moment_along", "bending strength along" }, { "moment_across", "bending strength across" },
  { "pull_along", "strength against a pull along" },
  { "pull_across", "strength against a pull across" } }
repairplan.measures = measures

local function ask_patch(plan, o, share, most, left)
  return rw.patch { sound = plan.sound, left = left or plan.left, layer = plan.layer,
    share = share, face = work.face(o.face), most = most, criterion = o.criterion }
end

local function number_of(asked, aim)
  if aim == "both" then
    return asked.for_stiffness and asked.for_strength
      and math.max(asked.for_stiffness, asked.for_strength)
  end
  return asked["for_" .. aim]
end

local LESS = 0.95

-- Where a little less would do with fewer layers, says so.
local function add_less(plan, o, s)
  local share = math.max(0.1, LESS * o.share)
  local n = number_of(ask_patch(plan, o, share, o.most), o.aim)
  n = n and math.max(1, n)
  if n and n + 2 < plan.n then
    sections.row(s, "for_less", ("layers for %s of it"):format(sections.say(LESS)), n)
    sections.note(s, ("The last twentieth costs %s more: think of --share \"%s\"."):format(
      layer_words(plan.n - n), sections.say(share)))
  end
end

-- How many are laid: those for what is aimed at; where these don't do, as many as were tried.
local function choose_layers(plan, o)
  local asked = ask_patch(plan, o, o.share, o.most)
  local s = sections.add(plan, "layers", ("Layers for %s of the sound skin"):format(
    sections.say(o.share)))
  local function said(n)
    return n or ("more than %d"):format(o.most)
  end
  sections.row(s, "cloth", "cloth of the patch", skinwords.layer(plan.layer.skins[1]))
  sections.row(s, "for_stiffness", "layers for stiffness", said(asked.for_stiffness))
  sections.row(s, "for_strength", "layers for strength", said(asked.for_strength))
  local n = number_of(asked, o.aim)
  plan.n = math.max(1, n or o.most)
  sections.row(s, "taken", "layers taken", math.tointeger(plan.n))
  sections.row(s, "thickness", "thickness they add", plan.layer.thickness * plan.n)
  add_less(plan, o, s)
  if asked.why then
    sections.note(s, asked.why .. ".")
  end
  if n == 0 then
    sections.note(s, "What is left does already; one layer keeps the water out.")
  end
  return asked
end

-- Layers that do where new wood is let in first, or nil where it is or none is gone.
local function layers_with_new_wood(plan, o)
  if o.let_in or #plan.d.wood == 0 then
    return nil
  end
  local left = {}
  for i, ply in ipairs(o.plies) do
    left[#left + 1] = (ply.wood or not plan.d.ply_left[i]) and ply or nil
  end
  local n = number_of(ask_patch(plan, o, o.share, o.most, work.laminate(left)), o.aim)
  return n and layer_words(math.max(1, n)) or "more than " .. layer_words(o.most)
end

local function add_shares(plan, key, title, shares)
  local s, above = sections.add(plan, key, title), false
  for _, m in ipairs(measures) do
    sections.row(s, m[1], m[2], shares[m[1]])
    above = above or (m[1]:find "^bend" == nil and shares[m[1]] > 1.001)
  end
  if above then
    sections.note(s, "Strength is that at the first damage to anything. Above 100 %: what gave "
      .. "way first in the sound skin is gone, or less strained.")
  end
  return s
end

local function add_weaker(plan, o, s, mended)
  local weak = {}
  for _, m in ipairs(measures) do
    if mended[m[1]] < o.share - 1e-9 then
      weak[#weak + 1] = ("%s (%s)"):format(m[2], sections.say(mended[m[1]]))
    end
  end
  plan.weaker = weak
  sections.note(s, #weak > 0 and "Stays weaker than asked for: " .. table.concat(weak, ", ") .. "."
    or ("Nothing stays below the %s asked for, as far as this goes: a bond is never quite the "
    .. "skin it replaces."):format(sections.say(o.share)))
  if plan.d.lost:si() > 0 and not o.let_in then
    sections.note(s, "The layers are counted as lying on the wood that is left; slope the sides "
      .. "of the hollow so that they do. Filler fairs it and bears nothing here. New wood let in "
      .. "(--let-in) takes fewer layers.")
  end
end

-- ---------------------------------------------------------------- all of it

local function sizes(plan, o)
  local out = {}
  for i = 1, plan.n do
    local rim = plan.edge.lap + plan.edge.step * (i - 1)
    out[i] = o.joint == "taper" and work.wider(plan.base, plan.edge.taper.along * (i / plan.n),
      plan.edge.taper.across * (i / plan.n)) or work.wider(plan.base, rim)
  end
  return out
end

local function add_short(plan, o)
  local before = {}
  if plan.edge.scarf then
    before[1] = { "new_wood", "new wood let in first", work.size_words(plan.base, o.units) }
  end
  local taper = o.joint == "taper" and plan.edge.taper
  before[#before + 1] = { "sand", "sand around the place", taper
    and ("a taper over %s at the ends, %s at the sides"):format(taper.along:text(3),
      taper.across:text(3))
    or ("a rim of %s"):format(plan.edge.rim:text(3)) }
  if plan.with_new_wood then
    before[#before + 1] = { "let_in", "with new wood let in", plan.with_new_wood }
  end
  work.add_short(plan, before, { { "weaker", "stays weaker than asked for",
    #plan.weaker > 0 and table.concat(plan.weaker, ", ")
      or "nothing among stiffness, bending and pull" } })
end

-- Plywood as its veneers, and which of its sheet each is: a gouge takes the outer ones whole.
local function veneers_apart(plies)
  local out, veneer_of = {}, {}
  for _, ply in ipairs(plies) do
    if not ply.veneers then
      out[#out + 1] = ply
    end
    for _, veneer in ipairs(ply.veneers and rw.laminate { plies = { ply } }.skins or {}) do
      local one = work.with(ply, { thickness = veneer.thickness, angle = veneer.angle })
      one.veneers, one.face = nil, nil
      out[#out + 1] = one
      veneer_of[#out] = veneer.veneer
    end
  end
  return out, veneer_of
end

local function check(o)
  work.check(o, "hole")
  for _, side in ipairs { "length", "width" } do
    work.check_range({ hole = o.hole[side], units = o.units }, "hole", "1 mm", "5 m")
  end
  if not (o.carry >= 0.01 and o.carry <= 1) then
    refuse("carry", "must be from 1 % to 100 % of a layer's strength")
  elseif not (o.share >= 0.1 and o.share <= 2) then
    refuse("share", ("is %s, it must be from 10 %% to 200 %% of the sound skin"):format(
      sections.say(o.share)))
  end
end

function repairplan.make(asked)
  local plies, veneer = veneers_apart(asked.plies)
  local o = work.with(asked, { plies = plies, veneer = veneer })
  check(o)
  o.cloth = o.cloth or work.own_cloth(o)
  local d = damage(o)
  local plan = { name = o.name, note = o.note, o = o, d = d, base = o.hole,
    sound = work.laminate(o.plies), left = work.laminate(d.left),
    layer = work.laminate { o.cloth }, edge = {} }
  describe(plan, o, d, plan.sound)
  plan.asked = choose_layers(plan, o)
  plan.with_new_wood = layers_with_new_wood(plan, o)
  local reached = ask_patch(plan, o, 2, plan.n)
  add_shares(plan, "damaged", o.let_in and "With new wood, before the cloth"
    or "What is left of the sound skin", plan.asked.damaged)
  local s = add_shares(plan, "mended", ("Mended with %s"):format(layer_words(plan.n)),
    reached.mended)
  add_weaker(plan, o, s, reached.mended)
  repairjoint.add(plan, o)
  work.add_cuts(plan, o, sizes(plan, o))
  local bare = d.bare and work.nearest_wood(o.plies, o.face)
  work.add_amounts(plan, o, plan.layer, bare and plan.base.length * plan.base.width,
    bare and o.plies[bare].wood)
  add_short(plan, o)
  return plan
end

-- ---------------------------------------------------------------- forms

local function head(plan)
  return ("%s: a patch on the %s over %s"):format(plan.name, plan.o.face,
    work.size_words(plan.o.hole, plan.o.units))
end

function repairplan.text(plan)
  return sections.sheet(plan, head(plan), work.cautions)
end

repairplan.csv = sections.csv

repairplan.json = work.json

repairplan.picture = patchdrawing.draw

-- What is left, and what comes back.
function repairplan.shares_picture(plan)
  local rows = {}
  for i, m in ipairs(measures) do
    for k, key in ipairs { "damaged", "mended" } do
      rows[2 * i - 2 + k] = { label = k == 1 and m[2] or "mended", pattern = k == 2 and "dots",
        value = 100 * plan[key].rows[i].value }
    end
  end
  return chart.bars { id = "shares", rows = rows, unit = "%", title = "Shares of the sound skin" }
end

function repairplan.page(plan)
  local parts = { { heading = "The patch", body = report.figure(repairplan.picture(plan),
    patchdrawing.caption) },
    { heading = "Left and mended", body = report.figure(repairplan.shares_picture(plan),
      "Hatched: what is left, dotted: with the patch; 100 % is the sound skin.") } }
  return work.page(plan, head(plan), parts)
end

return repairplan
