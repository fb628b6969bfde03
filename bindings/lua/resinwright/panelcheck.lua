-- SPDX-License-Identifier: GPL-3.0-or-later
-- A panel under a heel and under the same load spread out, its edges resting and clamped: does it
-- flex, and what gives way first on which face? As text, CSV, JSON and a page.
--
-- panelcheck.make { name, laminate, length, width, load, from, heel, spread } asks the library;
-- the others print what it gives. The load pushes from "inside", as a heel does, or from
-- "outside"; where spread is nil it is 300 mm, or less where the panel is smaller. All numbers
-- come from the library.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local json = require "resinwright.json"
local report = require "resinwright.report"
local sections = require "resinwright.sections"
local skinwords = require "resinwright.skinwords"

local panelcheck = {}

panelcheck.cautions = {
  "Comparison and shop planning only, not an approval; scantling rules, survey and licensed "
    .. "practice decide; wood scatter is real.",
  "Strengths are good to a factor of two. Knots, slope of grain, glue lines and bad wetting are "
    .. "left out, and so is wood crushed right under the heel.",
  "What stands in brackets is the scatter of clear wood and of cloth alone. Of many strips the "
    .. "weakest gives way first; edges, load and theory add their own doubt.",
  "Real edges lie between resting and clamped, and between free to slide in and held. Beyond half "
    .. "a thickness a panel also carries as a membrane; strain and damage are told without that.",
}

local EDGES = { "resting", "clamped" }

-- A mass weighs by standard gravity; a force stays.
local function force_of(load)
  local q = rw.q(load)
  return q:dimension() == "mass" and q * rw.q "9.80665 m/s2" or q
end

local function describe(plan, lam)
  local s = sections.add(plan, "skin", "Skin, from the outside to the inside")
  for i, layer in ipairs(lam.skins) do
    sections.row(s, "ply_" .. i, skinwords.layer(layer), layer.thickness)
  end
  sections.row(s, "thickness", "thickness", lam.thickness)
  sections.row(s, "areal_mass", "mass", lam.areal_mass)
  sections.row(s, "bend_along", "bending stiffness along", lam.bend_along)
  sections.row(s, "bend_across", "bending stiffness across", lam.bend_across)
end

-- Below this share of the trials it is not told that something else gives way first.
local SELDOM = 0.05

local function first_damage(s, f, spread)
  if not f.ply then
    return
  end
  sections.row(s, "factor", "first damage at the load times", spread.factor)
  sections.row(s, "first", "what gives way first", skinwords.gives_way(f))
  local other = spread.other
  if other and other.share >= SELDOM then
    sections.row(s, "other", ("in %.0f of 100 trials something else"):format(100 * other.share),
      "most often " .. skinwords.gives_way(other))
  end
  local bend, damage = spread.deflection.because, spread.factor.because
  if damage then
    sections.row(s, "why", "most of the spread",
      (bend and "of the deflection: " .. bend .. "; " or "") .. "of first damage: " .. damage)
  end
end

local function answer(plan, case, edges, panel)
  local s = sections.add(plan, case.key .. "_" .. edges,
    ("%s, edges %s"):format(case.title, edges))
  local at, spread = panel.stretched, panel:spread {}
  local function outwards(range)
    return plan.sign < 0 and -range or range
  end
  sections.row(s, "deflection", plan.from == "inside" and "deflection outwards"
    or "deflection inwards", outwards(spread.deflection))
  sections.row(s, "held", "where the edges can't slide in, about", outwards(spread.held))
  sections.row(s, "place", "a face is strained most at",
    ("%s along, %s across"):format(at.x:text(2), at.y:text(2)))
  sections.row(s, "outer_strain", "greatest strain outside", spread.outer_strain)
  sections.row(s, "inner_strain", "greatest strain inside", spread.inner_strain)
  sections.row(s, "moment_along", "moment along, per width", at.moment.x)
  sections.row(s, "moment_across", "moment across, per width", at.moment.y)
  first_damage(s, panel.failure, spread)
  sections.note(s, case.note)
  for _, w in ipairs(panel.warnings) do
    sections.note(s, w)
  end
  s.deflection, s.case, s.edges = outwards(spread.deflection), case, edges
  plan.answers[#plan.answers + 1] = s
end

local SPREAD = rw.q "300 mm"

-- Side of the square that the load is spread over, and a note where it was made to fit.
local function spread_of(o)
  local short, across = rw.q(o.length), rw.q(o.width)
  short = across < short and across or short
  if o.spread then
    return rw.q(o.spread)
  elseif short >= SPREAD then
    return SPREAD
  end
  local side = short * (2 / 3)
  return side, ("%s don't fit on this panel: the load is spread over two thirds of its short "
    .. "side, %s."):format(SPREAD:text(3), side:text(3))
end

function panelcheck.make(o)
  local load = force_of(o.load)
  local plan = { name = o.name, note = o.note, answers = {}, from = o.from or "inside" }
  plan.sign = plan.from == "inside" and -1 or 1
  describe(plan, o.laminate)
  local who = ("%s from %s"):format(load:text(3), plan.from)
  local side, fits = spread_of(o)
  local cases = {
    { key = "heel", title = ("%s on a heel %s across"):format(who, o.heel),
      patch = { load = plan.sign * load, diameter = o.heel } },
    { key = "spread", title = ("%s over %s square"):format(who, o.spread or side:text(3)),
      patch = { load = plan.sign * load, size = side }, note = fits } }
  for _, case in ipairs(cases) do
    for _, edges in ipairs(EDGES) do
      answer(plan, case, edges, o.laminate:panel { length = o.length, width = o.width,
        edges = edges, patch = case.patch, criterion = o.criterion })
    end
  end
  plan.size = ("%s by %s"):format(o.length, o.width)
  return plan
end

-- What most of the spread of these comes from has its own row.
local SHORT = { deflection = true, held = true, factor = true }

-- Strains as per cent.
local function say(value, row)
  if row.key:find "_strain$" then
    local low, high = 100 * value.low, 100 * value.high
    local digits = math.max(math.abs(low), math.abs(high)) < 0.1 and 3 or 2
    local said = ("%.Nf %% (%.Nf to %.Nf)"):gsub("N", digits)
    return (said:format(100 * value.value, low, high):gsub(",", "."))
  end
  local said = sections.say(value)
  return SHORT[row.key] and said:gsub("; most of the spread: [^)]*%)$", ")") or said
end

local function head(plan)
  return ("%s: a panel of %s"):format(plan.name, plan.size)
end

local brackets = "In brackets: where nine in ten such panels lie, as wood and cloth scatter."

function panelcheck.text(plan)
  return sections.sheet(plan, head(plan), panelcheck.cautions, say, brackets)
end

panelcheck.csv = sections.csv

function panelcheck.json(plan)
  return json.encode(sections.into({ name = plan.name, note = plan.note,
    cautions = json.array(panelcheck.cautions) }, plan), 2)
end

-- Deflections of all cases, one below the other.
function panelcheck.picture(plan)
  local rows, unit = {}, plan.answers[1].deflection.value:unit()
  for i, s in ipairs(plan.answers) do
    local d = s.deflection
    rows[i] = { label = ("%s, %s"):format(s.case.key, s.edges), value = d.value:to(unit),
      low = d.low:to(unit), high = d.high:to(unit) }
  end
  return chart.bars { id = "deflection", rows = rows, unit = unit, title = "Deflection" }
end

function panelcheck.page(plan)
  local caption = "Greatest deflection. The real edges lie between resting and clamped. "
    .. "Lines and brackets: where nine in ten such panels lie, as wood and cloth scatter."
  local parts = { { heading = "How far it bends",
    body = report.figure(panelcheck.picture(plan), caption) } }
  for _, s in ipairs(plan.sections) do
    parts[#parts + 1] = { heading = s.title, body = sections.body(s, say) }
  end
  parts[#parts + 1] = { heading = "Cautions", body = report.caution(panelcheck.cautions) }
  return report.page { title = head(plan), note = plan.note, sections = parts }
end

return panelcheck
