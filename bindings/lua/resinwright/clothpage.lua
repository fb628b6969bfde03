-- SPDX-License-Identifier: GPL-3.0-or-later
-- What clothchoice.make found as a picture, strength against weight, and as a page to print.
local chart = require "resinwright.chart"
local clothchoice = require "resinwright.clothchoice"
local clothtable = require "resinwright.clothtable"
local report = require "resinwright.report"

local clothpage = {}

-- Mass and the other measure of a row as numbers.
local function point_of(plan, row)
  local measure = clothchoice.measure
  local y = row[plan.against]
  return row.mass:to(clothchoice.unit(plan, measure.mass)),
    y and y:to(clothchoice.unit(plan, measure[plan.against]))
end

local CLOUD = 4000 -- marks are not told apart beyond

local function cloud_of(plan)
  local cloud, every = {}, math.max(1, math.ceil(plan.set.count / CLOUD))
  for number = 1, plan.set.count, every do
    local x, y = point_of(plan, plan.set:at { number = number })
    cloud[#cloud + 1] = y and { x, y }
  end
  return cloud
end

-- What no other layup beats in these two measures is joined; the rows shown have their place.
function clothpage.picture(plan)
  local points, shown, cloud, on_line = {}, {}, cloud_of(plan), {}
  for _, number in ipairs(plan.line) do
    on_line[number] = true
  end
  local legend = { ("Grey: %d of the %d layups compared."):format(#cloud, plan.set.count) }
  for _, row in ipairs(plan.rows) do
    local x, y = point_of(plan, row)
    points[#points + 1] = { label = clothtable.label(row), x = x, y = y,
      frontier = on_line[row.number] or false }
    legend[#legend + 1] = ("%s: %s"):format(clothtable.label(row), clothtable.layup(row))
    shown[row.number] = true
  end
  for _, number in ipairs(plan.line) do
    if not shown[number] then
      local x, y = point_of(plan, plan.set:at { number = number })
      points[#points + 1] = { label = "", x = x, y = y, frontier = true }
    end
  end
  local x, y = point_of(plan, plan.planned)
  points[#points + 1] = { label = "planned", x = x, y = y }
  legend[#legend + 1] = "planned: " .. clothtable.layup(plan.planned)
  local c, mass = clothchoice.measure[plan.against], clothchoice.measure.mass
  return chart.scatter { id = "layups", points = points, cloud = cloud, legend = legend,
    title = clothtable.head(plan),
    x_label = ("mass of wood and cloth in resin, %s"):format(clothchoice.unit(plan, mass)),
    y_label = ("%s, %s"):format(c.words, clothchoice.unit(plan, c)) }
end

local function layups_node(plan)
  local rows = {}
  for i, row in ipairs(clothtable.all_rows(plan)) do
    rows[i] = { clothtable.label(row), row.outside, row.inside,
      row.place and clothtable.trials(row) or "", row.plank }
  end
  return report.table { columns = { "place", "outside", "inside", "with other wood and resin",
    plan.with_plank and "plank" or nil }, rows = rows }
end

local function numbers_node(plan, shown)
  local titles, rows = { "place" }, {}
  for _, c in ipairs(shown) do
    titles[#titles + 1] = ("%s%s, %s"):format(c.title, c.under and ": " .. c.under or "",
      clothchoice.unit(plan, c))
  end
  for i, row in ipairs(clothtable.all_rows(plan)) do
    rows[i] = { clothtable.label(row) }
    for k, c in ipairs(shown) do
      rows[i][k + 1] = clothtable.cell(plan, row, c)
    end
  end
  return report.table { columns = titles, rows = rows }
end

-- As many tables as the page has room for beside each other.
local function strength_nodes(plan)
  local nodes, strong, room = {}, clothtable.strong(plan), 7
  for i = 1, #strong, room do
    nodes[#nodes + 1] = numbers_node(plan, table.move(strong, i, math.min(#strong, i + room - 1),
      1, {}))
  end
  return nodes
end

local function first_node(plan)
  local rows = {}
  for i, g in ipairs(clothtable.first(plan)) do
    rows[i] = { g.load, g.words, g.who }
  end
  return report.table { columns = { "load", "what gives way first", "in the layups" },
    rows = rows }
end

function clothpage.page(plan)
  local caption = "Joined: those that no other one beats in these two measures."
  return report.page { title = clothtable.head(plan), note = plan.note, sections = {
    { heading = "Strength against weight", body = report.figure(clothpage.picture(plan),
      caption) },
    { heading = "What no other layup beats", body = { layups_node(plan),
      table.concat(clothtable.explained(plan), " ") } },
    { heading = "Weight and stiffness", body = numbers_node(plan,
      clothchoice.columns(plan, false)) },
    { heading = "Strength, per width", body = strength_nodes(plan) },
    { heading = "What gives way first", body = first_node(plan) },
    { heading = "Cautions", body = report.caution(clothchoice.cautions) },
  } }
end

return clothpage
