-- SPDX-License-Identifier: GPL-3.0-or-later
-- Options of a shop script: one declared table drives the reading, the refusals and --help.
--
--   local options = require "resinwright.options"
--   local o = options.read {
--     script = "plan-day", about = "One line.",
--     arguments = { { name = "FOLDER", doc = "boat folder" } },
--     options = { { name = "units", value = "us|metric", fallback = "metric", doc = "..." },
--                 { name = "json", doc = "..." } },
--   }
--   o.FOLDER, o.units, o.json
local rw = require "resinwright"
local report = require "resinwright.report"
local text = require "resinwright.text"

local options = {}

local function usage(spec)
  local words = { "lua5.4 scripts/" .. spec.script .. ".lua" }
  for _, a in ipairs(spec.arguments or {}) do
    words[#words + 1] = a.optional and "[" .. a.name .. "]" or a.name
  end
  words[#words + 1] = "[options]"
  return table.concat(words, " ")
end

-- What stands after an option's name: its choices, or what kind of value it is.
local function value_word(option)
  if option.value:find("|", 1, true) then
    return (option.value:gsub("|", " or "))
  end
  return option.value:upper()
end

local function help(spec)
  local lines = { spec.about, "", "  " .. usage(spec), "" }
  local function row(left, doc)
    local gap = #left > 22 and "\n" .. (" "):rep(25) or " "
    lines[#lines + 1] = ("  %-22s%s%s"):format(left, gap, doc)
  end
  for _, a in ipairs(spec.arguments or {}) do
    row(a.name, a.doc)
  end
  for _, o in ipairs(spec.options) do
    local long = o.fallback and #o.fallback > 40
    local fallback = o.fallback
      and (" (%s unless said)"):format(long and "those below" or o.fallback)
    row("--" .. o.name .. (o.value and " " .. value_word(o) or ""), o.doc .. (fallback or ""))
    if long then
      lines[#lines + 1] = (" "):rep(25) .. o.fallback:gsub(",", "\n" .. (" "):rep(25))
    end
  end
  row("--help", "this page")
  if spec.more then
    lines[#lines + 1] = ""
    lines[#lines + 1] = spec.more
  end
  return table.concat(lines, "\n") .. "\n"
end

-- Ends the script with one readable sentence.
function options.stop(script, message, hint)
  io.stdout:flush()
  hint = hint and hint:gsub("^%l", string.upper):gsub("[^.?!]$", "%0.")
  io.stderr:write(text.clean(script .. ": " .. message
    .. (hint and hint ~= "" and "\n  " .. hint or "")), "\n")
  os.exit(1)
end

local function find(spec, name)
  local names = {}
  for _, o in ipairs(spec.options) do
    if o.name == name then
      return o
    end
    names[#names + 1] = o.name
  end
  names[#names + 1] = "help"
  local near = rw.nearest { word = name, known = names }
  options.stop(spec.script, ("there is no option --%s"):format(name),
    near and ("Did you mean --%s? See --help."):format(near) or "See --help.")
end

local function check_value(spec, option, value)
  if not value or value == "" then
    options.stop(spec.script, ("--%s needs a value: --%s %s"):format(option.name, option.name,
      value_word(option)))
  end
  if not option.value:find("|", 1, true) then
    return value
  end
  for word in option.value:gmatch "[^|]+" do
    if word == value then
      return value
    end
  end
  options.stop(spec.script, ("--%s cannot be \"%s\""):format(option.name, value),
    "Choose one of: " .. option.value:gsub("|", ", ") .. ".")
end

-- Reads the script's arguments (the global arg unless given); stops on anything not declared.
function options.read(spec, argv)
  argv = argv or arg
  local found, free, i = {}, {}, 1
  for _, o in ipairs(spec.options) do
    found[o.name] = o.fallback
  end
  while argv[i] do
    local word = argv[i]
    local name, inline = word:match "^%-%-([^=]+)=?(.*)$"
    if word == "--help" or word == "-h" then
      io.stdout:write(help(spec))
      os.exit(0)
    elseif name then
      local option = find(spec, name)
      if not option.value then
        found[name] = true
      elseif word:find("=", 1, true) then
        found[name] = check_value(spec, option, inline)
      else
        i = i + 1
        found[name] = check_value(spec, option, argv[i])
      end
    else
      free[#free + 1] = word
    end
    i = i + 1
  end
  for k, a in ipairs(spec.arguments or {}) do
    if (free[k] or "") == "" and not a.optional then
      options.stop(spec.script, ("%s is missing: %s"):format(a.name, (a.doc:gsub("%s+", " "))),
        "Usage: " .. usage(spec))
    end
    found[a.name] = free[k]
  end
  if #free > #(spec.arguments or {}) then
    options.stop(spec.script, ("\"%s\" is one argument too many"):format(free[#free]),
      "Usage: " .. usage(spec))
  end
  return found
end

-- The items of a list with commas between.
function options.items(words)
  local out = {}
  for item in (words or ""):gmatch "[^,]+" do
    item = item:match "^%s*(.-)%s*$"
    if item ~= "" then
      out[#out + 1] = item
    end
  end
  return out
end

-- Writes a file whole or not at all; a refusal names the option that gave its place, and what
-- else would do.
function options.save(path, content, option, otherwise)
  local fine, message = report.save(path, content)
  if not fine then
    error({ message = message, hint = ("Give another place with --%s FILE%s."):format(option,
      otherwise and ", " .. otherwise or "") }, 0)
  end
end

-- Prints a plan in the form asked for: --json, --csv, or text.
function options.print(o, forms, plan)
  local words = o.json and forms.json(plan) .. "\n" or o.csv and forms.csv(plan)
    or forms.text(plan)
  io.stdout:write(words)
end

-- Runs a script's body so that an error ends it with its sentence, never with a trace.
function options.run(script, body)
  local fine, err = xpcall(body, function(e)
    if type(e) == "table" and e.message then
      return { message = e.message, hint = e.hint, trace = debug.traceback() }
    end
    return { message = (tostring(e):gsub("^[^:]+:%d+: ", "")), trace = debug.traceback() }
  end)
  if fine then
    return
  end
  local message = err.message
  if os.getenv "RESINWRIGHT_TRACE" then
    message = message .. "\n" .. err.trace
  end
  options.stop(script, message, err.hint)
end

return options
