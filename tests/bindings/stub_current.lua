-- SPDX-License-Identifier: GPL-3.0-or-later
-- The editor stub and the Lua reference in the tree are those that the module describes.
local lu = require "luaunit"
local rw = require "resinwright"

local root = arg[0]:gsub("[^/]*$", "") .. "../../"
local generate = dofile(root .. "bindings/lua/types/generate.lua")

TestCurrent = {} -- luacheck: ignore
for path, text in pairs(generate.files(rw)) do
  TestCurrent["test_" .. path:gsub("%W", "_")] = function() -- luacheck: ignore
    local file = io.open(root .. path, "rb")
    lu.assertNotNil(file, path .. " is missing")
    local present = file:read "a"
    file:close()
    lu.assertTrue(present == text,
      path .. " is stale: run lua5.4 bindings/lua/types/generate.lua")
  end
end

-- The stub is Lua that loads, and defines every function of the module.
function TestCurrent.test_stub_defines_the_module() -- luacheck: ignore
  local stub = assert(load(generate.stub(rw)))()
  for name, value in pairs(rw) do
    if type(value) == "function" then
      lu.assertEquals(type(stub[name]), "function", name)
    end
  end
  for name in pairs(stub) do
    lu.assertNotNil(rw[name], name)
  end
end

os.exit(lu.LuaUnit.run(), true)
