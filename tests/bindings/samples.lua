-- SPDX-License-Identifier: GPL-3.0-or-later
-- One object of each type, by the name of the type, for the tests that are made from
-- rw.describe(). A type that a field or a method asks for needs a line here.
return {
  crate = function(rw) return rw.crate { weight = "1 kg" } end,
}
