-- SPDX-License-Identifier: GPL-3.0-or-later
-- What the tests of the scripts share: a fresh boat folder, a run of a script, readers of what it
-- prints.
local lu = require "luaunit"

local support = {}

local at = -1
while arg[at - 1] do
  at = at - 1
end
local lua = arg[at]

-- A word as the shell must be given it.
local function quoted(word)
  return "'" .. word:gsub("'", "'\\''") .. "'"
end

local function succeed(...)
  local words = { ... }
  for i, word in ipairs(words) do
    words[i] = quoted(word)
  end
  assert(os.execute(table.concat(words, " ")), "could not run " .. table.concat(words, " "))
end

function support.read(path)
  local file = assert(io.open(path, "rb"))
  local content = file:read "a"
  file:close()
  return content
end

function support.write(path, content)
  local file = assert(io.open(path, "wb"))
  file:write(content)
  assert(file:close())
end

function support.exists(path)
  local file = io.open(path, "rb")
  if file then
    file:close()
  end
  return file ~= nil
end

-- An empty folder of its own; the caller removes it.
function support.new_folder()
  local path = os.tmpname()
  os.remove(path)
  succeed("mkdir", path)
  return path
end

function support.remove_folder(path)
  assert(path:find "^/.+/.", "not a folder to remove: " .. path)
  succeed("chmod", "-R", "u+rwX", path)
  succeed("rm", "-r", path)
end

function support.make_folder(path)
  succeed("mkdir", path)
end

function support.lock_folder(path)
  succeed("chmod", "a-w", path)
end

function support.can_write(folder)
  local path = folder .. "/try"
  local file = io.open(path, "wb")
  if file then
    file:close()
    os.remove(path)
  end
  return file ~= nil
end

function support.files(path)
  local names = {}
  local list = assert(io.popen("ls -A " .. quoted(path)))
  for name in list:lines() do
    names[#names + 1] = name
  end
  list:close()
  return names
end

-- The demonstration boat in a folder of its own, with one thing changed in each file named:
-- changes.boat and so on are lists of { what stood there, what stands there now }.
function support.boat(changes)
  local contents = {}
  for _, name in ipairs { "boat.lua", "stations.csv", "air.csv" } do
    local content = support.read("scripts/demo/" .. name)
    for _, change in ipairs(changes and changes[name:match "^%a+"] or {}) do
      local from, to = content:find(change[1], 1, true)
      assert(from, "nothing to change in " .. name .. ": " .. change[1])
      assert(not content:find(change[1], to + 1, true), "stands there twice: " .. change[1])
      content = content:sub(1, from - 1) .. change[2] .. content:sub(to + 1)
    end
    contents[name] = content
  end
  local folder = support.new_folder()
  for name, content in pairs(contents) do
    support.write(folder .. "/" .. name, content)
  end
  return folder
end

-- Calls body with the folder of a changed boat; the folder goes whatever happens.
function support.with_boat(changes, body)
  local folder = support.boat(changes)
  local fine, err = xpcall(body, function(e)
    return type(e) == "table" and e or debug.traceback(e)
  end, folder)
  support.remove_folder(folder)
  if not fine then
    error(err, 0)
  end
end

-- Runs a script; gives what it printed, what it complained of, and its exit status.
function support.run(script, ...)
  local out, err = os.tmpname(), os.tmpname()
  local words = { quoted(lua), quoted(script) }
  for _, word in ipairs { ... } do
    words[#words + 1] = quoted(word)
  end
  local command = ("%s >%s 2>%s"):format(table.concat(words, " "), quoted(out), quoted(err))
  local _, _, status = os.execute(command)
  local printed, complaint = support.read(out), support.read(err)
  os.remove(out)
  os.remove(err)
  return printed, complaint, status
end

-- Runs a script that must succeed; gives what it printed.
function support.runs(script, ...)
  local printed, complaint, status = support.run(script, ...)
  lu.assertEquals(complaint, "")
  lu.assertEquals(status, 0)
  return printed
end

-- One sentence for people, and no more than a hint after it.
local function check_sentence(complaint)
  lu.assertNotNil(utf8.len(complaint), "not UTF-8: " .. complaint)
  for _, words in ipairs { "stack traceback", "attempt to", "lua5.4:", ".lua:%d+:", "userdata: ",
    "table: 0", "RW_ERR", "%(null%)", "%f[%w]nil%f[%W]", "%f[%w]inf%f[%W]", "%f[%w]nan%f[%W]" } do
    lu.assertNil(complaint:find(words), complaint)
  end
  local lines = {}
  for line in complaint:gmatch "[^\n]*" do
    lines[#lines + 1] = line
  end
  lu.assertTrue(#lines == 2 or #lines == 3, complaint)
  lu.assertEquals(lines[#lines], "", "no line end: " .. complaint)
  lu.assertTrue(#lines[1] > 20 and #lines[1] < 500, complaint)
  if lines[3] then
    lu.assertNotNil(lines[2]:find "^  [%u%d].*[.?{]$", complaint)
  end
end

-- Runs a script that must end with one sentence in which all the words stand.
function support.refused(words, script, ...)
  local printed, complaint, status = support.run(script, ...)
  lu.assertEquals(status, 1, "status; printed: " .. printed:sub(1, 200) .. complaint)
  check_sentence(complaint)
  for _, word in ipairs(words) do
    lu.assertStrContains(complaint, word)
  end
  return complaint, printed
end

local unescaped = { b = "\b", f = "\f", n = "\n", r = "\r", t = "\t", ['"'] = '"', ["\\"] = "\\",
  ["/"] = "/" }

-- Reads one JSON text of objects, arrays, words, numbers, truth values and null.
function support.json(text)
  local from = 1
  local value
  local function take(pattern)
    local first, last, found = text:find("^%s*(" .. pattern .. ")%s*", from)
    if first then
      from = last + 1
    end
    return found
  end
  local function need(pattern)
    return take(pattern) or error(("JSON: no %s at %d: %s"):format(pattern, from,
      text:sub(from, from + 40)))
  end
  local function words()
    local raw = need '"[^"\\%c]*'
    local parts = { raw:sub(2) }
    while text:sub(from, from) ~= '"' do
      local code = text:match("^\\u(%x%x%x%x)", from)
      local short = text:match('^\\([bfnrt"\\/])', from)
      assert(code or short, "JSON: bad escape at " .. from)
      parts[#parts + 1] = code and utf8.char(tonumber(code, 16)) or unescaped[short]
      from = from + (code and 6 or 2)
      local plain = text:match('^[^"\\%c]*', from)
      parts[#parts + 1] = plain
      from = from + #plain
    end
    need '"'
    return table.concat(parts)
  end
  local function list(close, item)
    local result = {}
    if take(close) then
      return result
    end
    repeat
      item(result)
    until not take ","
    need(close)
    return result
  end
  function value()
    if text:find('^%s*"', from) then
      return words()
    elseif take "{" then
      return list("}", function(t)
        local key = words()
        need ":"
        assert(t[key] == nil, "JSON: twice: " .. key)
        t[key] = value()
      end)
    elseif take "%[" then
      return list("]", function(t)
        t[#t + 1] = value()
      end)
    end
    local word = take "%-?%d[%d.eE+-]*" or need "%l+"
    local constants = { ["true"] = true, ["false"] = false, null = support }
    return constants[word] == nil and assert(tonumber(word), word) or constants[word]
  end
  local result = value()
  assert(from == #text + 1, "JSON: something follows: " .. text:sub(from, from + 40))
  return result
end

-- Reads a comma-separated table: a list of rows, each a table by the names of the header.
function support.csv(text)
  local rows, row, from = {}, {}, 1
  while from <= #text do
    local cell, stop, last = text:match('^"(.-)"([,\n])()', from)
    while cell and select(2, cell:gsub('"', "")) % 2 == 1 do
      local more
      more, stop, last = text:match('^(.-)"([,\n])()', last - 1)
      cell = cell .. '"' .. more
    end
    if not cell then
      cell, stop, last = text:match('^([^,"\n]*)([,\n])()', from)
    end
    assert(cell, "CSV: at " .. from)
    row[#row + 1] = cell:gsub('""', '"')
    if stop == "\n" then
      rows[#rows + 1] = row
      row = {}
    end
    from = last
  end
  local head = table.remove(rows, 1)
  for i, cells in ipairs(rows) do
    assert(#cells == #head, "CSV: row " .. i .. " has " .. #cells .. " cells")
    local named = {}
    for k, name in ipairs(head) do
      named[name] = cells[k]
    end
    rows[i] = named
  end
  return rows, head
end

-- Every element of a page or a picture that is opened is closed again, in order.
function support.check_tags(markup)
  local open = {}
  for close, name, rest in markup:gmatch "<(/?)([%a][%w]*)([^<>]*)>" do
    if close == "/" then
      lu.assertEquals(table.remove(open), name)
    elseif not rest:find "/$" and name ~= "meta" and name ~= "input" then
      open[#open + 1] = name
    end
  end
  lu.assertEquals(open, {})
end

-- Rows of sections as CSV tell what the same sections as JSON do.
function support.check_rows(rows, found)
  for _, row in ipairs(rows) do
    local want = found[row.section][row.item]
    lu.assertEquals(row.label, want.label)
    lu.assertEquals(tonumber(row.value) or row.value, want.value)
    lu.assertEquals(row.unit, want.unit or "")
  end
end

return support
