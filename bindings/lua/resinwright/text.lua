-- SPDX-License-Identifier: GPL-3.0-or-later
-- Numbers and words as the writers of pictures, pages and tables need them: the same in every
-- locale, safe inside markup.
local text = {}

-- What is larger than this is drawn nowhere.
local LARGEST = 1e100

--- True for a number that can be drawn: no NaN, not infinite, not absurdly large.
function text.finite(value)
  return type(value) == "number" and value == value and value > -LARGEST and value < LARGEST
end

-- string.format asks the locale for the decimal mark.
local function format(pattern, value)
  return (string.format(pattern, value):gsub(",", "."))
end

--- A number with so many decimals, "-0" never.
function text.fixed(value, decimals)
  local out = format("%." .. decimals .. "f", value)
  return out:find("[1-9]") and out or (out:gsub("^%-", ""))
end

--- A coordinate of a drawing: hundredths, without needless zeros.
function text.coordinate(value)
  return (text.fixed(value, 2):gsub("0+$", ""):gsub("%.$", ""))
end

--- A number in the fewest digits (15 to 17) that read back to the same value.
function text.shortest(value)
  if math.type(value) == "integer" then
    return string.format("%d", value)
  end
  for digits = 15, 16 do
    local out = format("%." .. digits .. "g", value)
    if tonumber(out) == value then
      return out
    end
  end
  return format("%.17g", value)
end

--- Decimals that show so many significant digits of a number.
function text.decimals(value, digits)
  if value == 0 then
    return 0
  end
  local size = tonumber(format("%." .. digits - 1 .. "e", value):match("e(.*)$"))
  return math.max(0, math.min(12, digits - 1 - math.tointeger(size)))
end

--- A number for a reader: a true minus, and a power of ten only where it is very large or small.
function text.readable(value, decimals)
  local size = math.abs(value)
  local out
  if size >= 1e9 or (size > 0 and size < 1e-9) then
    out = format("%.2e", value)
  else
    out = text.fixed(value, decimals)
  end
  return (out:gsub("^%-", "−"))
end

--- Well-formed UTF-8 with no character that markup forbids; each of these becomes U+FFFD.
function text.clean(words)
  local parts, at = {}, 1
  while at <= #words do
    local good, bad = utf8.len(words, at)
    if good then
      parts[#parts + 1] = words:sub(at)
      break
    end
    parts[#parts + 1] = words:sub(at, bad - 1) .. "\u{fffd}"
    at = bad + 1
  end
  local out = table.concat(parts):gsub("[\0-\8\11\12\14-\31\127]", "\u{fffd}")
  return (out:gsub("\xef\xbf[\xbe\xbf]", "\u{fffd}"))
end

local entities = {
  ["&"] = "&amp;", ["<"] = "&lt;", [">"] = "&gt;", ['"'] = "&quot;", ["'"] = "&#39;",
}

--- Words that stay words inside HTML and SVG, also inside a quoted attribute.
function text.escape(words)
  return (text.clean(words):gsub("[&<>\"']", entities))
end

-- Widths of characters in hundredths of the type size, those of a wide sans-serif face, so that
-- a narrower one fits as well.
local widths = {}
for hundredths, characters in pairs {
  [28] = "'IJijl", [32] = " ,./:;\\|·", [36] = "-f", [40] = "!()[]rt²³", [46] = '"',
  [53] = "*?_`sz°–", [56] = "FLck", [62] = "PTYaeovxy", [64] = "$0123456789EKSbdghnpqu{}",
  [69] = "ABCRVXZ", [73] = "U", [77] = "&DGHN", [82] = "OQw", [84] = "#+<=>^~−×≈→", [87] = "M",
  [98] = "%m½", [100] = "@W—…",
} do
  for _, code in utf8.codes(characters) do
    widths[code] = hundredths / 100
  end
end

local function advance(code)
  if code >= 0x300 and code < 0x370 then
    return 0
  end
  return widths[code] or (code < 0x1100 and 0.7) or 1
end

--- About how wide words come out at a type size, rather too wide than too narrow.
function text.width(words, size)
  local sum = 0
  for _, code in utf8.codes(words) do
    sum = sum + advance(code)
  end
  return sum * size
end

--- Clean words that fit a width, the end replaced by an ellipsis where they are too long.
function text.shorten(words, size, width)
  words = text.clean(words):gsub("[\t\r\n]+", " ")
  if text.width(words, size) <= width then
    return words
  end
  local left, last = width / size - advance(0x2026), 0
  for at, code in utf8.codes(words) do
    left = left - advance(code)
    if left < 0 then
      break
    end
    last = utf8.offset(words, 2, at) - 1
  end
  return (words:sub(1, last):gsub(" +$", "")) .. "…"
end

return text
