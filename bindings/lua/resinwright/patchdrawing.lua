-- SPDX-License-Identifier: GPL-3.0-or-later
-- The edge of a patch or a bottom patch, cut along the hull: lengths to scale, thicknesses not,
-- the layers drawn apart above the skin.
local drawing = require "resinwright.drawing"
local text = require "resinwright.text"
local work = require "resinwright.repairwork"

local patchdrawing = {}

local CLOTH, LEAST_WOOD, MOST_WOOD, ALL_WOOD = 13, 16, 60, 90

local function mm(q)
  return q:to "mm"
end

-- How far each layer reaches beyond the base, in mm, in the order of laying.
local function reaches(plan)
  local base = plan.doubling and math.huge or mm(plan.base.length)
  local most = 0
  for _, cut in ipairs(plan.cuts) do
    base = plan.doubling and math.min(base, mm(cut.length)) or base
  end
  local out = {}
  for i, cut in ipairs(plan.cuts) do
    out[i] = (mm(cut.length) - base) / 2
    most = math.max(most, out[i])
  end
  return out, most, base
end

-- What is drawn, in mm from the edge of the base: inner is how much of the base is seen.
local function geometry(plan)
  local taper = plan.o.joint == "taper" and plan.edge.taper
  local g = { tapered = taper and mm(taper.along) or 0,
    scarf = plan.edge.scarf and mm(plan.edge.scarf.along) or 0 }
  g.reach, g.most, g.base = reaches(plan)
  local seen = math.max(0.6 * g.most, 1.4 * g.scarf, g.most == 0 and 0.2 * g.base or 0)
  g.inner = math.min(g.base / 2, seen)
  g.whole = g.inner > g.base / 2 - 1e-6
  g.outer = math.max(1.18 * g.most, 0.25 * g.inner)
  return g
end

-- Plies from the face of the patch on, with their heights and what of them is gone, in px.
local function bands(plan)
  local out, wood = {}, 0
  for i, layer in ipairs(plan.skin_layers) do
    out[plan.o.face == "inside" and #plan.skin_layers + 1 - i or i] = layer
    wood = wood + (layer.wood and mm(layer.thickness) or 0)
  end
  local top = 0
  for i, layer in ipairs(out) do
    local height = CLOTH
    if layer.wood then
      height = math.max(LEAST_WOOD, math.min(MOST_WOOD, ALL_WOOD * mm(layer.thickness) / wood))
    end
    local left = layer.left and mm(layer.left) / mm(layer.thickness) or 1
    out[i] = { top = top, height = height, wood = layer.wood,
      gone = height * math.max(0, 1 - left),
      label = ("%s, %s"):format(layer.name, layer.thickness:text(3)) }
    top = top + height
  end
  return out, top
end

-- Where the edge of what is gone stands at a depth: a taper or a scarf leans, a lap does not.
local function edge_at(g, z)
  if z >= g.leans_from and g.scarf > 0 then
    return -g.scarf * (z - g.leans_from) / math.max(1e-6, g.deep - g.leans_from)
  end
  local bottom = g.scarf > 0 and g.leans_from or g.deep
  return bottom > 0 and g.tapered * (1 - math.min(1, z / bottom)) or 0
end

local function outlined(c, points, pattern)
  c:area(points, pattern)
  points[#points + 1] = points[1]
  c:path(points, "thin")
end

-- One ply: where some of it is gone, the sound part beside it and what is left below.
local function draw_band(c, g, band, y, sx, new_wood)
  local pattern = band.wood and "hatch" or "dots"
  local left, right = sx(-g.inner), sx(g.outer)
  local top, cut = y + band.top, y + band.top + band.gone
  local bottom = top + band.height
  if band.gone > 0 then
    local a, b = sx(edge_at(g, band.top)), sx(edge_at(g, band.top + band.gone - 1e-6))
    outlined(c, { { a, top }, { right, top }, { right, cut }, { b, cut } }, pattern)
    if band.wood and new_wood then
      outlined(c, { { left, top }, { a, top }, { b, cut }, { left, cut } }, "counter")
    end
  end
  if band.gone < band.height then
    outlined(c, { { left, cut }, { right, cut }, { right, bottom }, { left, bottom } }, pattern)
  end
end

local function nth_words(plan, i)
  return ("%d: %s"):format(i, work.size_words(plan.cuts[i], plan.o.units))
end

-- Narrower than this the ends of a bracket would lie on each other, in px.
local NARROW = 8

-- The brackets, and the labels of those too narrow to be drawn.
local function brackets(plan, g, sx)
  local items, narrow = {}, {}
  local function add(label, from, to)
    if to - from > 1e-6 and sx(to) - sx(from) < NARROW then
      narrow[#narrow + 1] = label
    elseif to - from > 1e-6 then
      items[#items + 1] = { label = label, from = sx(from), to = sx(to) }
    end
  end
  if plan.doubling then
    if plan.n > 1 then
      add("step " .. plan.edge.step:text(3), g.most - mm(plan.edge.step), g.most)
    end
    return items, narrow
  end
  if g.scarf > 0 then
    add("scarf " .. plan.edge.scarf.along:text(3), -g.scarf, 0)
  end
  add(g.scarf > 0 and "damage" or g.whole and "half the damage" or "part of the damage", -g.inner,
    -g.scarf)
  if plan.o.joint == "taper" then
    add("taper " .. plan.edge.taper.along:text(3), 0, g.tapered)
    return items, narrow
  end
  local lap = mm(plan.edge.lap)
  add("lap " .. plan.edge.lap:text(3), 0, lap)
  if plan.n > 1 then
    add("step " .. plan.edge.step:text(3), lap, lap + mm(plan.edge.step))
  end
  return items, narrow
end

-- The layers, the first laid the lowest; names only where there is room for them.
local function draw_layers(c, plan, g, y, sx, name_x)
  local n = #plan.cuts
  local pitch = math.max(5, math.min(15, 170 / n))
  local every = math.ceil(13 / pitch)
  for i = 1, n do
    local top = y + (n - i) * pitch
    local middle, x = top + pitch * 0.3, sx(g.reach[i])
    c:box(sx(-g.inner), top, x, top + pitch * 0.6, "solid")
    if i == n or ((i - 1) % every == 0 and (n - i) * pitch >= 13) then
      c:line(x + 3, middle, name_x - 3, middle, "grid")
      c:text(name_x, middle + c.small * 0.35, nth_words(plan, i), { size = c.small })
    end
  end
  return y + n * pitch
end

local function name_width(c, plan, list)
  local width = 0
  for i in ipairs(plan.cuts) do
    width = math.max(width, text.width(nth_words(plan, i), c.small))
  end
  for _, band in ipairs(list) do
    width = math.max(width, text.width(band.label, c.small))
  end
  return math.min(width, c.width * 0.42)
end

--- Draws the edge of a plan of repairplan or doublingplan.
-- @return SVG text
function patchdrawing.draw(plan)
  local spec = { id = "patch" }
  local c = drawing.canvas(spec)
  local g = geometry(plan)
  local list, depth = bands(plan)
  g.deep, g.leans_from = 0, 0
  for _, band in ipairs(list) do
    g.deep = g.deep + band.gone
    g.leans_from = g.leans_from + (band.wood and 0 or band.gone)
  end
  local name_x = c.width - name_width(c, plan, list) - 2
  local left, right = 8, name_x - 12
  local function sx(x)
    return left + (x + g.inner) / (g.inner + g.outer) * (right - left)
  end
  local items, narrow = brackets(plan, g, sx)
  local high, levels = drawing.set_lanes(items, c.small, left, c.width - 2)
  local y = c.small + high + 4
  c:lane_names(items, y, c.small, levels)
  y = draw_layers(c, plan, g, y + 10, sx, name_x) + 4
  for _, band in ipairs(list) do
    draw_band(c, g, band, y, sx, plan.o.let_in)
    c:text(name_x, y + band.top + band.height / 2 + c.small * 0.35,
      text.shorten(band.label, c.small, c.width - name_x), { size = c.small })
  end
  y = y + depth
  c:line(left, c.small + high, left, y + 6, g.whole and "dash_dot" or "dashed")
  c:note("Cut along the hull, the %s is up. %s", plan.o.face, g.whole
    and "The line at the left is the middle." or "It goes on beyond the line at the left.")
  c:note("Black: layers of the patch, 1 is laid first. Dots: cloth of the skin; hatched: wood%s.",
    plan.o.let_in and ", new wood the other way" or "")
  if #narrow > 0 then
    c:note("Too narrow to be marked: %s.", table.concat(narrow, ", "))
  end
  return c:finish(spec, y + 8, "Edge of the patch", ("Layers: %d, the largest %s."):format(
    #plan.cuts, work.size_words(plan.largest, plan.o.units)))
end

patchdrawing.caption = "One edge, lengths to scale, thicknesses not; the layers are drawn apart."

return patchdrawing
