-- SPDX-License-Identifier: GPL-3.0-or-later
-- Numbers and words as the writers of pictures, pages and tables put them down.
local lu = require "luaunit"
local text = require "resinwright.text"

-- luacheck: globals TestNumbers TestWords

TestNumbers = {}

function TestNumbers.test_fixed_decimals()
  lu.assertEquals(text.fixed(1.25, 1), "1.2")
  lu.assertEquals(text.fixed(-0.001, 2), "0.00")
  lu.assertEquals(text.fixed(-0.0, 0), "0")
  lu.assertEquals(text.fixed(1234.5, 2), "1234.50")
  lu.assertEquals(text.fixed(7, 0), "7")
end

function TestNumbers.test_coordinates_are_short()
  lu.assertEquals(text.coordinate(100), "100")
  lu.assertEquals(text.coordinate(0.1), "0.1")
  lu.assertEquals(text.coordinate(-2.345), "-2.35")
  lu.assertEquals(text.coordinate(1 / 3), "0.33")
  lu.assertEquals(text.coordinate(-0.004), "0")
end

function TestNumbers.test_shortest_reads_back()
  for _, value in ipairs { 0.1, 1 / 3, 2 / 3, 1e22, 5e-324, 1.7976931348623157e308, 0.1 + 0.2,
    123456789.123, -4.35, 2 ^ 53 + 2.0 } do
    lu.assertEquals(tonumber((text.shortest(value))), value)
  end
  lu.assertEquals(text.shortest(0.1), "0.1")
  lu.assertEquals(text.shortest(0.1 + 0.2), "0.30000000000000004")
  lu.assertEquals(text.shortest(5.0), "5")
  lu.assertEquals(text.shortest(math.mininteger), "-9223372036854775808")
end

function TestNumbers.test_decimals_for_significant_digits()
  lu.assertEquals(text.decimals(4.71, 3), 2)
  lu.assertEquals(text.decimals(0.0353, 3), 4)
  lu.assertEquals(text.decimals(123.4, 3), 0)
  lu.assertEquals(text.decimals(99999, 3), 0)
  lu.assertEquals(text.decimals(0.9996, 3), 2)
  lu.assertEquals(text.decimals(0, 3), 0)
end

function TestNumbers.test_readable_minus_and_powers()
  lu.assertEquals(text.readable(-1.5, 1), "−1.5")
  lu.assertEquals(text.readable(2e12, 0), "2.00e+12")
  lu.assertEquals(text.readable(0, 1), "0.0")
end

function TestNumbers.test_finite()
  for _, value in ipairs { 0 / 0, math.huge, -math.huge, 1e200, "1", false } do
    lu.assertFalse(text.finite(value), tostring(value))
  end
  lu.assertTrue(text.finite(-3.5))
  lu.assertFalse(text.finite(nil))
end

TestWords = {}

function TestWords.test_escapes_markup_and_quotes()
  lu.assertEquals(text.escape [[a<b>&"c"'d']], "a&lt;b&gt;&amp;&quot;c&quot;&#39;d&#39;")
  lu.assertEquals(text.escape "µ² ½ – 木", "µ² ½ – 木")
end

function TestWords.test_what_markup_forbids_is_replaced()
  lu.assertEquals(text.clean "a\0b\27c\127", "a\u{fffd}b\u{fffd}c\u{fffd}")
  lu.assertEquals(text.clean "tab\tline\n", "tab\tline\n")
  lu.assertEquals(text.clean "\xffé\xc3", "\u{fffd}é\u{fffd}")
  lu.assertEquals(text.clean "\u{fffe}\u{ffff}", "\u{fffd}\u{fffd}")
  lu.assertEquals(text.clean "\xed\xa0\x80", ("\u{fffd}"):rep(3))
end

function TestWords.test_width_grows_with_words_and_size()
  lu.assertTrue(text.width("mmm", 10) > text.width("iii", 10))
  lu.assertAlmostEquals(text.width("abc", 20), 2 * text.width("abc", 10), 1e-12)
  lu.assertEquals(text.width("e\u{301}", 10), text.width("e", 10))
  lu.assertEquals(text.width("", 10), 0)
end

function TestWords.test_shortens_whole_characters()
  local long = ("größer "):rep(20)
  for width = 12, 200, 7 do
    local short = text.shorten(long, 10, width)
    lu.assertNotNil(utf8.len(short))
    lu.assertTrue(text.width(short, 10) <= width, short)
    lu.assertStrContains(short, "…")
  end
  lu.assertEquals(text.shorten("short", 10, 200), "short")
  lu.assertEquals(text.shorten("two\nlines", 10, 200), "two lines")
end

os.exit(lu.LuaUnit.run())
