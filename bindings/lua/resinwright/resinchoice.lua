-- SPDX-License-Identifier: GPL-3.0-or-later
-- The resin of a shop script, as its command line names it: a class of the material tables, with
-- or without the label's numbers, or a resin file.
local rw = require "resinwright"
local refusal = require "resinwright.refusal"
local resinfile = require "resinwright.resinfile"

local resinchoice = {}

resinchoice.argument = { name = "RESIN",
  doc = "resin class of the material tables, see --list, or a resin file (.lua)" }

local label = {
  { name = "pot-life", value = "time", doc = "the label's pot life, such as \"45 min\"" },
  { name = "pot-mass", value = "mass", doc = "what it is given for (100 g unless said)" },
  { name = "pot-temperature", value = "temperature",
    doc = "what it is given for (25 degC unless said)" },
  { name = "recoat-from", value = "time", doc = "the label's time until the next coat may go on" },
  { name = "recoat-to", value = "time", doc = "the label's time until it must be sanded first" },
  { name = "recoat-temperature", value = "temperature", doc = "what the recoat times hold for" },
  { name = "hardener", value = "ratio", doc = "hardener per resin by mass, such as \"44 %\"" },
}

local list = { name = "list", doc = "list the resin classes there are" }

-- The script's own options with those of the label before them and --list after.
function resinchoice.options(own)
  local all = table.move(label, 1, #label, 1, {})
  table.move(own, 1, #own, #all + 1, all)
  all[#all + 1] = list
  return all
end

-- Prints the classes where --list is asked for, whatever else is missing; true where it was.
function resinchoice.listed(argv)
  for _, word in ipairs(argv) do
    if word == "--list" then
      for _, m in ipairs(rw.materials { kind = "resin" }) do
        if m.properties.k1 then
          print(("%-24s %s"):format(m.name, m.title))
        end
      end
      return true
    end
  end
  return false
end

-- What the label says; nil where it says nothing.
local function read_label(o)
  local found
  for _, option in ipairs(label) do
    if o[option.name] then
      found = found or {}
      found[option.name:gsub("-", "_")] = o[option.name]
    end
  end
  return found
end

-- Calls, and tells a refusal in the words of the command line: fields of the label are options,
-- and words at its beginning are put as `own` has them.
function resinchoice.asked(own, call, ...)
  local function said(words)
    return words and (words:gsub("label%.([%l_]+)", function(field)
      return "--" .. field:gsub("_", "-")
    end):gsub("^[%l_]+", own))
  end
  return refusal.reworded(function(message, hint)
    return said(message), said(hint)
  end, call, ...)
end

-- The resin, and what to call it.
function resinchoice.read(o)
  local says, word = read_label(o), o.RESIN
  if not word:find "%.lua$" then
    local resin = resinchoice.asked({}, rw.resin, { class = word, label = says })
    return resin, word .. (says and ", by its label" or "")
  elseif says then
    error({ message = "a resin file holds its own numbers, the label's cannot be put over them",
      hint = "Leave the label's options away, or name a class." }, 0)
  end
  local resin, about = resinfile.read(word)
  return resin, about.name or word
end

return resinchoice
