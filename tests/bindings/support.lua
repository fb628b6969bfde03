-- SPDX-License-Identifier: GPL-3.0-or-later
-- What the tests of the Lua module share.
local lu = require "luaunit"

local support = {}

-- Runs a call that must be refused and returns the error, after checking that it is a sentence.
function support.refused(call, ...)
  local ok, err = pcall(call, ...)
  lu.assertFalse(ok, "was accepted")
  lu.assertEquals(type(err), "table", tostring(err))
  lu.assertStrContains(err.code, "RW_ERR_")
  for _, text in ipairs { err.message, tostring(err) } do
    lu.assertNotStrContains(text, "\n")
    lu.assertNotStrContains(text, "stack traceback")
    lu.assertNotStrContains(text, "userdata:")
    lu.assertNotStrContains(text, "table: 0x")
    lu.assertTrue(#text > 10 and #text < 900, text)
    lu.assertNotNil(utf8.len(text), text)
  end
  lu.assertNil(err.message:find("%. %u"), "more than one sentence: " .. err.message)
  return err
end

-- Refused, with the field and some words named.
function support.refused_for(argument, words, call, ...)
  local err = support.refused(call, ...)
  lu.assertEquals(err.argument, argument, tostring(err))
  for _, word in ipairs(words) do
    lu.assertStrContains(tostring(err), word)
  end
  return err
end

local function cells(line)
  local row, from = {}, 1
  line = line:gsub("\r$", "") .. ","
  while from <= #line do
    local cell, after = line:match('^"(.-)",()', from)
    if not cell then
      cell, after = line:match("^([^,]*),()", from)
    end
    row[#row + 1], from = cell, after
  end
  return row
end

-- The rows of reference-data/checks/NAME.csv, each a table of texts by the names of the header.
function support.checks(name)
  local rows, head = {}, nil
  for line in io.lines("reference-data/checks/" .. name .. ".csv") do
    if line ~= "" and line:sub(1, 1) ~= "#" then
      local row = cells(line)
      if head then
        local named = {}
        for i, key in ipairs(head) do
          named[key] = row[i]
        end
        rows[#rows + 1] = named
      else
        head = row
      end
    end
  end
  return rows
end

-- Compares with a published value of reference-data/checks/points_ROOM.csv at its tolerance.
function support.point(room, id, actual)
  for _, row in ipairs(support.checks("points_" .. room)) do
    if row.id == id then
      local expected = tonumber(row.expected)
      local allowed = tonumber(row.tolerance) * (row.mode == "rel" and math.abs(expected) or 1)
      lu.assertTrue(math.abs(actual - expected) <= allowed,
        ("%s: %.15g, expected %.15g within %.3g"):format(id, actual, expected, allowed))
      return
    end
  end
  lu.fail("points_" .. room .. " has no row " .. id)
end

-- Kilobytes in use after everything that can go is gone.
function support.memory()
  collectgarbage()
  collectgarbage()
  return collectgarbage "count"
end

return support
