#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Does a panel flex, and what gives way first under a heel? A panel of a boat folder's skin or of
-- plies on the command line. All numbers come from the library; this script chooses and prints.
local rw = require "resinwright"
local options = require "resinwright.options"
local panelcheck = require "resinwright.panelcheck"
local skinchoice = require "resinwright.skinchoice"

local spec = {
  script = "panel-check",
  about = "Bends a flat panel under a heel and under the same load spread out: deflection,\n"
    .. "strain of both faces, what gives way first.",
  arguments = { skinchoice.argument },
  options = {
    skinchoice.option,
    { name = "length", value = "length", doc = "of the panel along the hull (needed)" },
    { name = "width", value = "length", doc = "of the panel across (needed)" },
    { name = "load", value = "mass or force", fallback = "80 kg", doc = "who steps on it" },
    { name = "from", value = "inside|outside", fallback = "inside",
      doc = "which side pushes: a heel inside, a rock or a trestle outside" },
    { name = "heel", value = "length", fallback = "60 mm", doc = "diameter of the heel" },
    { name = "spread", value = "length",
      doc = "side of the square over which the load is spread\n" .. (" "):rep(25)
        .. "(300 mm unless said, less on a small panel)" },
    { name = "criterion", value = "max_stress|tsai_wu|max_strain|tsai_hill",
      fallback = "max_stress", doc = "of first damage" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "page", value = "file", doc = "write a page to print into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", doc = "print a comma-separated table instead" },
  },
  more = "For comparison and shop planning only, not an approval; scantling rules, survey and\n"
    .. "licensed practice decide; wood scatter is real.",
}

local said = { ["^patch%.load"] = "--load", ["^patch%.diameter"] = "--heel",
  ["^patch%.size"] = "--spread", ["^length"] = "--length", ["^width"] = "--width" }
local how = "Say how large the panel is: %s."

local function check_load(o)
  local load = skinchoice.quantity(o, "load", "mass", "force")
  if load:si() <= 0 then
    error({ message = ("--load is %s, it must be above zero"):format(load:text(3)),
      hint = "A load has no sign here: --from says the side it pushes from." }, 0)
  end
end

options.run(spec.script, function()
  local o = options.read(spec)
  rw.reader(o.units)
  skinchoice.need(o, "length", how, "0.9 m")
  skinchoice.need(o, "width", how, "0.6 m")
  for _, name in ipairs { "length", "width", "heel", o.spread and "spread" } do
    skinchoice.quantity(o, name, "length")
  end
  check_load(o)
  local skin = skinchoice.read(o, spec.script)
  local plan = skinchoice.asked(said, panelcheck.make, { name = skin.name, note = skin.note,
    laminate = skin.laminate, length = o.length, width = o.width, load = o.load, from = o.from,
    heel = o.heel, spread = o.spread, criterion = o.criterion })
  if o.page then
    options.save(o.page, panelcheck.page(plan), "page")
  end
  options.print(o, panelcheck, plan)
end)
