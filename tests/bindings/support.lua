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

-- Kilobytes in use after everything that can go is gone.
function support.memory()
  collectgarbage()
  collectgarbage()
  return collectgarbage "count"
end

return support
