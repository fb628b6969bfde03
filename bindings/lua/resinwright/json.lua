-- SPDX-License-Identifier: GPL-3.0-or-later
--- Writes JSON and rows of comma-separated tables from plain Lua values. Neither the locale nor
-- the order of a table's fields changes what comes out.
--
-- A table is written as an object; one given to json.array is written as an array. Nothing is
-- guessed from what the table holds.
local text = require "resinwright.text"

local json = {}

local Array = {}

--- Written as null, where a field or an item is to stand although nothing is known.
json.null = setmetatable({}, { __name = "json.null" })

--- Mark a list to be written as an array.
-- @param list  the items; the table itself is not changed
-- @param n     how many there are where some are nil (written as null); else #list
-- @return a value for json.encode
function json.array(list, n)
  if type(list) ~= "table" then
    error("json.array takes a list, found " .. type(list), 2)
  end
  return setmetatable({ list = list, n = n or #list }, Array)
end

local escapes = {
  ['"'] = '\\"', ["\\"] = "\\\\", ["\b"] = "\\b", ["\f"] = "\\f", ["\n"] = "\\n",
  ["\r"] = "\\r", ["\t"] = "\\t",
}

local function escape(character)
  return escapes[character] or ("\\u%04x"):format(character:byte())
end

-- Well-formed UTF-8 with every control character kept; broken bytes become U+FFFD.
local function quoted(words)
  local out = words:gsub('[\0-\31"\\\127]', escape)
  return '"' .. text.clean(out) .. '"'
end

local function number(value)
  if value ~= value or value == math.huge or value == -math.huge then
    return "null"
  end
  return text.shortest(value)
end

-- The comparison of strings in Lua follows the locale.
local function before(a, b)
  for at = 1, math.min(#a, #b) do
    local x, y = a:byte(at), b:byte(at)
    if x ~= y then
      return x < y
    end
  end
  return #a < #b
end

local function refuse(path, what)
  error(("%s cannot be written as JSON: %s"):format(path == "" and "the value" or path, what), 0)
end

local function sorted_keys(object, path)
  local keys = {}
  for key in pairs(object) do
    if type(key) ~= "string" then
      refuse(path, "its keys are not all words; mark a list with json.array")
    end
    keys[#keys + 1] = key
  end
  table.sort(keys, before)
  return keys
end

local encode

-- Items between brackets, on lines of their own where an indent is asked for.
local function bracketed(state, depth, open, items, close)
  if #items == 0 then
    return open .. close
  end
  if not state.indent then
    return open .. table.concat(items, ",") .. close
  end
  local line = "\n" .. state.indent:rep(depth)
  return open .. line .. state.indent .. table.concat(items, "," .. line .. state.indent)
    .. line .. close
end

local function encode_array(state, array, path, depth)
  local items = {}
  for i = 1, array.n do
    items[i] = encode(state, array.list[i], ("%s[%d]"):format(path, i), depth + 1)
  end
  return bracketed(state, depth, "[", items, "]")
end

local function encode_object(state, object, path, depth)
  local items = {}
  for i, key in ipairs(sorted_keys(object, path)) do
    local inner = path == "" and key or path .. "." .. key
    local value = encode(state, object[key], inner, depth + 1)
    items[i] = quoted(key) .. (state.indent and ": " or ":") .. value
  end
  return bracketed(state, depth, "{", items, "}")
end

local function encode_table(state, value, path, depth)
  local is_array = getmetatable(value) == Array
  local identity = is_array and value.list or value
  if state.open[identity] then
    refuse(path, "it contains itself")
  end
  state.open[identity] = true
  local out = (is_array and encode_array or encode_object)(state, value, path, depth)
  state.open[identity] = nil
  return out
end

function encode(state, value, path, depth)
  local kind = type(value)
  if value == nil or rawequal(value, json.null) then
    return "null"
  elseif kind == "boolean" then
    return value and "true" or "false"
  elseif kind == "number" then
    return number(value)
  elseif kind == "string" then
    return quoted(value)
  elseif kind == "table" then
    return encode_table(state, value, path, depth)
  end
  refuse(path, "found a " .. kind .. "; give a number, words, a truth value or a table of these")
end

--- Write a value as JSON.
-- @param value   nil, boolean, number, string, table of these, json.array, json.null; NaN and
--                infinite numbers become null
-- @param indent  spaces per level, or nil for one line
-- @return the text, without a line end; functions, userdata and cycles raise an error that names
--         the field
function json.encode(value, indent)
  local state = { open = {}, indent = indent and (" "):rep(indent) }
  local ok, out = pcall(encode, state, value, "", 0)
  if not ok then
    error(out, 2)
  end
  return out
end

local function cell(value, separator, position)
  local kind = type(value)
  if value == nil then
    return ""
  elseif kind == "number" then
    local out = number(value)
    return out == "null" and "" or out
  elseif kind == "boolean" then
    return value and "true" or "false"
  elseif kind ~= "string" then
    error(("json.csv: cell %d is a %s; give a number, words or nothing"):format(position, kind), 3)
  end
  local words = value
  local plain = not words:find(separator, 1, true) and not words:find('["\r\n]')
    and not words:find("^[ \t]") and not words:find("[ \t]$")
    and not (position == 1 and words:find("^#"))
  return plain and words or '"' .. words:gsub('"', '""') .. '"'
end

--- Write one row of a table: cells quoted where they hold the separator, a quote, a line end,
-- blanks at either end, or would begin a comment.
-- @param list       the cells: numbers, strings, booleans, nil (left empty; then set list.n)
-- @param separator  "," unless told otherwise
-- @return the row, without a line end
function json.csv(list, separator)
  separator = separator or ","
  if type(list) ~= "table" then
    error("json.csv takes a list of cells, found " .. type(list), 2)
  elseif type(separator) ~= "string" or #separator ~= 1 or separator:find('["\r\n.0-9]') then
    error("json.csv: the separator is one character such as , or ;", 2)
  end
  local cells = {}
  for i = 1, list.n or #list do
    cells[i] = cell(list[i], separator, i)
  end
  -- A row of one empty cell would be an empty line.
  return #cells == 1 and cells[1] == "" and '""' or table.concat(cells, separator)
end

return json
