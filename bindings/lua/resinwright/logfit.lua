-- SPDX-License-Identifier: GPL-3.0-or-later
-- A logbook turned into this builder's resin: what the notes tell and what they don't, odd batches
-- and rows that cannot be right, and the hours of the coming days in which a coat may go on; as
-- text, CSV, JSON, a picture and a page. All numbers come from the library.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local json = require "resinwright.json"
local notechart = require "resinwright.notechart"
local report = require "resinwright.report"
local sections = require "resinwright.sections"
local text = require "resinwright.text"

local logfit = {}

local DAY = 86400
local LEVELS = { 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.65, 0.7, 0.75, 0.8, 0.84, 0.88, 0.91 }
local FAR = "60 d"   -- of the curve
local RARE = 0.1     -- chance below which a note is named in the picture
local ODD = 0.05     -- chance below which a batch is unlike the others
local SURE = 0.01    -- chance below which something is said not to be chance
local LONG = 4 * DAY -- after a coat, how far its window is looked for
local shown = { "work_end", "gel", "recoat_opens", "blush_past", "trim_opens", "trim_closes",
  "recoat_closes", "handle", "sand", "service" }

local names = { work_end = "too thick to spread", gel = "gelled",
  recoat_opens = "next coat may go on", blush_past = "tack-free", trim_opens = "cuts clean",
  trim_closes = "too hard to cut",
  recoat_closes = "thumbnail leaves no mark", handle = "hard to the hand", sand = "sands",
  service = "in service" }

logfit.cautions = {
  "These hours are those of this log, this shop and these hands: outside the temperatures noted "
    .. "they rest on what was known before. Touch decides, and a test patch first.",
  "Resin and hardener can make skin and lungs allergic for life, half-cured too: gloves when "
    .. "touching a film to test it, mask and no dry sweeping when sanding.",
  "A batch whose ratio is wrong may never cure, whatever the hours say.",
  "The maker's data sheet comes before every number here.",
}

local function clock_of(seconds)
  return rw.clock_text { seconds = seconds }
end

local function plural(n, one, many)
  return ("%d %s"):format(n, n == 1 and one or many or one .. "s")
end

-- ---------------------------------------------------------------- asking

-- Curve and bands of a resin at the temperature where the ages count.
local function curve_of(f)
  local resin, at = f:resin {}, f.reference
  local from = "2000-01-01 00:00"
  local zero = rw.clock { at = from }
  local far = zero + rw.q(FAR):to "s"
  local steady = rw.steady { air = at, from = from, to = clock_of(far) }
  local drawn = resin:draws { hull = steady, laid = from, to = clock_of(far), levels = LEVELS,
    quantiles = { 0.05, 0.25, 0.5, 0.75, 0.95 }, temperature_sd = "0 K", draws = 1000 }
  local out = { levels = LEVELS, seconds = {}, cure = {}, q = { {}, {}, {}, {}, {} } }
  for i, level in ipairs(drawn.levels) do
    for k = 1, 5 do
      out.q[k][i] = level.seconds[k] - zero
    end
  end
  local path = resin:cure { hull = steady, from = from, to = clock_of(far) }
  for i = 0, 120 do
    local seconds = 300 * (far - zero - 600) ^ (i / 120) / 300 ^ (i / 120)
    out.seconds[#out.seconds + 1] = seconds
    out.cure[#out.cure + 1] = path:at { at = clock_of(zero + seconds) }.cure
  end
  out.bands = { { low = out.q[1], high = out.q[5], pattern = "dots" },
    { low = out.q[2], high = out.q[4], pattern = "hatch" } }
  return out
end

-- Windows of coats laid at some hours of each day of a forecast.
local function windows_of(f, o)
  local span = o.air:span()
  local air = o.air:extend { to = clock_of(span.seconds_to + LONG), how = "repeat_day" }
  local hull = o.lag and air:lag { time_constant = o.lag } or air
  local out = {}
  local last = math.min(o.until_seconds or math.huge, span.seconds_to)
  local first = math.max(o.from_seconds or -math.huge, span.seconds_from)
  for day = first // DAY, last // DAY do
    for _, hour in ipairs(o.lay) do
      local laid = day * DAY + hour
      if laid >= first and laid < last then
        local to = math.min(laid + LONG, span.seconds_to + LONG)
        local c = f:forecast { hull = hull, laid = clock_of(laid), to = clock_of(to),
          temperature_sd = o.temperature_sd, draws = o.draws, observer = o.observer }
        out[#out + 1] = { laid = clock_of(laid), laid_seconds = laid, opens = c.recoat_opens,
          opens_half = c.half.recoat_opens, closes = c.recoat_closes,
          closes_half = c.half.recoat_closes, sand = c.sand, never = c.never }
      end
    end
  end
  return out
end

-- "line 5", "lines 5, 8 and 9", "lines 5, 8, 9 and 40 more"; line 0 is the log as a whole.
local function lines_words(lines)
  if #lines == 1 then
    return lines[1] == 0 and "the log" or ("line %d"):format(lines[1])
  end
  local few, n = {}, #lines > 4 and 3 or #lines - 1
  for i = 1, n do
    few[i] = ("%d"):format(lines[i])
  end
  return ("lines %s and %s"):format(table.concat(few, ", "),
    #lines > 4 and ("%d more"):format(#lines - 3) or ("%d"):format(lines[#lines]))
end

--- What a log says of its rows, the same words once.
function logfit.remarks(log)
  local rows, order = {}, {}
  for _, r in ipairs(log.remarks) do
    local words = (r.left_out and ", left out: " or ": ") .. r.text
    if not rows[words] then
      rows[words], order[#order + 1] = {}, words
    end
    table.insert(rows[words], math.tointeger(r.line))
  end
  for i, words in ipairs(order) do
    order[i] = lines_words(rows[words]) .. words
  end
  return order
end

local function tell_log(plan, log)
  local s = sections.add(plan, "log", "The log")
  sections.row(s, "batches", "batches", #log.batches)
  sections.row(s, "events", "things found on them", #log.events)
  sections.row(s, "readings", "readings of the temperature", #log.readings)
  sections.row(s, "left_out", "rows left out, they cannot be right", log.left_out)
  for _, remark in ipairs(logfit.remarks(log)) do
    sections.note(s, remark)
  end
  if log.universal then
    sections.note(s, "All times are universal time, as in the log.")
  end
end

local function tell_omitted(plan, f)
  local s = sections.add(plan, "omitted", "Notes that were not taken")
  sections.row(s, "count", "notes not taken", #f.omitted)
  local hints, order = {}, {}
  for _, e in ipairs(f.omitted) do
    sections.note(s, ("line %d: %s"):format(e.line, e.text))
    if e.hint and not hints[e.hint] then
      hints[e.hint], order[#order + 1] = true, e.hint
    end
  end
  for _, hint in ipairs(order) do
    sections.note(s, hint)
  end
end

-- Who doubts a batch beforehand asks about that one; else the oddest of all is looked at.
local function is_odd(b)
  local chance = b.suspect and b.chance or b.chance_any
  return chance < ODD, chance
end

-- Another fit with the batches in doubt among the others, to test them.
local function tell_batches(plan, tested)
  local s = sections.add(plan, "odd", "Batches against the others")
  for _, b in ipairs(tested.batches) do
    local odd, chance = is_odd(b)
    if b.suspect or odd then
      sections.row(s, "batch_" .. b.name, ("batch %s: its times over the others'"):format(b.name),
        b.factor)
      sections.note(s, ("Batch %s%s is %s: %s as odd is met with a chance of %s %%.%s"):format(
        b.name, b.suspect and ", its ratio in doubt," or "",
        odd and "unlike the others" or "not unlike the others",
        b.suspect and "one" or "among as many, one", text.readable(100 * chance, 1),
        odd and not b.suspect
          and " It was kept: leave it out if its ratio or its times may be wrong." or ""))
    end
  end
  if #s.notes == 0 then
    sections.note(s, "No batch is in doubt or unlike the others.")
  end
end

local function tell_resin(plan, f)
  local s = sections.add(plan, "resin", "This resin")
  sections.row(s, "rate", "how fast, over what was known before", f.rate.value)
  sections.row(s, "rate_before", "the same before the notes", f.rate.before)
  sections.row(s, "energy", "activation energy", f.energy.value)
  sections.row(s, "energy_before", "the same before the notes", f.energy.before)
  sections.row(s, "scatter", "scatter of a time, as a share", f.scatter.value)
  sections.note(s, "How fast: " .. f.rate.meaning .. ". Activation energy: " .. f.energy.meaning
    .. ".")
  if #f.observers > 1 then
    for _, o in ipairs(f.observers) do
      sections.row(s, "observer_" .. o.name, ("times that %s calls, over the middle one"):format(
        o.name == "" and "nobody by name" or o.name), o.value)
    end
  end
end

-- Milestones by what the notes tell of them, one sentence for each verdict.
local function tell_verdicts(s, f)
  local keys, meaning, order = {}, {}, {}
  for _, key in ipairs(shown) do
    local a = f.ages[key]
    if a then
      if not keys[a.told] then
        keys[a.told], meaning[a.told] = {}, a.meaning
        order[#order + 1] = a.told
      end
      table.insert(keys[a.told], names[key])
    end
  end
  for _, told in ipairs(order) do
    sections.note(s, ("%s: %s."):format(table.concat(keys[told], ", "), meaning[told]))
  end
end

local function tell_ages(plan, f)
  local s = sections.add(plan, "ages", ("Age at each milestone, at a steady %s"):format(
    f.reference:text(3)))
  for _, key in ipairs(shown) do
    local a = f.ages[key]
    if a then
      sections.row(s, key, names[key], a.value)
      sections.row(s, key .. "_before", "  before the notes", a.before)
    end
  end
  tell_verdicts(s, f)
end

local function tell_fitness(plan, f)
  local s, q = sections.add(plan, "fitness", "How far to trust it"), f.fitness
  sections.row(s, "notes", "notes taken", math.tointeger(q.notes) or 0)
  sections.row(s, "outside", "of them where one in ten should lie", math.tointeger(q.outside) or 0)
  sections.row(s, "correlation", "correlation of the two told apart least",
    text.fixed(q.correlation, 2))
  sections.note(s, ("Told apart least: %s and %s."):format(names[q.first] or q.first,
    names[q.second] or q.second))
  sections.row(s, "condition", "condition of the unknowns", text.fixed(q.condition, 1))
  if q.chance < SURE then
    sections.note(s, "More notes lie far off than chance has it: look for times mixed up, or for "
      .. "two resins in one log.")
  end
  if q.clumps_chance < SURE then
    sections.note(s, "Notes of one batch go together more than chance has it: batches differ by "
      .. "more than the hand does, and the ranges here are too narrow.")
  end
  local d = f.drift
  if d then
    sections.row(s, "drift", ("times after %s over those at the beginning"):format(
      d.span:text(2)), d.factor)
    sections.note(s, ("As much drift comes by chance with %s %%%s"):format(
      text.readable(100 * d.chance, 1), d.chance < SURE
        and ": is the hardener old, has the thermometer moved?" or "."))
  end
  for _, w in ipairs(f.warnings) do
    sections.note(s, w)
  end
end

-- Most surprising notes first.
local function surprises(f)
  local list = {}
  for _, n in ipairs(f.notes) do
    if n.chance < RARE then
      list[#list + 1] = n
    end
  end
  table.sort(list, function(a, b)
    return a.chance < b.chance
  end)
  return list
end

local function look_words(n)
  if n.known == "exact" then
    return "at " .. n.already
  elseif n.not_yet and n.already then
    return ("between %s and %s"):format(n.not_yet, n.already)
  end
  return n.not_yet and "not yet " .. n.not_yet or "already " .. n.already
end

local function tell_surprises(plan, f)
  local s = sections.add(plan, "surprises", "Notes that surprise")
  sections.row(s, "count", "notes that do not agree well", #surprises(f))
  for _, n in ipairs(surprises(f)) do
    sections.note(s, ("line %d, batch %s, %s %s: as early or late as this with a chance of "
      .. "%s %%"):format(n.line, n.batch, n.found, look_words(n),
      text.readable(100 * n.chance, 1)))
  end
end

--- Fits a log.
-- @param o  log; resin: what is known before; name, note: words; lag, bridge, suspects, without:
--   as log:fit takes them. For the windows, left out without `air`, a history of the coming days:
--   lay: seconds after midnight at which a coat is laid; from_seconds, until_seconds: when the
--   first may be laid, and none any more; temperature_sd, draws, observer: as fit:forecast
-- @return sections, fit, curve, windows
function logfit.make(o)
  local asked = { resin = o.resin, lag = o.lag, bridge = o.bridge, suspects = o.suspects,
    without = o.without }
  local f = o.log:fit(asked)
  asked.suspects = true
  local plan = { name = o.name, fit = f, log = o.log, note = o.note, air = o.air }
  tell_log(plan, o.log)
  tell_omitted(plan, f)
  tell_batches(plan, o.log:fit(asked))
  tell_resin(plan, f)
  tell_ages(plan, f)
  tell_surprises(plan, f)
  tell_fitness(plan, f)
  plan.curve = curve_of(f)
  plan.windows = o.air and windows_of(f, o)
  return plan
end

-- ---------------------------------------------------------------- printing

local function head(plan)
  local q = plan.fit.fitness
  return ("%s, fitted to %s"):format(plan.name, plural(math.tointeger(q.notes) or 0, "note"))
end

-- "Sat 10:20 (09:10 to 12:00)": a clock range in few words, with the day of its middle.
local function brief(range, laid)
  local function said(time)
    if not time then
      return "later"
    end
    local seconds = rw.clock { at = time }
    local days = seconds // DAY - laid // DAY
    return time:sub(12) .. (days > 0 and ("+%dd"):format(days) or "")
  end
  if not range.value then
    return ("not within %d d"):format(LONG // DAY)
  end
  return ("%s (%s to %s)"):format(said(range.value), said(range.low), said(range.high))
end

local function half_brief(range, laid)
  return range.value and brief(range, laid):match "%((.*)%)" or ""
end

function logfit.text(plan)
  local lines = { head(plan) .. (plan.note and " (" .. plan.note .. ")" or ""), "" }
  for _, line in ipairs(sections.text(plan)) do
    lines[#lines + 1] = line
  end
  if plan.windows then
    lines[#lines + 1] = "When the next coat may go on (9 of 10 lie between; +1d: the next day)"
    local row = "  %-17s %-32s %-22s %s"
    lines[#lines + 1] = row:format("coat laid", "from", "half between", "until, then sand first")
    for _, w in ipairs(plan.windows) do
      lines[#lines + 1] = row:format(w.laid, brief(w.opens, w.laid_seconds),
        half_brief(w.opens_half, w.laid_seconds), brief(w.closes, w.laid_seconds))
    end
    lines[#lines + 1] = ""
  end
  lines[#lines + 1] = "Cautions"
  for _, c in ipairs(logfit.cautions) do
    lines[#lines + 1] = "  * " .. c
  end
  return table.concat(lines, "\n") .. "\n"
end

--- The notes or the windows as a comma-separated table.
function logfit.csv(plan, which)
  if which == "sections" then
    return sections.csv(plan)
  end
  local lines = {}
  local function add(...)
    lines[#lines + 1] = json.csv({ ... })
  end
  if which == "windows" then
    add("laid", "opens", "opens_5", "opens_25", "opens_75", "opens_95", "closes", "closes_5",
      "closes_25", "closes_75", "closes_95")
    for _, w in ipairs(plan.windows or {}) do
      add(w.laid, w.opens.value or "", w.opens.low or "", w.opens_half.low or "",
        w.opens_half.high or "", w.opens.high or "", w.closes.value or "", w.closes.low or "",
        w.closes_half.low or "", w.closes_half.high or "", w.closes.high or "")
    end
  else
    add("line", "batch", "found", "not_yet", "already", "observer", "low", "high", "chance",
      "influence")
    for _, n in ipairs(plan.fit.notes) do
      add(n.line, n.batch, n.found, n.not_yet or "", n.already or "", n.observer, n.low, n.high,
        n.chance, n.influence)
    end
  end
  return table.concat(lines, "\n") .. "\n"
end

local function plain_notes(plan)
  local out = {}
  for i, n in ipairs(plan.fit.notes) do
    out[i] = { line = n.line, batch = n.batch, found = n.found, not_yet = n.not_yet,
      already = n.already, observer = n.observer, chance = n.chance, influence = n.influence,
      milestone = n.milestone }
  end
  return out
end

local function plain_windows(plan)
  local out = {}
  for i, w in ipairs(plan.windows or {}) do
    local function both(range, half)
      local p = sections.parts(range)
      p.because = nil
      p.half_low, p.half_high = half.low, half.high
      return p
    end
    out[i] = { laid = w.laid, opens = both(w.opens, w.opens_half),
      closes = both(w.closes, w.closes_half) }
  end
  return out
end

function logfit.json(plan)
  local out = sections.into({ name = plan.name, note = plan.note,
    reference = sections.parts(plan.fit.reference), cautions = json.array(logfit.cautions) }, plan)
  out.notes = json.array(plain_notes(plan))
  out.windows = json.array(plain_windows(plan))
  return json.encode(out, 2)
end

local function seconds_in(quantity)
  return quantity and quantity:to "s"
end

--- The curve with its bands, and every note as a bar.
function logfit.picture(plan)
  local f, groups, at = plan.fit, {}, {}
  for _, key in ipairs(shown) do
    local a = f.ages[key]
    if a and a.not_yet + a.already > 0 then
      groups[#groups + 1] = { label = names[key], value = seconds_in(a.value.value),
        low = seconds_in(a.value.low), high = seconds_in(a.value.high), notes = {} }
      at[key] = groups[#groups]
    end
  end
  for _, n in ipairs(f.notes) do
    local group = at[n.milestone]
    group.notes[#group.notes + 1] = { from = n.age_low, to = n.age_high,
      label = n.chance < RARE and "batch " .. n.batch or nil }
  end
  return notechart.draw { id = "notes", title = head(plan), curve = plan.curve, groups = groups,
    axis = "age at a steady " .. (f.reference:text(3):gsub("deg([CF])", "°%1")) }
end

-- The windows along the clock.
local function windows_picture(plan)
  local bands = {}
  for _, w in ipairs(plan.windows) do
    if w.opens.value then
      bands[#bands + 1] = { label = "laid " .. w.laid:sub(6), from = w.opens.seconds,
        low_from = w.opens.low_seconds, high_from = w.opens.high_seconds,
        to = w.closes.seconds, low_to = w.closes.low_seconds, high_to = w.closes.high_seconds,
        pattern = "hatch" }
    end
  end
  if #bands == 0 then
    return nil
  end
  return chart.timeline { id = "windows", title = "When the next coat may go on", bands = bands,
    from = plan.windows[1].laid_seconds, to = plan.windows[#plan.windows].laid_seconds + 2 * DAY }
end

-- The ages before and after the notes side by side.
local function ages_table(s)
  local rows = {}
  for i = 1, #s.rows, 2 do
    rows[#rows + 1] = { s.rows[i].label, sections.say(s.rows[i].value),
      sections.say(s.rows[i + 1].value) }
  end
  return report.table { columns = { "", { title = "by the notes", align = "right" },
    { title = "before them", align = "right" } }, rows = rows }
end

local function body_of(s)
  local body = sections.body(s)
  if s.key == "ages" then
    body[1] = ages_table(s)
  end
  return body
end

local function windows_body(plan)
  local rows = {}
  for i, w in ipairs(plan.windows) do
    rows[i] = { w.laid, brief(w.opens, w.laid_seconds), half_brief(w.opens_half, w.laid_seconds),
      brief(w.closes, w.laid_seconds) }
  end
  local picture = windows_picture(plan)
  return { picture and report.figure(picture,
    "Hatched: the next coat may go on. Soft ends: 9 of 10 lie within.") or "",
    report.table { caption = "9 of 10 lie between; +1d: the next day", columns = { "coat laid",
      "next coat from", "half lie between", "until, then sand first" }, rows = rows } }
end

--- A page to print.
function logfit.page(plan)
  local parts = { { heading = "The curve and the notes", body = { report.figure(
    logfit.picture(plan), "Bold: the fitted resin. Hatched: half lie there, dotted: 9 of 10. Each "
      .. "bar is a note, from \"not yet\" to \"already\", brought to one temperature; an arrow "
      .. "has no second look, a dot was watched. Notes that surprise are named.") } } }
  if plan.windows and #plan.windows > 0 then
    parts[2] = { heading = "Next hours for a coat", body = windows_body(plan) }
  end
  for _, key in ipairs { "ages", "resin", "odd", "surprises", "fitness", "omitted", "log" } do
    parts[#parts + 1] = { heading = plan[key].title, body = body_of(plan[key]) }
  end
  parts[#parts + 1] = { heading = "Cautions", body = report.caution(logfit.cautions) }
  return report.page { title = head(plan), note = plan.note, sections = parts }
end

return logfit
