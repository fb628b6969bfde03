-- SPDX-License-Identifier: GPL-3.0-or-later
-- The printable page, and files written whole or not at all.
local lu = require "luaunit"
local report = require "resinwright.report"
local chart = require "resinwright.chart"

-- luacheck: globals TestNodes TestPictures TestPage TestSave

local function page(body, more)
  local spec = { title = "Wren", sections = { { heading = "Work", body = body } } }
  for field, value in pairs(more or {}) do
    spec[field] = value
  end
  return report.page(spec)
end

local void = { meta = true, input = true }

-- Every element is closed, in order; returns how often each one occurs.
local function check_nesting(html)
  local open, count = {}, {}
  html = html:gsub("^<!DOCTYPE html>", ""):gsub("<style>.-</style>", "")
  for close, name, rest in html:gmatch "<(/?)([%w]+)([^>]*)>" do
    if close == "/" then
      lu.assertEquals(table.remove(open), name)
    else
      count[name] = (count[name] or 0) + 1
      if not void[name] and rest:sub(-1) ~= "/" then
        open[#open + 1] = name
      end
    end
  end
  lu.assertEquals(#open, 0)
  return count
end

TestNodes = {}

function TestNodes.test_strings_are_text_everywhere()
  local bad = [[<b onclick="x">&'</b>]]
  local html = page({
    bad, report.paragraph(bad, report.strong(bad)), report.heading(bad), report.list { bad },
    report.list({ bad }, "ticks"), report.caution(bad, bad), report.caution { bad },
    report.table { columns = { { title = bad } }, rows = { { bad } }, caption = bad },
    report.tick(bad), report.figure(chart.bars { id = "a" }, bad), report.columns(bad, bad),
  }, { title = bad, subtitle = bad, note = bad, units = bad })
  lu.assertNil(html:match "<b[ >]")
  lu.assertNil(html:match '<[^>]* onclick="[^>]*>')
  check_nesting(html)
  local _, count = html:gsub("&lt;b onclick=&quot;x&quot;&gt;&amp;&#39;&lt;/b&gt;", "")
  lu.assertTrue(count >= 19, count)
end

function TestNodes.test_paragraph_joins_words_numbers_and_nodes()
  lu.assertStrContains(page(report.paragraph("Mix ", 0.1, " kg ", report.strong "now", ".")),
    "<p>Mix 0.1 kg <strong>now</strong>.</p>")
  lu.assertStrContains(page(report.paragraph("a", nil, "b")), "<p>ab</p>")
end

function TestNodes.test_lists()
  lu.assertStrContains(page(report.list { "one", "two" }),
    "<ul>\n<li>one</li>\n<li>two</li>\n</ul>")
  lu.assertStrContains(page(report.list({ "one" }, "numbers")), "<ol>\n<li>one</li>\n</ol>")
  lu.assertStrContains(page(report.list({ "one" }, "ticks")),
    '<li><label><input type="checkbox"> <span>one</span></label></li>')
  lu.assertErrorMsgContains("kind", report.list, { "x" }, "stars")
  lu.assertErrorMsgContains("takes a list", report.list, "x")
end

function TestNodes.test_table_names_columns_and_rows()
  local html = page(report.table { caption = "Batches",
    columns = { { title = "Batch" }, { title = "Mass, g", align = "right" }, { title = "Done" } },
    rows = { { "1", 180, report.tick() }, { 2, nil, report.tick "poured" } } })
  lu.assertStrContains(html, "<caption>Batches</caption>")
  lu.assertStrContains(html, '<th scope="col" class="right">Mass, g</th>')
  lu.assertStrContains(html, '<th scope="row">1</th><td class="right">180</td>')
  lu.assertStrContains(html, '<th scope="row">2</th><td class="right"></td>')
  lu.assertStrContains(html, '<input type="checkbox" aria-label="poured">')
  local count = check_nesting(html)
  lu.assertEquals({ count.tr, count.td, count.th }, { 3, 4, 5 })
end

function TestNodes.test_table_refuses_what_it_cannot_mean()
  lu.assertErrorMsgContains("columns", report.table, {})
  lu.assertErrorMsgContains("align of column 1", report.table,
    { columns = { { title = "a", align = "middle" } } })
  lu.assertErrorMsgContains("takes one table", report.table, "x")
  lu.assertErrorMsgContains("function", report.table,
    { columns = { "a" }, rows = { { print } } })
end

function TestNodes.test_columns_and_nested_bodies()
  local html = page { report.columns({ "left", report.heading "L" }, { { "right" } }), "after" }
  lu.assertStrContains(html, "<div>\n<p>left</p>\n<h3>L</h3>\n</div>\n<div>\n<p>right</p>\n</div>")
  check_nesting(html)
end

TestPictures = {}

function TestPictures.test_takes_the_charts()
  local svg = chart.bars { id = "weights", rows = { { label = "Cloth", value = 1.12 } } }
  local html = page(report.figure(svg, "Weights"))
  lu.assertStrContains(html, svg)
  lu.assertStrContains(html, "<figcaption>Weights</figcaption>")
  lu.assertNil(html:find("xmlns", 1, true))
  check_nesting(html)
end

function TestPictures.test_refuses_all_else()
  for svg, words in pairs {
    ["<p>x</p>"] = "one <svg>", ["<svg></svg><p>x</p>"] = "one <svg>",
    ["<svg></svg><svg></svg>"] = "one <svg>", ["<svg><SCRIPT>1</SCRIPT></svg>"] = "script",
    ['<svg onload="x()"></svg>'] = "script", ["<svg><foreignObject/></svg>"] = "script",
    ['<svg><a href="javascript:x()"/></svg>'] = "another file",
    ['<svg><image xlink:href = "a.png"/></svg>'] = "another file",
    ["<svg><path fill='url(a.svg#b)'/></svg>"] = "another file",
    ['<svg><path d=">" onload=x()/></svg>'] = "quote", ["<svg><style>a{}</style></svg>"] = "style",
  } do
    lu.assertErrorMsgContains(words, report.figure, svg)
  end
  lu.assertErrorMsgContains("found a nil", report.figure, nil)
end

function TestPictures.test_words_in_a_picture_are_only_words()
  local label = "one = 2, href=x, url(x), <script> onload=\"y\""
  local svg = chart.bars { id = "a", rows = { { label = label, value = 1 } }, title = label }
  lu.assertStrContains(page(report.figure(svg)), "&lt;script&gt; onload=&quot;y&quot;")
end

function TestPictures.test_two_of_one_id_are_refused()
  local svg = chart.bars { id = "weights", rows = { { label = "Cloth", value = 1.12 } } }
  lu.assertErrorMsgContains("the id weights-title", page,
    { report.figure(svg), report.figure(svg) })
  page { report.figure(svg), report.figure(chart.bars { id = "other" }) }
end

TestPage = {}

function TestPage.test_is_complete_in_itself()
  local html = page("Begin.", { subtitle = "Saturday", units = "metric" })
  lu.assertStrContains(html, '^<!DOCTYPE html>\n<html lang="en">', true)
  lu.assertStrContains(html, '<meta charset="utf-8">')
  lu.assertStrContains(html, "@page { size: A4; margin: 12mm;")
  lu.assertStrContains(html, "<title>Wren</title>")
  lu.assertStrContains(html, "<h1>Wren</h1>")
  lu.assertStrContains(html, "<p>Saturday</p>")
  lu.assertStrContains(html, "<p>Units: metric</p>")
  for _, word in ipairs { "<script", "http:", "https:", "src=", "<link", "@import", "url(" } do
    lu.assertNotStrContains(html, word)
  end
  check_nesting(html)
end

function TestPage.test_headings_go_down_one_step_at_a_time()
  local html = report.page { title = "Wren", sections = {
    { heading = "First", body = report.heading "Inner" }, { heading = "Second" } } }
  local seen = {}
  for level in html:gmatch "<h(%d)>" do
    seen[#seen + 1] = level
  end
  lu.assertEquals(table.concat(seen), "1232")
end

function TestPage.test_marked_as_invented_only_with_a_note()
  local html = page("x", { note = "a made-up boat" })
  lu.assertStrContains(html, '<p class="invented"><strong>Invented</strong> a made-up boat</p>')
  lu.assertStrContains(html, 'content: "Wren – invented"')
  html = page "x"
  lu.assertNotStrContains(html, "Invented")
  lu.assertStrContains(html, 'content: "Wren"')
end

function TestPage.test_a_name_cannot_leave_the_style_sheet()
  local html = page("x", { title = '"; } </style> \\ \n%d' })
  local css = html:match "<style>\n(.-)</style>"
  lu.assertStrContains(css, [[content: "\22 ; } \3c /style\3e  \5c  \a %d"]])
  local _, count = html:gsub("</style>", "")
  lu.assertEquals(count, 1)
end

function TestPage.test_the_same_twice()
  local function make()
    return page({ report.caution { "gloves", "air" }, report.table { columns = { "a" },
      rows = { { 1.5 } } } }, { note = "n", units = "us" })
  end
  lu.assertEquals(make(), make())
end

function TestPage.test_refuses_what_it_cannot_mean()
  lu.assertErrorMsgContains("takes one table", report.page, nil)
  lu.assertErrorMsgContains("name of the boat", report.page, {})
  lu.assertErrorMsgContains("name of the boat", report.page, { title = "  " })
  lu.assertErrorMsgContains("note is words", report.page, { title = "a", note = true })
  lu.assertErrorMsgContains("sections is a list", report.page, { title = "a", sections = "b" })
end

TestSave = {}

function TestSave:setUp()
  self.base = os.tmpname()
  os.remove(self.base)
  self.path = self.base .. ".html"
end

function TestSave:tearDown()
  os.remove(self.path)
  os.remove(self.path .. ".part")
end

local function read(path)
  local file = io.open(path, "rb")
  if not file then
    return nil
  end
  local content = file:read "a"
  file:close()
  return content
end

function TestSave:test_writes_byte_for_byte_and_replaces()
  lu.assertIs(report.save(self.path, "one\r\n\0é"), true)
  lu.assertEquals(read(self.path), "one\r\n\0é")
  lu.assertIs(report.save(self.path, "two"), true)
  lu.assertEquals(read(self.path), "two")
  lu.assertNil(read(self.path .. ".part"))
end

function TestSave:test_a_missing_folder()
  local ok, why = report.save(self.base .. "/none/sheet.html", "x")
  lu.assertNil(ok)
  lu.assertStrContains(why, "its folder does not exist")
  lu.assertStrContains(why, self.base .. "/none/sheet.html")
end

function TestSave:test_a_folder_in_its_place()
  local folder = self.base:match "^(.*)/[^/]*$"
  local ok, why = report.save(folder, "x")
  lu.assertNil(ok)
  lu.assertStrContains(why, "there is a folder of that name")
  lu.assertNil(read(folder .. ".part"))
end

-- The disk is full while the file is being written: what stood there stays.
function TestSave:test_a_full_disk_leaves_the_old_file()
  lu.assertIs(report.save(self.path, "old"), true)
  lu.assertTrue(os.execute("ln -s /dev/full '" .. self.path .. ".part'"))
  for _, size in ipairs { 10, 1000000 } do
    local ok, why = report.save(self.path, ("x"):rep(size))
    lu.assertNil(ok)
    lu.assertStrContains(why, "the disk is full")
    lu.assertEquals(read(self.path), "old")
    lu.assertNil(io.open(self.path .. ".part", "rb"))
    lu.assertTrue(os.execute("ln -s /dev/full '" .. self.path .. ".part'"))
  end
end

-- Runs a call while a function of a library is another.
local function with(library, name, other, call, ...)
  local own = library[name]
  rawset(library, name, function(...)
    return other(own, ...)
  end)
  local results = table.pack(pcall(call, ...))
  rawset(library, name, own)
  lu.assertTrue(results[1], results[2])
  return table.unpack(results, 2, results.n)
end

local function refuse_mode(refused)
  return function(open, path, mode)
    if mode == refused then
      return nil, path .. ": no", 13
    end
    return open(path, mode)
  end
end

-- What the system says for a reader who has no rights, whoever runs the test.
function TestSave:test_no_rights()
  local ok, why = with(io, "open", refuse_mode "wb", report.save, self.path, "x")
  lu.assertNil(ok)
  lu.assertStrContains(why, "it may not be written there")
end

function TestSave:test_a_file_that_only_may_be_read_stays()
  lu.assertIs(report.save(self.path, "kept"), true)
  local ok, why = with(io, "open", refuse_mode "r+b", report.save, self.path, "x")
  lu.assertNil(ok)
  lu.assertStrContains(why, "it may not be written there")
  lu.assertEquals(read(self.path), "kept")
end

function TestSave:test_a_failed_move_leaves_nothing()
  local ok, why = with(os, "rename", function()
    return nil, "some reason", 5
  end, report.save, self.path, "x")
  lu.assertNil(ok)
  lu.assertStrContains(why, "some reason")
  lu.assertNil(read(self.path))
  lu.assertNil(read(self.path .. ".part"))
end

function TestSave:test_refuses_what_it_cannot_mean()
  lu.assertErrorMsgContains("name of a file", report.save, "", "x")
  lu.assertErrorMsgContains("name of a file", report.save, "a\0b", "x")
  lu.assertErrorMsgContains("content is text", report.save, self.path, nil)
end

os.exit(lu.LuaUnit.run())
