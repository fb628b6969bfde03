-- SPDX-License-Identifier: GPL-3.0-or-later
-- Reads the comma-separated tables of reference-data for the build and the gates, which run before
-- the library exists. Lines that begin with '#' are comments; a cell in double quotes may hold
-- commas and doubled quotes, but no line end.
local csv = {}

local function cells(line)
  local out, at = {}, 1
  repeat
    local cell
    if line:sub(at, at) == '"' then
      local from = at + 1
      local to = from
      while true do
        to = line:find('"', to, true)
        if not to then
          return nil, "a quote is not closed"
        end
        if line:sub(to + 1, to + 1) ~= '"' then
          break
        end
        to = to + 2
      end
      cell, at = line:sub(from, to - 1):gsub('""', '"'), to + 1
      if at <= #line and line:sub(at, at) ~= "," then
        return nil, "text follows a closing quote"
      end
    else
      local to = line:find(",", at, true) or #line + 1
      cell, at = line:sub(at, to - 1):match("^%s*(.-)%s*$"), to
    end
    out[#out + 1] = cell
    local more = line:sub(at, at) == ","
    at = at + 1
  until not more
  return out
end

--- Split a text into a header, comments and rows.
-- Returns { header = {...}, comments = {...}, rows = { {line = n, column = cell, ...}, ... } },
-- or nil, line, sentence.
function csv.parse(text)
  local t = { comments = {}, rows = {} }
  local n = 0
  for line in (text:gsub("^\u{feff}", "") .. "\n"):gmatch("(.-)\r?\n") do
    n = n + 1
    if line:sub(1, 1) == "#" then
      t.comments[#t.comments + 1] = line
    elseif line:find("%S") then
      local c, why = cells(line)
      if not c then
        return nil, n, why
      end
      if not t.header then
        t.header = c
      elseif #c ~= #t.header then
        return nil, n, ("%d cells where the header has %d"):format(#c, #t.header)
      else
        local row = { line = n }
        for i, name in ipairs(t.header) do
          row[name] = c[i]
        end
        t.rows[#t.rows + 1] = row
      end
    end
  end
  if not t.header then
    return nil, n, "no header"
  end
  return t
end

--- Read a file; as csv.parse.
function csv.read(path)
  local f, why = io.open(path, "rb")
  if not f then
    return nil, 0, why
  end
  local text = f:read("a")
  f:close()
  if not text then
    return nil, 0, "cannot be read"
  end
  return csv.parse(text)
end

--- Names of the files in a folder that match a Lua pattern, in order.
function csv.list(folder, pattern)
  local quoted = "'" .. folder:gsub("'", "'\\''") .. "'"
  local out = {}
  local pipe = assert(io.popen("LC_ALL=C ls " .. quoted .. " 2>/dev/null"))
  for name in pipe:lines() do
    if name:match(pattern) then
      out[#out + 1] = name
    end
  end
  pipe:close()
  return out
end

return csv
