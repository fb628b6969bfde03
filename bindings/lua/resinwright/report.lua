-- SPDX-License-Identifier: GPL-3.0-or-later
--- One page for the wall: HTML complete in itself that prints on A4 without colour.
--
-- A page is made of nodes. Strings are always text, never markup; the only markup that gets in
-- is a picture, through report.figure. Where a node may stand, a string may (it becomes a
-- paragraph), and so may a list of both.
local text = require "resinwright.text"

local report = {}

local Node = { __name = "report node" }

local function node(...)
  return setmetatable({ html = table.concat({ ... }) }, Node)
end

local function is_node(value)
  return getmetatable(value) == Node
end

local function refuse(name, ...)
  error(("report.%s: "):format(name) .. string.format(...), 3)
end

-- Words or a node inside a line.
local function inline(value)
  if is_node(value) then
    return value.html
  elseif value == nil then
    return ""
  elseif type(value) == "number" then
    return (text.shortest(value):gsub("^%-", "−"))
  elseif type(value) == "string" then
    return text.escape(value)
  end
  error("report: found a " .. type(value) .. " where words or a node belong", 0)
end

-- Strings, nodes and lists of them, one below the other.
local function stack(body)
  if is_node(body) then
    return body.html
  elseif type(body) == "table" then
    local parts = {}
    for i, part in ipairs(body) do
      parts[i] = stack(part)
    end
    return table.concat(parts)
  end
  return body == nil and "" or "<p>" .. inline(body) .. "</p>\n"
end

--- A paragraph of strings, numbers and inline nodes, joined as they are.
function report.paragraph(...)
  local parts = table.pack(...)
  for i = 1, parts.n do
    parts[i] = inline(parts[i])
  end
  return node("<p>", table.concat(parts, "", 1, parts.n), "</p>\n")
end

--- Words that stand out inside a paragraph, a cell or a list.
function report.strong(words)
  return node("<strong>", inline(words), "</strong>")
end

--- A heading inside a section.
function report.heading(words)
  return node("<h3>", inline(words), "</h3>\n")
end

--- A square to tick, for a cell of a table.
-- @param label  what is ticked, for a reader who cannot see it ("done")
function report.tick(label)
  return node('<input type="checkbox" aria-label="', inline(label or "done"), '">')
end

local list_tags = { points = "ul", numbers = "ol", ticks = "ul" }

--- A list of strings or nodes.
-- @param items  what is listed
-- @param kind   "points" (also when left out), "numbers", or "ticks": a square before each step
function report.list(items, kind)
  kind = kind or "points"
  local tag = list_tags[kind]
  if type(items) ~= "table" or is_node(items) then
    refuse("list", "takes a list of words, found a %s", is_node(items) and "node" or type(items))
  elseif not tag then
    refuse("list", 'kind is "points", "numbers" or "ticks", found %s', tostring(kind))
  end
  local parts = {}
  for i, item in ipairs(items) do
    local words = inline(item)
    if kind == "ticks" then
      words = '<label><input type="checkbox"> <span>' .. words .. "</span></label>"
    end
    parts[i] = "<li>" .. words .. "</li>\n"
  end
  return node("<", tag, kind == "ticks" and ' class="ticks"' or "", ">\n", table.concat(parts),
    "</", tag, ">\n")
end

local function column_list(columns)
  if type(columns) ~= "table" or #columns == 0 then
    refuse("table", "columns is a list of { title = ..., align = ... } and not empty")
  end
  local out = {}
  for i, column in ipairs(columns) do
    column = type(column) == "string" and { title = column } or column
    local align = column.align or "left"
    if align ~= "left" and align ~= "right" then
      refuse("table", 'align of column %d is "left" or "right", found %s', i, tostring(align))
    end
    out[i] = { title = column.title, class = align == "right" and ' class="right"' or "" }
  end
  return out
end

local function table_row(columns, row)
  local cells = {}
  for i, column in ipairs(columns) do
    -- The first cell names its row, unless it is there to be ticked.
    local names = i == 1 and not is_node(row[i]) and row[i] ~= nil
    cells[i] = ("<%s%s%s>%s</%s>"):format(names and "th" or "td", names and ' scope="row"' or "",
      column.class, inline(row[i]), names and "th" or "td")
  end
  return "<tr>" .. table.concat(cells) .. "</tr>\n"
end

-- What is wider than a small screen scrolls inside its own frame.
local function wide(label, html)
  return '<div class="wide" tabindex="0" role="group" aria-label="' .. label .. '">\n' .. html
    .. "</div>\n"
end

--- A table.
-- @param spec  columns = { { title, align = "left|right" }, ... }; rows = { { cells }, ... },
--   each cell a string, a number, a node or nil; caption = words
function report.table(spec)
  if type(spec) ~= "table" then
    refuse("table", "takes one table, found a %s", type(spec))
  end
  local columns = column_list(spec.columns)
  local head, rows = {}, {}
  for i, column in ipairs(columns) do
    head[i] = ('<th scope="col"%s>%s</th>'):format(column.class, inline(column.title))
  end
  for i, row in ipairs(spec.rows or {}) do
    rows[i] = table_row(columns, row)
  end
  local caption = inline(spec.caption)
  return node(wide(caption ~= "" and caption or "table", table.concat { "<table>\n",
    caption ~= "" and "<caption>" .. caption .. "</caption>\n" or "", "<thead><tr>",
    table.concat(head), "</tr></thead>\n<tbody>\n", table.concat(rows), "</tbody>\n</table>\n" }))
end

--- A box that cannot be overlooked.
-- @param words  a string, a node, or a list of strings (listed)
-- @param title  "Caution" unless told otherwise
function report.caution(words, title)
  local body
  if type(words) == "table" and not is_node(words) then
    body = report.list(words)
  else
    body = stack(words)
  end
  return node('<div class="caution" role="note">\n<p><strong>', inline(title or "Caution"),
    "</strong></p>\n", is_node(body) and body.html or body, "</div>\n")
end

--- Two bodies side by side where the page is wide enough, else one below the other. A picture in
-- a column is drawn 330 px wide to keep its letters at their size.
function report.columns(left, right)
  return node('<div class="pair">\n<div>\n', stack(left), "</div>\n<div>\n", stack(right),
    "</div>\n</div>\n")
end

local forbidden = { script = true, style = true, foreignobject = true, iframe = true }

-- Why a tag, in small letters, must stay out, or nil.
local function tag_fault(tag)
  local bare = tag:gsub('"[^"]*"', ""):gsub("'[^']*'", "")
  if bare:find("[\"']") then
    return "a quote in the picture is not closed"
  elseif forbidden[bare:match("^<([a-z]+)")] or bare:find("[ \t\r\n/]on[a-z]+[ \t\r\n]*=") then
    return "the picture holds a script or a style"
  end
  for _, pattern in ipairs { "href[ \t\r\n]*=[ \t\r\n]*[\"']?(.)", "url%([ \t\r\n]*[\"']?(.)",
    "src[ \t\r\n]*=[ \t\r\n]*[\"']?(.)" } do
    for address in tag:gmatch(pattern) do
      if address ~= "#" then
        return "the picture leans on another file"
      end
    end
  end
  return nil
end

-- Why a picture must stay out, or nil.
local function picture_fault(svg)
  if type(svg) ~= "string" then
    return "takes the text of a picture, found a " .. type(svg)
  end
  local lower = svg:lower()
  if not lower:find("^<svg[ >]") or not lower:find("</svg>[\r\n]*$")
    or select(2, lower:gsub("</svg>", "")) ~= 1 then
    return "the picture is one <svg> element"
  end
  for tag in lower:gmatch("<[^>]*>?") do
    local why = tag_fault(tag)
    if why then
      return why
    end
  end
  return nil
end

--- A picture with words below it.
-- @param svg      one <svg> element, as resinwright.chart makes it; it is checked to hold no
--                 script and nothing from elsewhere
-- @param caption  words, or nil
function report.figure(svg, caption)
  local fault = picture_fault(svg)
  if fault then
    refuse("figure", "%s", fault)
  end
  local below = inline(caption)
  return node("<figure>\n", wide(below ~= "" and below or "picture", svg),
    below ~= "" and "<figcaption>" .. below .. "</figcaption>\n" or "", "</figure>\n")
end

local style = [[
@page { size: A4; margin: 12mm; %s }
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { background: #fff; color: #000; font: 16px/1.4 sans-serif; }
body { margin: 0 auto; max-width: 186mm; padding: 12px; overflow-wrap: break-word; }
header { border-bottom: 3px double #000; margin-bottom: 0.8em; padding-bottom: 0.4em; }
h1 { font-size: 1.7em; line-height: 1.15; margin: 0; }
h2 { border-bottom: 1px solid #000; font-size: 1.15em; margin: 1.1em 0 0.4em; }
h3 { font-size: 1em; margin: 0.7em 0 0.2em; }
h2, h3 { break-after: avoid; }
p, ul, ol, figure, .caution { margin: 0.4em 0; }
header p { margin: 0.2em 0 0; }
ul, ol { padding-left: 1.5em; }
li { break-inside: avoid; }
.invented { border: 1.5px dashed #000; display: inline-block; padding: 0.1em 0.5em; }
.invented strong { letter-spacing: 0.12em; text-transform: uppercase; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; margin: 0.3em 0;
  width: 100%%; }
caption { font-weight: bold; padding-bottom: 0.2em; text-align: left; }
th, td { border-bottom: 0.5px solid #555; padding: 0.15em 0.7em; text-align: left;
  vertical-align: top; }
th:first-child, td:first-child { padding-left: 0; }
thead th { border-bottom: 1.5px solid #000; vertical-align: bottom; }
tbody th { font-weight: normal; }
.right { text-align: right; }
tr { break-inside: avoid; }
thead { display: table-header-group; }
figure { break-inside: avoid; margin: 0.6em 0; }
figcaption { font-size: 0.9em; }
svg { display: block; flex: none; }
.caution { border: 2.5px solid #000; break-inside: avoid; padding: 0.2em 0.7em; }
.caution p, .caution ul { margin: 0.2em 0; }
.ticks { list-style: none; padding-left: 0; }
.ticks label { display: flex; gap: 0.5em; }
input { appearance: none; background: #fff; border: 1.5px solid #000; flex: none; height: 0.95em;
  margin: 0.2em 0 0; print-color-adjust: exact; width: 0.95em; }
input:checked { background: #000; }
@media (min-width: 720px) {
  .pair { display: grid; gap: 0 5mm; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); }
}
@media print {
  html { font-size: 8.5pt; line-height: 1.25; }
  body { max-width: none; padding: 0; }
  .wide { overflow: visible; }
  svg { height: auto; max-width: 100%%; }
  .pair { display: grid; gap: 0 5mm; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); }
}
]]

-- Words inside quotes in a style sheet, whatever they hold.
local function style_words(words)
  return '"' .. text.clean(words):gsub("[\0-\31\"\\<>&]", function(character)
    return ("\\%x "):format(character:byte())
  end) .. '"'
end

-- At the foot of each printed page: whose it is, and which page of how many.
local function page_foot(spec)
  local name = spec.title .. (spec.note and " – invented" or "")
  local look = "font: 8pt sans-serif; vertical-align: top; padding-top: 1mm; "
  return ("@bottom-left { content: %s; %s} @bottom-right { content: counter(page) \" / \" "
    .. "counter(pages); %s}"):format(style_words(name), look, look)
end

local function page_header(spec)
  local parts = { "<header>\n<h1>", inline(spec.title), "</h1>\n" }
  local function add(before, value, after)
    if value ~= nil and value ~= "" then
      table.move({ before, inline(value), after }, 1, 3, #parts + 1, parts)
    end
  end
  add("<p>", spec.subtitle, "</p>\n")
  add("<p>Units: ", spec.units, "</p>\n")
  add('<p class="invented"><strong>Invented</strong> ', spec.note, "</p>\n")
  parts[#parts + 1] = "</header>\n"
  return table.concat(parts)
end

-- Two pictures with the same id would borrow each other's hatching.
local function repeated_id(html)
  local seen = {}
  for tag in html:gmatch("<[^>]*>") do
    local id = tag:match(' id="([^"]*)"')
    if id and seen[id] then
      return id
    end
    seen[id or ""] = id ~= nil
  end
  return nil
end

local function check_page(spec)
  if type(spec) ~= "table" then
    return ("takes one table, found a %s"):format(type(spec))
  elseif type(spec.title) ~= "string" or not spec.title:find("[^ \t\r\n]") then
    return "title is the name of the boat, in words"
  elseif spec.sections ~= nil and type(spec.sections) ~= "table" then
    return ("sections is a list, found a %s"):format(type(spec.sections))
  end
  for _, field in ipairs { "subtitle", "note", "units" } do
    if spec[field] ~= nil and type(spec[field]) ~= "string" then
      return ("%s is words, found a %s"):format(field, type(spec[field]))
    end
  end
  return nil
end

--- A page.
-- @param spec  title = the boat's name; subtitle, units = words; note = words that say what is
--   invented (then the page is marked as such, on every sheet of paper); sections =
--   { { heading = words, body = node, string or list of these }, ... }
-- @return HTML text
function report.page(spec)
  local fault = check_page(spec)
  if fault then
    refuse("page", "%s", fault)
  end
  local parts = {}
  for i, section in ipairs(spec.sections or {}) do
    parts[i] = ("<section>\n<h2>%s</h2>\n%s</section>\n"):format(inline(section.heading),
      stack(section.body))
  end
  local body = table.concat(parts)
  local id = repeated_id(body)
  if id then
    refuse("page", "two pictures have the id %s; give each its own", id)
  end
  return table.concat { '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n',
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n<title>',
    text.escape(spec.title), "</title>\n<style>\n", style:format(page_foot(spec)),
    "</style>\n</head>\n<body>\n", page_header(spec), "<main>\n", body,
    "</main>\n</body>\n</html>\n" }
end

-- What the system's error numbers mean to someone who wants a file.
local reasons = {
  [2] = "its folder does not exist",
  [13] = "it may not be written there",
  [1] = "it may not be written there",
  [20] = "its folder is not a folder",
  [21] = "there is a folder of that name",
  [28] = "the disk is full",
  [30] = "that place can only be read",
  [36] = "the name is too long",
  [122] = "there is no more room for you on that disk",
}

local function not_saved(path, why, number)
  return nil, ("%s was not saved: %s"):format(text.clean(path), reasons[number] or why)
end

-- A file that is there already must be one that may be written.
local function check_target(path)
  local old = io.open(path, "rb")
  if not old then
    return true
  end
  local _, why, number = old:read(0)
  old:close()
  if number == 21 then
    return nil, why, number
  end
  local again
  again, why, number = io.open(path, "r+b")
  if again then
    again:close()
    return true
  end
  return nil, why, number
end

local function write_part(part, content)
  local file, why, number = io.open(part, "wb")
  if not file then
    return nil, why, number
  end
  local ok
  ok, why, number = file:write(content)
  if ok then
    ok, why, number = file:close()
  else
    file:close()
  end
  if not ok then
    os.remove(part)
  end
  return ok, why, number
end

--- Write a file whole or not at all: first beside its place, then moved there.
-- @param path     where to
-- @param content  text of the file
-- @return true, or nil and a sentence; a file that was there before is then as it was
function report.save(path, content)
  if type(path) ~= "string" or path == "" or path:find("\0", 1, true) then
    refuse("save", "path is the name of a file")
  elseif type(content) ~= "string" then
    refuse("save", "the content is text, found a %s", type(content))
  end
  local part = path .. ".part"
  local ok, why, number = check_target(path)
  if ok then
    ok, why, number = write_part(part, content)
  end
  if not ok then
    return not_saved(path, why, number)
  end
  ok, why, number = os.rename(part, path)
  if not ok then
    os.remove(part)
    return not_saved(path, why, number)
  end
  return true
end

return report
