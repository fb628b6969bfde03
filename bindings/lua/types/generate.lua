-- SPDX-License-Identifier: GPL-3.0-or-later
-- Writes the editor stub and the Lua reference from rw.describe(), so that both say what the
-- module checks.
--
--   lua5.4 bindings/lua/types/generate.lua ROOT
--
-- writes ROOT/bindings/lua/types/resinwright.lua and ROOT/docs/lua-reference.md. Loaded with
-- dofile it returns the two functions that make the texts.

local generate = {}

local lua_types = {
  quantity = "string|resinwright.quantity",
  temperature = "string|resinwright.quantity",
  ["temperature difference"] = "string|resinwright.quantity",
  share = "number|string",
  number = "number",
  integer = "integer",
  string = "string",
  boolean = "boolean",
  ["clock time"] = "string",
  table = "table",
  ["function"] = "function",
  ["uncertain quantity"] = "string|resinwright.quantity|resinwright.range|resinwright.uncertain",
}

local function identifier(name)
  return (name:gsub("%W", "_"))
end

local function full_name(f)
  return f.self and f.self .. ":" .. f.name or "rw." .. f.name
end

local function choices(field)
  local list = {}
  for i, choice in ipairs(field.choices) do
    list[i] = '"' .. choice .. '"'
  end
  return table.concat(list, "|")
end

-- `inner` names the class of a record field.
local function lua_type(field, inner)
  local text
  if field.kind == "choice" then
    text = choices(field)
  elseif field.kind == "object" then
    text = "resinwright." .. identifier(field.type)
  elseif field.kind == "record" then
    text = inner
  elseif field.unit == "any" then
    text = "any"
  else
    text = lua_types[field.kind]
    if field.unit == "" then
      text = "number|" .. text
    end
  end
  if field.list then
    return text:find "|" and "(" .. text .. ")[]" or text .. "[]"
  end
  return text
end

local function own_types(text, types)
  local names = {}
  for _, t in ipairs(types) do
    names[t.name] = "resinwright." .. identifier(t.name)
  end
  return (text:gsub("[%a_]+", names))
end

local function with_unit(field)
  local parts = { field.doc }
  if field.unit and field.unit ~= "" and field.unit ~= "any" then
    parts[#parts + 1] = "SI unit " .. field.unit
  end
  if field.default then
    parts[#parts + 1] = "default " .. field.default
  end
  return table.concat(parts, "; ")
end

local function add_class(out, class, fields)
  for _, field in ipairs(fields) do
    if field.fields then
      add_class(out, class .. "." .. field.name, field.fields)
    end
  end
  out("---@class " .. class)
  for _, field in ipairs(fields) do
    out(("---@field %s%s %s %s"):format(field.name, field.required and "" or "?",
      lua_type(field, class .. "." .. field.name), with_unit(field)))
  end
  out("")
end

local function any_required(fields)
  for _, field in ipairs(fields) do
    if field.required then
      return true
    end
  end
  return false
end

-- Broken at spaces into lines of at most 99.
local function add_doc(out, text)
  local line = "---"
  for word in text:gmatch "%S+" do
    if #line + 1 + #word > 99 then
      out(line)
      line = "---"
    end
    line = line == "---" and line .. word or line .. " " .. word
  end
  out(line)
end

local function add_named(out, f, class)
  if #f.fields > 0 then
    out(("---@param arguments%s %s"):format(any_required(f.fields) and "" or "?", class))
    return "arguments"
  end
  return ""
end

local function add_plain(out, f)
  local names = {}
  for i, field in ipairs(f.fields) do
    out(("---@param %s%s %s %s"):format(field.name, field.required and "" or "?",
      lua_type(field), with_unit(field)))
    names[i] = field.name
  end
  return table.concat(names, ", ")
end

local function add_function(out, f, types)
  local owner = f.self and identifier(f.self) or "rw"
  local class = ("resinwright.%s.%s"):format(f.self and owner or "call", f.name)
  if f.style == "named" and #f.fields > 0 then
    add_class(out, class, f.fields)
  end
  add_doc(out, f.doc)
  local parameters = f.style == "named" and add_named(out, f, class) or add_plain(out, f)
  out("---@return " .. own_types(f.returns, types))
  out(("function %s%s%s(%s) end"):format(owner, f.self and ":" or ".", f.name, parameters))
  out("")
end

local operators = {
  "---@operator add(string|resinwright.quantity): resinwright.quantity",
  "---@operator sub(string|resinwright.quantity): resinwright.quantity",
  "---@operator mul(number|string|resinwright.quantity): resinwright.quantity",
  "---@operator div(number|string|resinwright.quantity): resinwright.quantity",
  "---@operator pow(integer): resinwright.quantity",
  "---@operator unm: resinwright.quantity",
}

local function add_type(out, t, types)
  add_doc(out, t.doc)
  out("---@class resinwright." .. identifier(t.name))
  for _, p in ipairs(t.properties) do
    out(("---@field %s %s %s"):format(p.name, own_types(p.type, types), p.doc))
  end
  if t.name == "quantity" then
    for _, line in ipairs(operators) do
      out(line)
    end
  end
  out(("local %s = {}"):format(identifier(t.name)))
  out("")
end

local stub_head = [[
---@meta
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Made by generate.lua from rw.describe(); not to be changed by hand.
-- luacheck: ignore

---@class resinwright
---@field version string version of the library
local rw = {}

---A quantity with its spread: value and sd, or low and high as a 90 % interval.
---@class resinwright.uncertain
---@field value? string|number|resinwright.quantity
---@field sd? string|number|resinwright.quantity
---@field low? string|number|resinwright.quantity
---@field high? string|number|resinwright.quantity

---What a refused call raises.
---@class resinwright.error
---@field code string name of the status, such as "RW_ERR_RANGE"
---@field func? string function that refused
---@field argument? string field, list element or file it is about
---@field value? any what was found
---@field allowed? string what is allowed
---@field line? integer line in a file
---@field column? integer column in a text
---@field message string one sentence
---@field hint? string what to try
---@field where? string place in the script
]]

local function collector()
  local lines = {}
  return lines, function(line) lines[#lines + 1] = line end
end

function generate.stub(rw)
  local all = rw.describe()
  local lines, out = collector()
  out(stub_head)
  for _, t in ipairs(all.types) do
    add_type(out, t, all.types)
  end
  for _, f in ipairs(all.functions) do
    add_function(out, f, all.types)
  end
  out "return rw"
  return table.concat(lines, "\n") .. "\n"
end

local function cell(text)
  return (text:gsub("|", "\\|"))
end

local function kind_text(field)
  local text = field.kind
  if field.kind == "choice" then
    text = "one of " .. choices(field):gsub("|", ", ")
  elseif field.kind == "object" then
    text = field.type
  elseif field.unit == "any" then
    text = "anything"
  elseif field.unit == "" then
    text = field.kind == "quantity" and "plain number" or "uncertain number"
  elseif field.unit and field.kind:find "quantity" then
    text = ("%s, %s"):format(text, field.unit)
  end
  return field.list and "list: " .. text or text
end

local function add_rows(out, fields, up)
  for _, field in ipairs(fields) do
    local need = field.required and "yes" or field.default and "default " .. field.default or "no"
    out(("| `%s` | %s | %s | %s |"):format(up .. field.name, cell(kind_text(field)), cell(need),
      cell(field.doc)))
    if field.fields then
      add_rows(out, field.fields, up .. field.name .. (field.list and "[i]." or "."))
    end
  end
end

local function signature(f)
  if f.style == "named" then
    return #f.fields > 0 and "{...}" or "()"
  end
  local names = {}
  for i, field in ipairs(f.fields) do
    names[i] = field.required and field.name or "[" .. field.name .. "]"
  end
  return "(" .. table.concat(names, ", ") .. ")"
end

local function add_section(out, f, level)
  out(("%s %s"):format(level, full_name(f)))
  out ""
  out(("`%s%s` gives `%s`"):format(full_name(f), signature(f), f.returns))
  out ""
  out(f.doc)
  out ""
  if #f.fields > 0 then
    out "| field | kind | needed | what it is |"
    out "|---|---|---|---|"
    add_rows(out, f.fields, "")
    out ""
  end
end

local reference_head = [[
<!-- Made by bindings/lua/types/generate.lua from rw.describe(); not to be changed by hand. -->
# Lua reference

`local rw = require "resinwright"`

Functions written with `{...}` take one table of named fields. A field that is missing, unknown
or of the wrong kind is refused with its name. Kinds of field:

- **quantity**: a text with its unit, `"520 mm"`, or `rw.q(520, "mm")`; a bare number is refused.
  A list may say its unit once: `{unit = "mm", 520, 905}`.
- **temperature**: a reading, `"21 degC"`, `"70 degF"`, `"294 K"`.
- **temperature difference**: `"5 K"`, `"5 Cdeg"` or `"9 Fdeg"`; `"5 degC"` is refused, as it is a
  reading.
- **share**: 0 to 1, or `"70 %"`.
- **clock time**: `"2026-10-03 15:30"`.
- **uncertain quantity**: a quantity; a result that carries an interval;
  `{value = "5 m2", sd = "0.1 m2"}`; or `{low = "4.8 m2", high = "5.2 m2"}`, taken as a 90 %
  interval.
- **record**: a table of the fields listed below it.

A refusal is a table with `code`, `func`, `argument`, `value`, `allowed`, `line`, `column`,
`message`, `hint` and `where`; `tostring` makes one sentence of it.
]]

function generate.reference(rw)
  local all = rw.describe()
  local lines, out = collector()
  out(reference_head)
  out "## Functions"
  out ""
  for _, f in ipairs(all.functions) do
    if not f.self then
      add_section(out, f, "###")
    end
  end
  out "## Types"
  out ""
  for _, t in ipairs(all.types) do
    out("### " .. t.name)
    out ""
    out(t.doc)
    out ""
    for _, p in ipairs(t.properties) do
      out(("- `.%s` (%s): %s"):format(p.name, p.type:gsub("|", " or "), p.doc))
    end
    if #t.properties > 0 then
      out ""
    end
    for _, f in ipairs(all.functions) do
      if f.self == t.name then
        add_section(out, f, "####")
      end
    end
  end
  return (table.concat(lines, "\n"):gsub("\n+$", "")) .. "\n"
end

-- Path below the root and text of each file.
function generate.files(rw)
  return {
    ["bindings/lua/types/resinwright.lua"] = generate.stub(rw),
    ["docs/lua-reference.md"] = generate.reference(rw),
  }
end

local function write(path, text)
  local file = assert(io.open(path, "wb"))
  assert(file:write(text))
  assert(file:close())
end

if arg and arg[0] and arg[0]:match "generate%.lua$" then
  local root = arg[1] or "."
  for path, text in pairs(generate.files(require "resinwright")) do
    write(root .. "/" .. path, text)
  end
end

return generate
