-- SPDX-License-Identifier: GPL-3.0-or-later
-- JSON and rows of tables.
local lu = require "luaunit"
local json = require "resinwright.json"

-- luacheck: globals TestValues TestTables TestRefusals TestRows

TestValues = {}

function TestValues.test_plain_values()
  lu.assertEquals(json.encode(nil), "null")
  lu.assertEquals(json.encode(json.null), "null")
  lu.assertEquals(json.encode(true), "true")
  lu.assertEquals(json.encode(false), "false")
  lu.assertEquals(json.encode(12), "12")
  lu.assertEquals(json.encode(12.0), "12")
  lu.assertEquals(json.encode(-0.25), "-0.25")
end

function TestValues.test_numbers_read_back_in_few_digits()
  lu.assertEquals(json.encode(0.1), "0.1")
  lu.assertEquals(json.encode(0.203), "0.203")
  lu.assertEquals(json.encode(0.1 + 0.2), "0.30000000000000004")
  lu.assertEquals(json.encode(1e300), "1e+300")
  local seed = 1
  for _ = 1, 2000 do
    seed = (seed * 6364136223846793005 + 1442695040888963407)
    local value = string.unpack("d", string.pack("j", seed))
    if value == value and math.abs(value) < math.huge then
      local out = json.encode(value)
      lu.assertEquals(tonumber(out), value, out)
      lu.assertNotNil(out:find("^%-?%d+%.?%d*e?[+-]?%d*$"), out)
    end
  end
end

function TestValues.test_what_is_no_number_is_null()
  lu.assertEquals(json.encode { a = 0 / 0, b = math.huge, c = -math.huge },
    '{"a":null,"b":null,"c":null}')
end

function TestValues.test_words()
  lu.assertEquals(json.encode 'say "no" \\ / µm² 木', [["say \"no\" \\ / µm² 木"]])
  lu.assertEquals(json.encode "\0\1\31\127\b\f\n\r\t", [["\u0000\u0001\u001f\u007f\b\f\n\r\t"]])
  lu.assertEquals(json.encode "bad \xff", '"bad \u{fffd}"')
end

TestTables = {}

function TestTables.test_an_array_only_where_marked()
  lu.assertEquals(json.encode(json.array { 1, 2, 3 }), "[1,2,3]")
  lu.assertEquals(json.encode(json.array {}), "[]")
  lu.assertEquals(json.encode {}, "{}")
  lu.assertEquals(json.encode(json.array({ 1, nil, 3 }, 4)), "[1,null,3,null]")
  local list = { 5 }
  json.array(list)
  lu.assertNil(getmetatable(list))
  lu.assertEquals(json.encode { a = json.array { json.array { 1 }, { b = 2 } } },
    '{"a":[[1],{"b":2}]}')
end

function TestTables.test_keys_in_the_order_of_their_bytes()
  lu.assertEquals(json.encode { b = 1, a = 2, B = 3, ["ä"] = 4, a2 = 5, ["a-"] = 6, _ = 7 },
    '{"B":3,"_":7,"a":2,"a-":6,"a2":5,"b":1,"ä":4}')
end

function TestTables.test_indent()
  lu.assertEquals(json.encode({ a = json.array { 1, {} }, b = json.array {} }, 2),
    '{\n  "a": [\n    1,\n    {}\n  ],\n  "b": []\n}')
end

function TestTables.test_the_same_table_twice_is_no_cycle()
  local shared = { x = 1 }
  lu.assertEquals(json.encode { a = shared, b = shared }, '{"a":{"x":1},"b":{"x":1}}')
end

TestRefusals = {}

local function refused(words, ...)
  local ok, why = pcall(json.encode, ...)
  lu.assertFalse(ok)
  for _, word in ipairs(words) do
    lu.assertStrContains(why, word)
  end
end

function TestRefusals.test_names_the_field()
  refused({ "plan.rows[2].f", "function" }, { plan = { rows = json.array { 1, { f = print } } } })
  refused({ "file", "userdata" }, { file = io.stdout })
  refused({ "the value", "function" }, print)
end

function TestRefusals.test_cycles()
  local loop = {}
  loop.inner = { back = loop }
  refused({ "inner.back", "itself" }, loop)
  local list = {}
  list[1] = json.array(list)
  refused({ "[1]", "itself" }, json.array(list))
end

function TestRefusals.test_an_unmarked_list()
  refused({ "rows", "json.array" }, { rows = { 1, 2 } })
  refused({ "json.array" }, { 1, a = 2 })
  lu.assertErrorMsgContains("takes a list", json.array, 5)
end

TestRows = {}

function TestRows.test_quotes_where_needed()
  lu.assertEquals(json.csv { "a", 1.5, true, "b c" }, "a,1.5,true,b c")
  lu.assertEquals(json.csv { "a,b", 'say "x"', "two\nlines", " blank", "end\t" },
    '"a,b","say ""x""","two\nlines"," blank","end\t"')
  lu.assertEquals(json.csv({ "a,b", "c;d" }, ";"), 'a,b;"c;d"')
  lu.assertEquals(json.csv { "# no comment", "# here neither" }, '"# no comment",# here neither')
end

function TestRows.test_gaps_and_what_is_no_number_are_empty()
  lu.assertEquals(json.csv { n = 4, "a", nil, 3 }, "a,,3,")
  lu.assertEquals(json.csv { 0 / 0, math.huge, 2 }, ",,2")
  lu.assertEquals(json.csv { "" }, '""')
  lu.assertEquals(json.csv {}, "")
end

function TestRows.test_refusals()
  lu.assertErrorMsgContains("cell 2", json.csv, { 1, {} })
  lu.assertErrorMsgContains("separator", json.csv, { 1 }, ",,")
  lu.assertErrorMsgContains("separator", json.csv, { 1 }, '"')
  lu.assertErrorMsgContains("takes a list", json.csv, "a")
end

os.exit(lu.LuaUnit.run())
