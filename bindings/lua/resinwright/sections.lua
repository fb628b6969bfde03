-- SPDX-License-Identifier: GPL-3.0-or-later
-- Results as sections of labelled rows: one list drives the text, the CSV, the JSON and
-- the page.
--
--   local s = sections.add(plan, "hull", "Hull")       -- plan.sections, plan.hull
--   sections.row(s, "area", "skin area", some_range)   -- a quantity, range, number or words
--   sections.note(s, "Measured on the inside.")
local rw = require "resinwright"
local json = require "resinwright.json"
local report = require "resinwright.report"

local sections = {}

function sections.add(plan, key, title)
  local s = { key = key, title = title, rows = {}, notes = {} }
  plan.sections = plan.sections or {}
  plan.sections[#plan.sections + 1] = s
  plan[key] = s
  return s
end

function sections.row(s, key, label, value)
  s.rows[#s.rows + 1] = { key = key, label = label, value = value }
end

function sections.note(s, words)
  s.notes[#s.notes + 1] = words
end

-- A value as a reader wants it. A plain number is a share.
function sections.say(value)
  local kind = rw.kind(value)
  if math.type(value) == "integer" then
    return ("%d"):format(value)
  elseif type(value) == "number" then
    return ("%.0f %%"):format(100 * value)
  elseif kind == "quantity" then
    local unit = value:unit()
    return value:text((unit == "K" or unit == "Fdeg") and 2 or 3)
  elseif kind == "range" and rw.kind(value.value) == "quantity"
    and value.value:dimension() == "time" then
    return ("%s (%s to %s)"):format(value.value:text(3), value.low:text(2), value.high:text(2))
  end
  return tostring(value)
end

-- A value taken apart: number and unit, or text, with the ends of its interval.
function sections.parts(value)
  local kind = rw.kind(value)
  if kind == "quantity" then
    local unit = value:unit()
    return { value = value:to(unit), unit = unit }
  elseif kind ~= "range" then
    return { value = value }
  elseif value.clock or type(value.value) == "number" then
    return { value = value.value, low = value.low, high = value.high, because = value.because }
  end
  local unit = value.value:unit()
  return { value = value.value:to(unit), low = value.low:to(unit), high = value.high:to(unit),
    unit = unit, because = value.because }
end

-- Lines of text, one section after the other. `say` is given a row's value and the row.
function sections.text(plan, say)
  local lines = {}
  for _, s in ipairs(plan.sections) do
    lines[#lines + 1] = s.title
    for _, r in ipairs(s.rows) do
      lines[#lines + 1] = ("  %-46s %s"):format(r.label, (say or sections.say)(r.value, r))
    end
    for _, n in ipairs(s.notes) do
      lines[#lines + 1] = "  * " .. n
    end
    lines[#lines + 1] = ""
  end
  return lines
end

-- All of a plan as text: a head, its note, a line below it where one is given, the sections, the
-- cautions.
function sections.sheet(plan, head, cautions, say, below)
  local lines = { head .. (plan.note and " (" .. plan.note .. ")" or "") }
  lines[#lines + 1] = below
  lines[#lines + 1] = ""
  local told = sections.text(plan, say)
  table.move(told, 1, #told, #lines + 1, lines)
  lines[#lines + 1] = "Cautions"
  for _, c in ipairs(cautions) do
    lines[#lines + 1] = "  * " .. c
  end
  return table.concat(lines, "\n") .. "\n"
end

-- A section as the body of a page's section.
function sections.body(s, say)
  local rows = {}
  for i, r in ipairs(s.rows) do
    rows[i] = { r.label, (say or sections.say)(r.value, r) }
  end
  local body = {}
  if #rows > 0 then
    body[1] = report.table { columns = { "what", "value" }, rows = rows }
  end
  if #s.notes > 0 then
    body[#body + 1] = report.list(s.notes)
  end
  return body
end

function sections.csv(plan)
  local lines = { json.csv({ "section", "item", "label", "value", "low", "high", "unit",
    "because" }) }
  for _, s in ipairs(plan.sections) do
    for _, r in ipairs(s.rows) do
      local p = sections.parts(r.value)
      lines[#lines + 1] = json.csv({ s.key, r.key, r.label:match "^%s*(.-)$", p.value,
        p.low or "", p.high or "", p.unit or "", p.because or "" })
    end
  end
  return table.concat(lines, "\n") .. "\n"
end

-- The sections as tables, by their keys, put into `out`.
function sections.into(out, plan)
  for _, s in ipairs(plan.sections) do
    local t = { title = s.title, notes = json.array(s.notes) }
    for _, r in ipairs(s.rows) do
      local p = sections.parts(r.value)
      p.label = r.label:match "^%s*(.-)$"
      t[r.key] = p
    end
    out[s.key] = t
  end
  return out
end

return sections
