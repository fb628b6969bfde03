#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- A repair after a gouge, or a bottom patch: layers, laps, sizes to cut, cloth, resin, weight,
-- and what stays weaker. All numbers come from the library; this script chooses and prints.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local doublingplan = require "resinwright.doublingplan"
local options = require "resinwright.options"
local repairplan = require "resinwright.repairplan"
local skinchoice = require "resinwright.skinchoice"

local indent = "\n" .. (" "):rep(25)

local spec = {
  script = "repair-patch",
  about = "Mends a damaged place in a skin: how many layers of cloth, how wide a lap or a taper,\n"
    .. "sizes to cut, cloth, resin, weight, what stays weaker. Or lays a bottom patch\n"
    .. "(--doubling): what it adds, how the strain jumps at its edge, how far to step it.",
  arguments = { skinchoice.argument },
  options = {
    skinchoice.option,
    { name = "face", value = "outside|inside", fallback = "outside",
      doc = "where the patch goes" },
    { name = "strength", value = "pressure",
      doc = "shear strength of the glue line, from the maker's data sheet" .. indent
        .. "(needed)" },
    { name = "hole", value = "size", doc = "of the damage, along the hull by across:" .. indent
      .. "\"120 mm by 90 mm\" (needed for a repair)" },
    { name = "layers-gone", value = "number", doc = "layers of cloth that are through (all on that"
      .. indent .. "face where wood is gone)" },
    { name = "wood-left", value = "length", doc = "thickness of the wood that is left there" },
    { name = "let-in", doc = "new wood is scarfed in first, to the old thickness" },
    { name = "cloth", value = "name", doc = "of the patch, @ an angle (the outermost of that"
      .. indent .. "face unless said)" },
    { name = "share", value = "share", fallback = "100 %",
      doc = "of the sound skin's stiffness and strength that is" .. indent .. "wanted back" },
    { name = "aim", value = "both|stiffness|strength", fallback = "both",
      doc = "which of them counts the layers" },
    { name = "most", value = "number", fallback = "12", doc = "layers to try" },
    { name = "joint", value = "lap|taper", fallback = "lap",
      doc = "how the patch meets the sound skin" },
    { name = "carry", value = "share", fallback = "100 %",
      doc = "of a layer's strength that its lap carries" },
    { name = "least-lap", value = "length", fallback = "50 mm",
      doc = "of the smallest layer, whatever the glue asks; common" .. indent
        .. "practice, no source" },
    { name = "doubling", doc = "a bottom patch in place of a repair" },
    { name = "size", value = "size", doc = "of its largest layer: \"1.8 m by 120 mm\"" },
    { name = "layers", value = "number", doc = "how many (1 unless said)" },
    { name = "from", value = "outside|inside", fallback = "outside",
      doc = "which side pushes on it" },
    { name = "moment", value = "force", doc = "bending moment per width beside it, such as"
      .. indent .. "\"60 N\" (what first harms the skin unless said)" },
    { name = "factor", value = "number", fallback = "2",
      doc = "of safety of the glue; common practice, no source" },
    { name = "glue", value = "length", fallback = "0.2 mm",
      doc = "thickness of the glue line; common practice, no source" },
    { name = "least-step", value = "length", fallback = "25 mm",
      doc = "from layer to layer, whatever the glue asks; common" .. indent
        .. "practice, no source" },
    { name = "first", value = "small|large", fallback = "small",
      doc = "which layer is laid first" },
    { name = "waste", value = "share", fallback = "20 %",
      doc = "of what is mixed that ends in pots and brushes;" .. indent
        .. "common practice, no source" },
    { name = "criterion", value = "max_stress|tsai_wu|max_strain|tsai_hill",
      fallback = "max_stress", doc = "of first damage" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "svg", value = "file", doc = "draw the patch into that file" },
    { name = "page", value = "file", doc = "write a page to print into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", doc = "print a comma-separated table instead" },
  },
  more = "For comparison and shop planning only, not an approval; scantling rules, survey and\n"
    .. "licensed practice decide; wood scatter is real.",
}

-- Fields that a plan or the library refuses by name, as options. `first` is a laminate there.
local said = { ["^extra_n"] = "--layers", ["^left_n"] = "--plies" }
for _, o in ipairs(spec.options) do
  if o.name ~= "first" then
    said["^" .. o.name:gsub("-", "_") .. " "] = "--" .. o.name .. " "
  end
end

local function stop(message, hint)
  error({ message = message, hint = hint }, 0)
end

-- Options of one of the two jobs only.
local of_repair = { "hole", "layers-gone", "wood-left", "let-in" }
local of_doubling = { "size", "layers", "moment" }

local function check_job(o)
  for _, name in ipairs(o.doubling and of_repair or of_doubling) do
    if o[name] then
      stop(("--%s goes with a %s"):format(name, o.doubling and "repair, not with --doubling"
        or "bottom patch: --doubling"), "See --help.")
    end
  end
end

-- "120 mm by 90 mm", or one length for both.
local function size(o, name)
  local first, second = o[name]:match "^(.-)%s+by%s+(.+)$"
  local parts = { length = first or o[name], width = second or o[name] }
  local out = {}
  for _, key in ipairs { "length", "width" } do
    local fine, q = pcall(rw.q, parts[key])
    if not fine then
      stop(("--%s: %s"):format(name, q.message), "Write such as \"120 mm by 90 mm\".")
    elseif q:dimension() ~= "length" then
      stop(("--%s: \"%s\" is a %s, lengths are wanted"):format(name, parts[key], q:dimension()),
        "Write such as \"120 mm by 90 mm\".")
    end
    out[key] = q
  end
  return out
end

local function whole(o, name)
  if not o[name] then
    return nil
  elseif not o[name]:find "^%d%d?%d?$" then
    stop(("--%s: \"%s\" is not a whole number of layers"):format(name, o[name]))
  end
  return math.tointeger(tonumber(o[name]))
end

local function share(o, name)
  local fine, q = pcall(rw.q, o[name])
  if not fine or q:dimension() ~= "plain number" then
    stop(("--%s: \"%s\" is not a share"):format(name, o[name]),
      ("Write such as --%s \"90 %%\"."):format(name))
  end
  return q:to "1"
end

local function factor(o)
  if not o.factor:find "^%d+%.?%d*$" then
    stop(("--factor: \"%s\" is not a plain number"):format(o.factor), "Write such as --factor 2.")
  end
  return tonumber(o.factor)
end

local function length(o, name)
  return o[name] and skinchoice.quantity(o, name, "length")
end

local function common(o, skin)
  skinchoice.need(o, "strength",
    "It stands on the maker's data sheet as lap or bond shear strength: %s.", "12 MPa")
  return { name = skin.name, note = skin.note, plies = skin.plies, face = o.face,
    cloth = o.cloth and skinchoice.cloth(o, "cloth"), first = o.first, units = o.units,
    strength = skinchoice.quantity(o, "strength", "pressure"), factor = factor(o),
    glue = length(o, "glue"), least_step = length(o, "least-step"), waste = share(o, "waste"),
    criterion = o.criterion }
end

local function repair(o, asked)
  skinchoice.need(o, "hole", "Say how large the damage is: %s.", "120 mm by 90 mm")
  asked.hole = size(o, "hole")
  asked.layers_gone, asked.wood_left = whole(o, "layers-gone"), length(o, "wood-left")
  asked.let_in, asked.joint, asked.aim = o["let-in"], o.joint, o.aim
  asked.share, asked.carry, asked.most = share(o, "share"), share(o, "carry"), whole(o, "most")
  asked.least_lap = length(o, "least-lap")
  return repairplan, skinchoice.asked(said, repairplan.make, asked)
end

local function doubling(o, asked)
  skinchoice.need(o, "size", "Say how large its largest layer is: %s.", "1.8 m by 120 mm")
  asked.size, asked.layers, asked.from = size(o, "size"), whole(o, "layers") or 1, o.from
  asked.moment = o.moment and skinchoice.quantity(o, "moment", "force")
  return doublingplan, skinchoice.asked(said, doublingplan.make, asked)
end

options.run(spec.script, function()
  local o = options.read(spec)
  rw.reader(o.units)
  check_job(o)
  local skin = skinchoice.read(o, spec.script)
  local forms, plan = (o.doubling and doubling or repair)(o, common(o, skin))
  if o.svg then
    options.save(o.svg, chart.standalone(forms.picture(plan)), "svg")
  end
  if o.page then
    options.save(o.page, forms.page(plan), "page")
  end
  options.print(o, forms, plan)
end)
