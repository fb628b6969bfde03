---@meta
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Made by generate.lua from rw.describe(); not to be changed by hand.
-- luacheck: ignore

---@class resinwright
---@field version string version of the library
local rw = {}

---A quantity with its spread: value and sd, or low and high as a 90 % interval.
---@class resinwright.uncertain
---@field value? string|number|resinwright.quantity
---@field sd? string|number|resinwright.quantity
---@field low? string|number|resinwright.quantity
---@field high? string|number|resinwright.quantity

---What a refused call raises.
---@class resinwright.error
---@field code string name of the status, such as "RW_ERR_RANGE"
---@field func? string function that refused
---@field argument? string field, list element or file it is about
---@field value? any what was found
---@field allowed? string what is allowed
---@field line? integer line in a file
---@field column? integer column in a text
---@field message string one sentence
---@field hint? string what to try
---@field where? string place in the script

---A number with its unit.
---@class resinwright.quantity
---@operator add(string|resinwright.quantity): resinwright.quantity
---@operator sub(string|resinwright.quantity): resinwright.quantity
---@operator mul(number|string|resinwright.quantity): resinwright.quantity
---@operator div(number|string|resinwright.quantity): resinwright.quantity
---@operator pow(integer): resinwright.quantity
---@operator unm: resinwright.quantity
local quantity = {}

---A result with its interval, and what most of the spread comes from.
---@class resinwright.range
---@field value resinwright.quantity|number|string best value; of a clock range the time as text
---@field low resinwright.quantity|number|string lower end
---@field high resinwright.quantity|number|string upper end
---@field sd resinwright.quantity|number standard deviation that goes with the interval
---@field level number how often the interval is meant to hold the truth: 0.9
---@field because string|nil what most of the spread comes from
---@field warnings string[] what to know about the result; empty where nothing
---@field clock boolean true where it holds clock times
---@field seconds number|nil clock range: value in seconds since 1970-01-01 00:00
---@field low_seconds number|nil clock range: lower end, likewise
---@field high_seconds number|nil clock range: upper end, likewise
local range = {}

---Temperature, and humidity where it was read, over time.
---@class resinwright.history
---@field warnings string[] what to know about it; empty where nothing
local history = {}

---The skin of a hull.
---@class resinwright.hull
---@field warnings string[] what to know about it; empty where nothing
local hull = {}

---A dry cloth.
---@class resinwright.cloth
---@field name string name in the tables, or what the roll says in words
---@field fibre string name of its fibre
---@field weave string how the yarns lie
---@field areal_mass resinwright.quantity mass of the dry cloth per area
---@field crown resinwright.quantity|nil thickness of the dry cloth over its crowns; nil: estimated from mass and weave where needed
---@field hand resinwright.range fibre volume share laid by hand
---@field bagged resinwright.range fibre volume share under a bag
---@field fibre_density resinwright.quantity density of the fibre itself
---@field warnings string[] what to know about it; empty where nothing
local cloth = {}

---A stack of plies of wood and of cloth in epoxy.
---@class resinwright.laminate
---@field thickness resinwright.quantity of all plies together
---@field areal_mass resinwright.quantity mass per area, cured, without fill coats
---@field bend_along resinwright.range bending stiffness of a strip along the hull, per width (N m); the spread is that of the wood's and of the cloth model's moduli
---@field bend_across resinwright.range of a strip across, likewise
---@field Ex resinwright.quantity modulus in the plane along the hull, free to bend
---@field Ey resinwright.quantity modulus in the plane across
---@field Gxy resinwright.quantity shear modulus in the plane
---@field nuxy number Poisson ratio in the plane: strain across over strain along
---@field skins {name: string, ply: integer, veneer: integer|nil, thickness: resinwright.quantity, areal_mass: resinwright.quantity, angle: resinwright.quantity, fibre_share: number|nil, void_share: number|nil}[] the layers, from the outside to the inside; ply: which of those listed; fibre_share: by volume, with air counted where it is known; void_share: air by volume, where thickness and resin of the ply were both given. It lowers fibre share and mass; what it takes from stiffness and strength beyond that is left out
---@field warnings string[] what to know about it; empty where nothing
local laminate = {}

---A declared set of layups, all worked out.
---@class resinwright.layups
---@field count integer how many layups there are
---@field strengths string[] names of the strengths that were worked out
local layups = {}

---A flat panel of a laminate under load, solved.
---@class resinwright.panel
---@field deflection resinwright.quantity greatest, to the inside above 0, where the edges may slide in
---@field held resinwright.quantity an estimate of it where they cannot, and the panel carries as a membrane as well; a real one lies between the two. Strains and failure stay those of the first
---@field deepest {x: resinwright.quantity, y: resinwright.quantity, deflection: resinwright.quantity, outer: {x: number, y: number, xy: number}, inner: {x: number, y: number, xy: number}, moment: {x: resinwright.quantity, y: resinwright.quantity, xy: resinwright.quantity}, Qx: resinwright.quantity, Qy: resinwright.quantity} the place where it deflects most
---@field stretched {x: resinwright.quantity, y: resinwright.quantity, deflection: resinwright.quantity, outer: {x: number, y: number, xy: number}, inner: {x: number, y: number, xy: number}, moment: {x: resinwright.quantity, y: resinwright.quantity, xy: resinwright.quantity}, Qx: resinwright.quantity, Qy: resinwright.quantity} the place where a face is strained most
---@field surface_strain number that strain, above 0 stretched
---@field failure {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string, x: resinwright.quantity|nil, y: resinwright.quantity|nil} what gives way first, where, and by what the load must be multiplied for it; what crushes under a heel and what the edges do is not looked at. For comparing and shop planning only, not an approval: scantling rules, survey and licensed practice decide, and strengths are good to a factor of two.
---@field shear_share number part of the deflection that is due to shear
---@field slenderness number short side over thickness
---@field depth number deflection over thickness
---@field error number of the deflection by the sums being cut off, as a share
---@field strain_error number of the strain, likewise
---@field method string how it was solved: series, least energy
---@field warnings string[] what to know about it; empty where nothing
local panel = {}

---A rate law.
---@class resinwright.law
---@field kind string kind of the law
---@field top number highest degree of cure it can reach
---@field warnings string[] what to know about it; empty where nothing
local law = {}

---A mixed resin: its rate, its thresholds and their spread.
---@class resinwright.resin
---@field class string name of the class it was made from
---@field hardener number mass of hardener per mass of resin
---@field density resinwright.quantity density of the mix
---@field thresholds table degree of cure at each milestone, by its key; work_end, which hangs on viscosity, left out
---@field rate_sd number standard deviation of the logarithm of the rate
---@field warnings string[] what to know about it; empty where nothing
local resin = {}

---Degree of cure over time.
---@class resinwright.cure
---@field warnings string[] what to know about it; empty where nothing
local cure = {}

---A logbook: batches, what was found on them, temperatures.
---@class resinwright.log
---@field batches table list of { name, mixed, on_hull, mass, resin, hardener, applied, form, place, suspect, line }
---@field events table list of { batch, found, meaning, milestone, known, not_yet, already, form, place, observer, line }; known is left, right, interval or exact
---@field readings table list of { time, air, hull, low, high, humidity, line }, by time
---@field observers string[] who looked; one who is not named is ""
---@field remarks table rows left out and remarks: list of { line, left_out, text, hint }
---@field left_out integer count of the rows left out
---@field universal boolean true where the times are universal time
local log = {}

---A resin fitted to the notes of a logbook.
---@class resinwright.fit
---@field class string class of the resin before
---@field reference resinwright.quantity temperature at which the ages count
---@field rate table factor on the rate of the resin before, at the reference: { value, before, told, meaning, not_yet, already }; told is nothing, others, earliest, latest, little or well
---@field energy table activation energy, likewise
---@field scatter table scatter of a time, as a share, likewise
---@field ages table age at each milestone at the reference, likewise, by its key; what a resin of this class does not reach there is left out
---@field observers table list, likewise, with the name: factor on the times that this hand calls
---@field notes table the notes taken: as the log's events, with low and high, the chances that it happens before the two looks; chance, of an event as early or late as the note says; influence, standard deviations by which it moves what it moves most; age_low, age_high, seconds at the reference
---@field batches table list of { name, factor, notes, chance, chance_any, odd, suspect }: a batch's times over those of the others, and the chance of one as odd, itself and among as many
---@field drift table|nil { factor, span, chance }: times at the end of the log over those at the beginning, and the chance of as much if there is no drift
---@field omitted table events not taken: as the log's events, with text and hint
---@field fitness table { notes, outside, chance, clumps, clumps_chance, correlation, first, second, condition, log_likelihood, steps }: how many notes lie where one in ten should, the chance of as many; how much more alike notes of one batch are than chance has it; the two unknowns that are told apart least
---@field warnings string[] what to know about it; empty where nothing
local fit = {}

---A rate law fitted to measured runs.
---@class resinwright.runs_fit
---@field law resinwright.law the fitted law
---@field parameters table[] what was fitted: `name`, `value` and `sd` as plain numbers in `unit`, and `range`, the constant or energy itself with its interval
---@field correlation number[][] of the parameters, in their order; near 1 or -1 two of them cannot be told apart
---@field covariance number[][] likewise, in the parameters' units
---@field residuals number[][] fitted less measured, run by run
---@field residual_sd number spread of a point of weight 1
---@field sum_of_squares number weighted sum of the squared residuals
---@field points integer points that count
---@field freedom integer points less parameters
---@field condition number how near the runs come to leaving a parameter open: 1 is best, from 1e6 on hold one of them
---@field rounds integer steps taken
---@field warnings string[] what to know about it; empty where nothing
local runs_fit = {}

---A fit of times known within intervals.
---@class resinwright.intervals_fit
---@field coefficients {name: string, value: number, se: number}[] `constant`, those of the covariates, and `ln spread`; time in seconds
---@field covariance number[][] of the coefficients, in their order
---@field spread number of ln time
---@field spread_se number its standard error
---@field counts table weight of the rows `exact`, known to come `after`, `before`, `between`
---@field log_likelihood number in ln time
---@field log_likelihood_of_time number in time, per second for exact rows
---@field steps integer steps taken
local intervals_fit = {}

---A quantity from a number and a unit, or from a text that holds both. Quantities add, subtract
---and compare within their dimension, multiply, divide, and take whole powers.
---@param value any a number, or a text with its unit such as "203 g/m2"
---@param unit? string the unit, where value is a number
---@return resinwright.quantity
function rw.q(value, unit) end

---Sets the unit system in which quantities are printed.
---@param system? "metric"|"us" left out: the present one is returned
---@return string|nil
function rw.reader(system) end

---@class resinwright.call.read_datafile
---@field path? string the file to read
---@field text? string its text, where it is not read from a file
---@field name? string what to call it in messages; the path, if left out

---Reads a file of data written as a Lua table. The file cannot call, open or change anything; one
---that runs too long, takes too much memory or holds more than data is refused.
---@param arguments? resinwright.call.read_datafile
---@return table
function rw.read_datafile(arguments) end

---@class resinwright.call.materials
---@field kind "fibre"|"cloth"|"wood"|"resin" which table to list

---The materials of a kind, each with its properties: best value, standard deviation, least and
---greatest plausible value, how far the number is to be trusted (standing) and where it comes from
---(source, ids of the list of sources).
---@param arguments resinwright.call.materials
---@return {name: string, title: string, weave: string|nil, fibre: string|nil, properties: table<string, {value: resinwright.quantity|number, sd: resinwright.quantity|number, low: resinwright.quantity|number, high: resinwright.quantity|number, standing: string, source: string}>}[]
function rw.materials(arguments) end

---@class resinwright.call.dew_point
---@field air string|resinwright.quantity temperature of the air, -45 to 90 degC (228 to 363 K); SI unit K
---@field humidity number|string relative humidity of the air, above 0

---The temperature below which water settles on a surface. Tested from 0 to 50 degC, air and dew
---point both.
---@param arguments resinwright.call.dew_point
---@return resinwright.quantity
function rw.dew_point(arguments) end

---@class resinwright.call.dew_margin
---@field air string|resinwright.quantity temperature of the air, -45 to 90 degC (228 to 363 K); SI unit K
---@field humidity number|string relative humidity of the air, above 0
---@field surface string|resinwright.quantity temperature of the wood or the film, not of the air beside it; SI unit K
---@field air_sd? string|resinwright.quantity standard deviation of the thermometer; SI unit K; default 0.5 K
---@field humidity_sd? number|string standard deviation of the hygrometer, as a share: 5 % is five points of humidity; default 5 %
---@field surface_sd? string|resinwright.quantity standard deviation of the surface temperature; SI unit K; default 1 K

---How far a surface stays above the dew point, in kelvin, with what the instruments may be off by.
---Below 0 water settles; readings are taken as independent.
---@param arguments resinwright.call.dew_margin
---@return resinwright.range
function rw.dew_margin(arguments) end

---@class resinwright.call.wood_moisture
---@field temperature string|resinwright.quantity of the wood, -33 to 107 degC (240 to 380 K); SI unit K
---@field humidity number|string relative humidity of the air the wood has stood in

---The moisture content wood comes to in time: mass of water over mass of dry wood. Tested from -1
---to 72 degC.
---@param arguments resinwright.call.wood_moisture
---@return number
function rw.wood_moisture(arguments) end

---@class resinwright.call.wood_humidity
---@field temperature string|resinwright.quantity of the wood, -33 to 107 degC (240 to 380 K); SI unit K
---@field moisture number|string mass of water over mass of dry wood, as a share

---The relative humidity, 0 to 1, in which wood keeps a moisture content: the inverse of
---rw.wood_moisture.
---@param arguments resinwright.call.wood_humidity
---@return number
function rw.wood_humidity(arguments) end

---@class resinwright.call.history.readings
---@field at string when it was read, such as "2026-10-03 15:30"
---@field air string|resinwright.quantity temperature of the air, with its unit; SI unit K
---@field humidity? number|string relative humidity, 0 to 1 or in per cent; left out: not read

---@class resinwright.call.history
---@field readings resinwright.call.history.readings[] two readings or more in order of time; the same time may stand twice, for a step from one temperature to another
---@field as_read? boolean true: take the readings as they stand, also above 45 degC, where a reading is else taken for Fahrenheit and refused; default false

---A history from readings.
---@param arguments resinwright.call.history
---@return resinwright.history
function rw.history(arguments) end

---@class resinwright.call.history_file
---@field path string a table file with the columns "time", "air [degC]" or "air [degF]" and, where known, "humidity [%]"; or "day", "low [degC]", "high [degC]"
---@field as_read? boolean true: take the readings as they stand, also above 45 degC, where a reading is else taken for Fahrenheit and refused; default false

---A history from a table file.
---@param arguments resinwright.call.history_file
---@return resinwright.history
function rw.history_file(arguments) end

---@class resinwright.call.steady
---@field air string|resinwright.quantity temperature of the air all the time; SI unit K
---@field humidity? number|string relative humidity; left out: not known
---@field from string beginning, such as "2026-10-03 15:30"
---@field to string end, after the beginning

---A history of one temperature.
---@param arguments resinwright.call.steady
---@return resinwright.history
function rw.steady(arguments) end

---@class resinwright.call.wave
---@field mean string|resinwright.quantity temperature in the middle; SI unit K
---@field swing string|resinwright.quantity half of what lies between coldest and warmest, "4 K"; SI unit K
---@field period? string|resinwright.quantity time from one warmest moment to the next; SI unit s; default 24 h
---@field warmest string a moment at which it is warmest
---@field from string beginning, such as "2026-10-03 15:30"
---@field to string end, after the beginning
---@field tolerance? string|resinwright.quantity how far a straight piece may lie off; SI unit K; default 0.01 K

---A history that swings as a sine.
---@param arguments resinwright.call.wave
---@return resinwright.history
function rw.wave(arguments) end

---@class resinwright.call.days.days
---@field day string the date alone, such as "2026-10-03"
---@field low string|resinwright.quantity coldest of the day; SI unit K
---@field high string|resinwright.quantity warmest of the day; SI unit K

---@class resinwright.call.days
---@field days resinwright.call.days.days[] one day or more, in order

---A history from daily lows and highs: coldest at 05:30, warmest at 15:00, half a cosine wave
---between them (hours: common practice, no source; within two hours for most shops).
---@param arguments resinwright.call.days
---@return resinwright.history
function rw.days(arguments) end

---@class resinwright.call.clock
---@field at string a clock time, such as "2026-10-03 15:30"

---A clock time in seconds since 1970-01-01 00:00.
---@param arguments resinwright.call.clock
---@return number
function rw.clock(arguments) end

---@class resinwright.call.clock_text
---@field seconds number seconds since 1970-01-01 00:00

---The clock time that goes with seconds since 1970-01-01 00:00, to the minute.
---@param arguments resinwright.call.clock_text
---@return string
function rw.clock_text(arguments) end

---@class resinwright.call.hull
---@field girth (string|resinwright.quantity)[] three girths or more, sheer to sheer around the outside, from one end to the other; only the first and the last may be 0; SI unit m
---@field length? string|resinwright.quantity from the first station to the last, where they are evenly spaced; or spacing, or x; SI unit m
---@field spacing? string|resinwright.quantity from each station to the next, where they are evenly spaced; or length, or x; SI unit m
---@field x? (string|resinwright.quantity)[] position of each girth along the hull, rising; or length, or spacing; SI unit m

---A hull from girths and where they were measured: one of length, spacing and x.
---@param arguments resinwright.call.hull
---@return resinwright.hull
function rw.hull(arguments) end

---@class resinwright.call.hull_file
---@field path string a table file with the columns "x [m]" and "girth [mm]"; or "x [m]", "half [mm]", "height [mm]" and, where there are chines, "knuckle" (0 or 1)

---A hull from a table file of girths or offsets.
---@param arguments resinwright.call.hull_file
---@return resinwright.hull
function rw.hull_file(arguments) end

---@class resinwright.call.hull_offsets.points
---@field x string|resinwright.quantity position of the station, the same for all its points; SI unit m
---@field half string|resinwright.quantity half-breadth: from the middle plane to the skin; SI unit m
---@field height string|resinwright.quantity height over the base line, or over any level; SI unit m
---@field knuckle? boolean true where the skin has a chine here, so that it is not smoothed across; default false

---@class resinwright.call.hull_offsets
---@field points resinwright.call.hull_offsets.points[] points of one half, keel to sheer, station after station in rising x; as many knuckles at every station

---A hull from the offsets of one half. The area is that of the surface through the points and
---includes the slope along the hull that girths leave out.
---@param arguments resinwright.call.hull_offsets
---@return resinwright.hull
function rw.hull_offsets(arguments) end

---@class resinwright.call.cloth
---@field name? string name in the tables, see rw.materials{kind = "cloth"}; alone, or the three below
---@field fibre? string name of the fibre in the tables, see rw.materials{kind = "fibre"}
---@field areal_mass? string|resinwright.quantity mass of the dry cloth per area, 0.01 to 2 kg/m2: "203 g/m2", "6 oz/yd2"; SI unit kg/m2
---@field weave? "plain"|"twill"|"satin"|"unidirectional"|"biaxial"|"mat" how the yarns lie
---@field hand? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain fibre volume share laid by hand, in place of the tables'; a plain number is taken as exact, {low = ..., high = ...} as a 90 % interval
---@field bagged? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain fibre volume share under a bag, likewise
---@field crown? string|resinwright.quantity thickness of the dry cloth over its crowns, unpressed, in place of the tables'; SI unit m

---A cloth of the tables by its name, or one made from what its roll says: fibre, areal mass and
---weave.
---@param arguments? resinwright.call.cloth
---@return resinwright.cloth
function rw.cloth(arguments) end

---@class resinwright.call.fibre_share
---@field mass_share number|string mass of fibre over mass of fibre and resin
---@field fibre_density string|resinwright.quantity density of the fibre itself, such as "2.54 g/cm3" for E-glass; SI unit kg/m3
---@field resin_density string|resinwright.quantity density of the resin, such as "1.1 g/cm3"; SI unit kg/m3

---Fibre volume share from fibre mass share, without air.
---@param arguments resinwright.call.fibre_share
---@return number
function rw.fibre_share(arguments) end

---@class resinwright.call.mass_share
---@field volume_share number|string volume of fibre over volume of fibre and resin
---@field fibre_density string|resinwright.quantity density of the fibre itself, such as "2.54 g/cm3" for E-glass; SI unit kg/m3
---@field resin_density string|resinwright.quantity density of the resin, such as "1.1 g/cm3"; SI unit kg/m3

---Fibre mass share from fibre volume share, without air.
---@param arguments resinwright.call.mass_share
---@return number
function rw.mass_share(arguments) end

---@class resinwright.call.laminate_density
---@field mass_share number|string mass of fibre over mass of fibre and resin
---@field fibre_density string|resinwright.quantity density of the fibre itself, such as "2.54 g/cm3" for E-glass; SI unit kg/m3
---@field resin_density string|resinwright.quantity density of the resin, such as "1.1 g/cm3"; SI unit kg/m3

---Density of a laminate without air in it.
---@param arguments resinwright.call.laminate_density
---@return resinwright.quantity
function rw.laminate_density(arguments) end

---@class resinwright.call.laminate.plies.fibres
---@field fibre string its name in the tables, see rw.materials{kind = "fibre"}
---@field areal_mass string|resinwright.quantity its mass in the cloth per area; SI unit kg/m2

---@class resinwright.call.laminate.plies.warp
---@field fibre string its name in the tables, see rw.materials{kind = "fibre"}
---@field areal_mass string|resinwright.quantity its mass in the cloth per area; SI unit kg/m2

---@class resinwright.call.laminate.plies.weft
---@field fibre string its name in the tables, see rw.materials{kind = "fibre"}
---@field areal_mass string|resinwright.quantity its mass in the cloth per area; SI unit kg/m2

---@class resinwright.call.laminate.plies.core
---@field modulus string|resinwright.quantity 1 MPa to 20 GPa, through the thickness (compression); taken in all directions, which says little where skins are stiffer by far; SI unit Pa
---@field shear_modulus string|resinwright.quantity 0.5 MPa to 10 GPa; of a honeycomb the lesser of its two; SI unit Pa
---@field density string|resinwright.quantity 20 to 1500 kg/m3, with the resin that it drinks or that fills its cuts; SI unit kg/m3
---@field shear_strength? string|resinwright.quantity 0.01 to 100 MPa; shear_failure needs it. Other strengths a core has none here: crushing under a heel or a fitting is another matter; SI unit Pa
---@field spread? number|string relative standard deviation of its moduli, 90 % at most; left out, taken as known

---@class resinwright.call.laminate.plies
---@field cloth? resinwright.cloth a layer of this cloth in epoxy; or fibres, or warp and weft, or wood, or core
---@field fibres? resinwright.call.laminate.plies.fibres[] a layer of a cloth by its fibres: 1 to 8 of them side by side in it (a hybrid)
---@field warp? resinwright.call.laminate.plies.warp a layer of a woven cloth whose warp and weft differ in fibre or mass: the yarns along the roll; give weft and weave, too
---@field weft? resinwright.call.laminate.plies.weft its yarns across the roll
---@field weave? "plain"|"twill"|"satin"|"unidirectional"|"biaxial"|"mat" how the yarns of those fibres, or of warp and weft, lie; it tells the waviness (crimp) and, where nothing else does, the fibre share
---@field wood? string a layer of this wood, by its name in the tables, see rw.materials{kind = "wood"}
---@field core? resinwright.call.laminate.plies.core a layer of foam, balsa or honeycomb by the numbers of its maker's data sheet: there is no table of them
---@field thickness? string|resinwright.quantity of the wood or the core; of a cloth in resin as measured, which tells its fibre share; with resin given as well, also the air in it (void_share of its entry in skins); SI unit m
---@field angle? string|resinwright.quantity from along the hull to the grain or the warp, one turn at most; a cloth sold as +-45 is laid at "45 deg"; SI unit rad; default 0 deg
---@field layup? "hand"|"bagged" how a cloth is laid: by hand, also where left out, or under a bag
---@field fibre_share? number|string fibre volume share of a cloth, in place of that of the lay-up
---@field resin? string|resinwright.quantity|resinwright.range|resinwright.uncertain resin that stayed in the cloth per area, without what lies over its crowns: tells its fibre share; air told by resin and thickness together lowers fibre share and mass, what it takes from stiffness and strength beyond that is left out; SI unit kg/m2
---@field resin_density? string|resinwright.quantity of that resin; left out, that of the tables; SI unit kg/m3
---@field cut? "flat"|"quarter" flat: rings along the face, also where left out; quarter: rings on edge
---@field moisture? number|string water in the wood over its dry mass; left out, 12 %
---@field modulus? string|resinwright.quantity|resinwright.range|resinwright.uncertain of the wood along its grain as measured, in place of the tables'; the others keep their ratio to it, strengths stay; SI unit Pa
---@field density? string|resinwright.quantity of the wood as weighed, 50 to 1500 kg/m3; SI unit kg/m3
---@field veneers? integer plywood of so many veneers of this wood, 3 to 49, odd, each across its neighbours
---@field face? string|resinwright.quantity thickness of each of plywood's outer veneers; left out, all are alike; SI unit m

---@class resinwright.call.laminate
---@field plies resinwright.call.laminate.plies[] 1 to 200 plies from the outside to the inside

---A laminate from its plies, listed from the outside to the inside. All wood is taken to be wrong
---together, by the largest spread of the woods in it and of its cores with them, and all cloth
---together.
---@param arguments resinwright.call.laminate
---@return resinwright.laminate
function rw.laminate(arguments) end

---@class resinwright.call.layups.outside.kinds
---@field layer resinwright.laminate one layer, a laminate of one ply without an angle
---@field price? string|resinwright.quantity of its cloth, without resin; SI unit money/m2; default 0 money/m2

---@class resinwright.call.layups.outside
---@field kinds resinwright.call.layups.outside.kinds[] 1 to 64 layers to choose from for each place
---@field angles? (string|resinwright.quantity)[] angles to choose from for each; left out, along the hull only; SI unit rad
---@field least? integer layers at least; default 0
---@field most? integer layers at most, up to 16; default 1

---@class resinwright.call.layups.inside.kinds
---@field layer resinwright.laminate one layer, a laminate of one ply without an angle
---@field price? string|resinwright.quantity of its cloth, without resin; SI unit money/m2; default 0 money/m2

---@class resinwright.call.layups.inside
---@field kinds resinwright.call.layups.inside.kinds[] 1 to 64 layers to choose from for each place
---@field angles? (string|resinwright.quantity)[] angles to choose from for each; left out, along the hull only; SI unit rad
---@field least? integer layers at least; default 0
---@field most? integer layers at most, up to 16; default 1

---@class resinwright.call.layups.cores
---@field laminate resinwright.laminate plank, veneers or plywood, from the outside to the inside; cloth on its faces counts with the faces
---@field price? string|resinwright.quantity of its wood, and of the cloth in it, without resin; SI unit money/m2; default 0 money/m2

---@class resinwright.call.layups
---@field outside? resinwright.call.layups.outside what may be laid outside; left out, nothing
---@field inside? resinwright.call.layups.inside what may be laid inside; left out, nothing
---@field symmetric? boolean true: the inside mirrors the outside, whatever that is
---@field cores? resinwright.call.layups.cores[] 1 to 32 cores to choose from; left out, cloth alone
---@field resin_price? string|resinwright.quantity of the mixed resin; SI unit money/kg; default 0 money/kg
---@field strengths? ("hit"|"hit_skins"|"hit_outside"|"hit_core"|"hit_inside"|"bending_along"|"bending_along_skins"|"bending_along_outside"|"bending_along_core"|"bending_along_inside"|"bending_across"|"bending_across_skins"|"bending_across_outside"|"bending_across_core"|"bending_across_inside"|"tension_along"|"tension_along_skins"|"tension_along_outside"|"tension_along_core"|"tension_along_inside"|"tension_across"|"tension_across_skins"|"tension_across_outside"|"tension_across_core"|"tension_across_inside"|"heel"|"heel_skins"|"heel_outside"|"heel_core"|"heel_inside")[] strengths to work out, 16 at most: the load, and after it the plies that may give way (all where none are said). hit: from outside, bent both ways, the inside is stretched; heel: from inside; left out, hit and heel
---@field progress? function called every thousand layups or so with how many are done and how many there are; where it returns false the work is stopped

---Every core with every way to lay its faces, up to a million layups, worked out at once. Costs
---are those of the wood, the cloth and the resin in it. Where progress stops the work, nil and a
---sentence come back. For comparing and shop planning only, not an approval: scantling rules,
---survey and licensed practice decide, and strengths are good to a factor of two.
---@param arguments? resinwright.call.layups
---@return resinwright.layups|nil, string|nil
function rw.layups(arguments) end

---@class resinwright.call.sealed_plank
---@field laminate resinwright.laminate plank or cored skin; its wood swells
---@field open number|string|resinwright.quantity|resinwright.range|resinwright.uncertain change of the wood's moisture at its open side, as a share: 0.06 from 12 to 18 %; below 0 it dries; rw.wood_moisture tells what it comes to
---@field sealed? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain the same at its sealed side; left out, 0: the seal keeps up
---@field open_face? "outer"|"inner" which face is not sealed; default inner
---@field profile? number how the change falls off with depth: 1 a straight gradient, 2 steady soaking, more soon after; default 2
---@field girth string|resinwright.quantity over the skin, sheer to sheer or plank edge to edge; SI unit m
---@field radius? string|resinwright.quantity of the section as an arc; 0: flat; SI unit m; default 0 m
---@field bulge? "outer"|"inner" to which side the section bulges; default outer

---How a stack sealed on one face curls and opens when the air turns damp or dry: curvature (above
---0 it bulges to the inside), how much a straight line across grows out of flat (bow) and how far
---the edges move apart (opens; below 0 together), with 90 % intervals from the spread of the
---wood's shrinkage and of the moistures. Moulds, frames and thwarts are left out, and so is what
---creeps over weeks: real curls are rather smaller.
---@param arguments resinwright.call.sealed_plank
---@return {curvature: {x: resinwright.range, y: resinwright.range, xy: resinwright.range}, bow: resinwright.range, opens: resinwright.range, warnings: string[]}
function rw.sealed_plank(arguments) end

---@class resinwright.call.lap
---@field force string|resinwright.quantity that the lap carries along the hull, per metre of width; at most what the weaker side bears; SI unit N/m
---@field first resinwright.laminate one side, pulled along the hull
---@field second resinwright.laminate the other side
---@field strength string|resinwright.quantity shear strength of the glue line; SI unit Pa
---@field shear_modulus? string|resinwright.quantity of the glue; cured epoxy has about 1 GPa (common practice, no source); SI unit Pa; default 1 GPa
---@field glue? string|resinwright.quantity thickness of the glue line (common practice, no source); SI unit m; default 0.2 mm
---@field length string|resinwright.quantity of the lap; SI unit m

---Shear stress along a lap: its mean, at the end where each side comes in, and the greater of the
---two. The sides don't bend: a single lap without support peels as well. For comparing and shop
---planning only, not an approval: scantling rules, survey and licensed practice decide, and
---strengths are good to a factor of two.
---@param arguments resinwright.call.lap
---@return {length: resinwright.quantity, average: resinwright.quantity, first_end: resinwright.quantity, second_end: resinwright.quantity, peak: resinwright.quantity}
function rw.lap(arguments) end

---@class resinwright.call.lap_for
---@field force string|resinwright.quantity that the lap carries along the hull, per metre of width; at most what the weaker side bears; SI unit N/m
---@field first resinwright.laminate one side, pulled along the hull
---@field second resinwright.laminate the other side
---@field strength string|resinwright.quantity shear strength of the glue line; SI unit Pa
---@field shear_modulus? string|resinwright.quantity of the glue; cured epoxy has about 1 GPa (common practice, no source); SI unit Pa; default 1 GPa
---@field glue? string|resinwright.quantity thickness of the glue line (common practice, no source); SI unit m; default 0.2 mm
---@field factor number of safety, 1 to 20

---Shortest lap: by its mean shear (glue that yields before it breaks) and by its peak, which is
---the safe one. Where no length keeps the peak down, why says so, and endless is the lap beyond
---which nothing is gained. For comparing and shop planning only, not an approval: scantling rules,
---survey and licensed practice decide, and strengths are good to a factor of two.
---@param arguments resinwright.call.lap_for
---@return {by_average: {length: resinwright.quantity, average: resinwright.quantity, first_end: resinwright.quantity, second_end: resinwright.quantity, peak: resinwright.quantity}, by_peak: {length: resinwright.quantity, average: resinwright.quantity, first_end: resinwright.quantity, second_end: resinwright.quantity, peak: resinwright.quantity}|nil, endless: {length: resinwright.quantity, average: resinwright.quantity, first_end: resinwright.quantity, second_end: resinwright.quantity, peak: resinwright.quantity}|nil, why: string|nil}
function rw.lap_for(arguments) end

---@class resinwright.call.scarf
---@field stress string|resinwright.quantity that the joined part shall bear; its tensile strength for a full joint; SI unit Pa
---@field strength string|resinwright.quantity shear strength of the glue line; SI unit Pa
---@field thickness string|resinwright.quantity of what is joined; SI unit m
---@field factor number of safety, 1 to 20

---Slope of a scarf, n of 1 in n, and its length, by shear of the glue line. For comparing and shop
---planning only, not an approval: scantling rules, survey and licensed practice decide, and
---strengths are good to a factor of two.
---@param arguments resinwright.call.scarf
---@return {slope: number, length: resinwright.quantity}
function rw.scarf(arguments) end

---@class resinwright.call.patch
---@field sound resinwright.laminate the plies as they were
---@field left resinwright.laminate what is left of them there, in the same order
---@field layer resinwright.laminate one layer of the patch, a laminate of one ply
---@field face? "outer"|"inner" on which face it is laid; default outer
---@field share? number of the sound stack that is wanted back, 0.1 to 2; default 1
---@field criterion? "max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" for strength; default max_stress
---@field most? integer layers to try, 1 to 30; default 12

---Layers that bring a damaged place back to its stiffness and to its strength (nil: not within
---those tried, and why says so), with what was and what is left as shares of the sound skin. What
---is left is taken as sound; the lap is another matter, see rw.lap_for. For comparing and shop
---planning only, not an approval: scantling rules, survey and licensed practice decide, and
---strengths are good to a factor of two.
---@param arguments resinwright.call.patch
---@return {for_stiffness: integer|nil, for_strength: integer|nil, damaged: {bend_along: number, bend_across: number, moment_along: number, moment_across: number, pull_along: number, pull_across: number}, mended: {bend_along: number, bend_across: number, moment_along: number, moment_across: number, pull_along: number, pull_across: number}, added_mass: resinwright.quantity, why: string|nil}
function rw.patch(arguments) end

---@class resinwright.call.doubling.load
---@field Nx? string|resinwright.quantity pull along, per metre of width; SI unit N/m; default 0 N/m
---@field Ny? string|resinwright.quantity pull across, per metre of length; SI unit N/m; default 0 N/m
---@field Nxy? string|resinwright.quantity shear in the plane, per metre; SI unit N/m; default 0 N/m
---@field Mx? string|resinwright.quantity moment per metre of width (N m/m) that bends along; above 0 it stretches the inside; SI unit N; default 0 N
---@field My? string|resinwright.quantity moment that bends across, likewise; SI unit N; default 0 N
---@field Mxy? string|resinwright.quantity twisting moment, per metre; SI unit N; default 0 N

---@class resinwright.call.doubling
---@field plain resinwright.laminate the plain skin
---@field extra resinwright.laminate what is laid on, itself listed from the outside to the inside
---@field face? "outer"|"inner" on which face; default outer
---@field load resinwright.call.doubling.load on the plain skin beside it, per width
---@field shear_modulus? string|resinwright.quantity of the glue; cured epoxy has about 1 GPa (common practice, no source); SI unit Pa; default 1 GPa
---@field glue? string|resinwright.quantity thickness of the glue line (common practice, no source); SI unit m; default 0.2 mm

---What a second skin in one place does, such as a bottom patch, and how the strain along the hull
---jumps at its edge: strains of the plain skin's faces beside it and under it, the force that it
---takes over, the reach over which it does (step or taper the edge at least that far) and the
---shear of the glue at a blunt edge. For comparing and shop planning only, not an approval:
---scantling rules, survey and licensed practice decide, and strengths are good to a factor of two.
---@param arguments resinwright.call.doubling
---@return {stiffer_along: number, stiffer_across: number, added_mass: resinwright.quantity, beside: {outer: number, inner: number}, under: {outer: number, inner: number}, jump: {outer: number, inner: number}, force: resinwright.quantity, reach: resinwright.quantity, shear: resinwright.quantity}
function rw.doubling(arguments) end

---@class resinwright.call.law.diffusion
---@field steepness number how sharply it sets in, 0 (not at all) to 200
---@field conversion number degree of cure where it halves the rate at the reference temperature
---@field slope? string|resinwright.quantity how that rises with temperature; SI unit 1/K; default 0 1/K

---@class resinwright.call.law.stiffening.glass
---@field uncured string|resinwright.quantity glass transition of the fresh mix, Tg0; SI unit K
---@field cured string|resinwright.quantity glass transition fully cured; SI unit K
---@field lambda number bend of the curve between, above 0 to 1

---@class resinwright.call.law.stiffening
---@field rate string|resinwright.quantity rate constant of diffusion where T is Tg; SI unit 1/s
---@field c1? number first constant, in the natural logarithm; default 40.2
---@field c2? string|resinwright.quantity second constant; SI unit K; default 51.6 K
---@field glass resinwright.call.law.stiffening.glass glass transition over the degree of cure

---@class resinwright.call.law
---@field kind "nth_order"|"kamal"|"plateau"|"sestak_berggren"|"two_stage" nth_order: k1 (1-a)^n; kamal: (k1 + k2 a^m)(1-a)^n; plateau: (k1 + k2 a^m)(1-a)^(n/2)(limit-a)^(n/2); sestak_berggren: k1 a^m (1-a)^n; two_stage: (k1 + k2 a)(1-a)(limit-a) up to a = split, k3 (1-a) beyond
---@field reference? string|resinwright.quantity temperature that the k are given for; SI unit K; default 25 degC
---@field k1? string|resinwright.quantity rate constant at the reference temperature, such as "0.002 1/min"; SI unit 1/s
---@field A1? string|resinwright.quantity the published factor in place of k1; SI unit 1/s
---@field E1? string|resinwright.quantity activation energy that goes with it; SI unit J/mol
---@field k2? string|resinwright.quantity second rate constant at the reference temperature, such as "0.002 1/min"; SI unit 1/s
---@field A2? string|resinwright.quantity the published factor in place of k2; SI unit 1/s
---@field E2? string|resinwright.quantity activation energy that goes with it; SI unit J/mol
---@field k3? string|resinwright.quantity rate constant of the second stage at the reference temperature, such as "0.002 1/min"; SI unit 1/s
---@field A3? string|resinwright.quantity the published factor in place of k3; SI unit 1/s
---@field E3? string|resinwright.quantity activation energy that goes with it; SI unit J/mol
---@field m? number power of the degree of cure, 0 to 4
---@field n? number order, 0.2 to 4
---@field limit? number degree of cure at which it ends, 0.05 to 5
---@field split? number degree of cure at which the second stage begins
---@field diffusion? resinwright.call.law.diffusion the rate divided by 1 + exp(steepness (a - ac)), ac rising with temperature
---@field stiffening? resinwright.call.law.stiffening the other form: slowed as its glass transition nears the temperature

---A rate law as a chemist gives it. Each constant is given at the reference temperature or as the
---published factor; a value per minute says so in its unit. Members that the kind does not have
---are refused. In a kamal or plateau law k1 may be left out where it is zero.
---@param arguments resinwright.call.law
---@return resinwright.law
function rw.law(arguments) end

---@class resinwright.call.resin.label
---@field pot_life? string|resinwright.quantity pot life, such as "45 min"; SI unit s
---@field pot_mass? string|resinwright.quantity mass that the pot life is given for; SI unit kg; default 100 g
---@field pot_temperature? string|resinwright.quantity temperature that the pot life is given for; SI unit K; default 25 degC
---@field recoat_from? string|resinwright.quantity time after coating from which the next coat may go on; SI unit s
---@field recoat_to? string|resinwright.quantity time after coating until which it bonds without sanding; SI unit s
---@field recoat_temperature? string|resinwright.quantity temperature that the recoat times are given for; needed with them; SI unit K
---@field hardener? number|string|resinwright.quantity mass of hardener per mass of resin: 100:44 by weight is 0.44
---@field density? string|resinwright.quantity density of the mix; SI unit kg/m3

---@class resinwright.call.resin.glass
---@field uncured? string|resinwright.quantity glass transition of the fresh mix, Tg0; SI unit K
---@field cured? string|resinwright.quantity glass transition fully cured; SI unit K
---@field lambda? number bend of the curve between, above 0 to 1

---@class resinwright.call.resin.flow
---@field viscosity? string|resinwright.quantity of the fresh mix at the reference temperature; SI unit Pa s
---@field energy? string|resinwright.quantity how much warmth thins it, such as "48 kJ/mol"; SI unit J/mol
---@field reference? string|resinwright.quantity temperature that the viscosity is given for; SI unit K
---@field gel? number degree of cure at gel
---@field C1? number exponent of the rise towards the gel
---@field C2? number how the exponent grows with the degree of cure
---@field work_viscosity? string|resinwright.quantity too thick to spread from there on; SI unit Pa s
---@field work_sd? number standard deviation of the logarithm of that, 0 to 3

---@class resinwright.call.resin.thresholds
---@field work_end? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is too thick to spread and wet out cloth
---@field gel? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is gelled: no longer flows
---@field recoat_opens? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is firm: the next coat no longer shifts the cloth
---@field blush_past? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is past most of the harm that damp air does to the surface
---@field trim_opens? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is leathery: the cloth cuts clean without dragging
---@field trim_closes? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is too hard to cut with a knife
---@field recoat_closes? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is a thumbnail leaves no mark: from now on sand first
---@field handle? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is strong enough to turn the hull over
---@field sand? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is sands to powder
---@field service? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is hard enough to varnish, load and launch

---@class resinwright.call.resin
---@field class string name of the resin class in the material tables, such as "slow-polyetheramine"
---@field label? resinwright.call.resin.label what the label says; left out, the class stands for itself
---@field law? resinwright.law rate law in place of the class's own, see rw.law
---@field glass? resinwright.call.resin.glass glass transition in place of the class's own
---@field flow? resinwright.call.resin.flow viscosity and gel in place of the class's own
---@field thresholds? resinwright.call.resin.thresholds degrees of cure at the milestones in place of the class's own
---@field heat? string|resinwright.quantity of the full reaction, per mass of mix; SI unit J/kg
---@field heat_capacity? string|resinwright.quantity of the mix; SI unit J/(kg K)
---@field density? string|resinwright.quantity of the mix; SI unit kg/m3
---@field hardener? number|string|resinwright.quantity mass of hardener per mass of resin
---@field rate_sd? number standard deviation of the logarithm of the rate, 0 to 2
---@field energy_sd? string|resinwright.quantity standard deviation of the activation energies together; SI unit J/mol

---A mixed resin from its class and, where there is one, its label. The label sets the rate and the
---recoat hours; the maker's data sheet overrules both. A chemist may put a rate law, a glass
---transition and a viscosity in place of the class's own; the milestones stay the class's.
---@param arguments resinwright.call.resin
---@return resinwright.resin
function rw.resin(arguments) end

---@class resinwright.call.gel_conversion
---@field ratio number amine hydrogens per epoxide group; 1 is the right ratio
---@field epoxide_groups? number epoxide groups of a resin molecule; default 2
---@field amine_hydrogens? number amine hydrogens of a hardener molecule; default 4

---Conversion of the scarcer group at gel; nil where the mix never gels.
---@param arguments resinwright.call.gel_conversion
---@return number|nil
function rw.gel_conversion(arguments) end

---@class resinwright.call.hardener_needed
---@field epoxide_equivalent string|resinwright.quantity epoxide equivalent weight of the resin, such as "190 g/mol"; SI unit kg/mol
---@field amine_equivalent string|resinwright.quantity amine hydrogen equivalent weight of the hardener; SI unit kg/mol

---Mass of hardener per mass of resin at the right ratio.
---@param arguments resinwright.call.hardener_needed
---@return number
function rw.hardener_needed(arguments) end

---@class resinwright.call.equivalent_age
---@field energy string|resinwright.quantity activation energy, such as "56 kJ/mol"; SI unit J/mol
---@field reference string|resinwright.quantity temperature at which age counts in full; SI unit K
---@field history resinwright.history temperature over time
---@field from string beginning
---@field to string end

---Time at the reference temperature that ages the resin as much as the history did.
---@param arguments resinwright.call.equivalent_age
---@return resinwright.quantity
function rw.equivalent_age(arguments) end

---@class resinwright.call.equivalent_age_when
---@field energy string|resinwright.quantity activation energy, such as "56 kJ/mol"; SI unit J/mol
---@field reference string|resinwright.quantity temperature at which age counts in full; SI unit K
---@field history resinwright.history temperature over time
---@field from string beginning
---@field age string|resinwright.quantity time at the reference temperature, such as "10 h"; SI unit s

---Clock time at which that age is reached; nil where it is not within the history.
---@param arguments resinwright.call.equivalent_age_when
---@return string|nil
function rw.equivalent_age_when(arguments) end

---@class resinwright.call.coat_thickness
---@field mass string|resinwright.quantity mass spread; SI unit kg
---@field area string|resinwright.quantity area it was spread over; SI unit m2
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3

---Thickness of a wet film from what was spread.
---@param arguments resinwright.call.coat_thickness
---@return resinwright.quantity
function rw.coat_thickness(arguments) end

---@class resinwright.call.coat_mass
---@field area string|resinwright.quantity area to coat; SI unit m2
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3

---Mass of a wet film.
---@param arguments resinwright.call.coat_mass
---@return resinwright.quantity
function rw.coat_mass(arguments) end

---@class resinwright.call.coat_area
---@field mass string|resinwright.quantity mass at hand; SI unit kg
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3

---Area that a mass covers.
---@param arguments resinwright.call.coat_area
---@return resinwright.quantity
function rw.coat_area(arguments) end

---@class resinwright.call.film_flow
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field viscosity string|resinwright.quantity viscosity, such as "900 mPa s"; SI unit Pa s
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad

---How a film of even thickness runs down a slope: speed of its `surface` and `mean` speed, `flux`,
---mass per time and width (take it out with :to "g/(m s)"), `reynolds` number; `warnings`. Only
---resin above the crowns of the cloth runs so.
---@param arguments resinwright.call.film_flow
---@return table
function rw.film_flow(arguments) end

---@class resinwright.call.film_thickness
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field viscosity string|resinwright.quantity viscosity, such as "900 mPa s"; SI unit Pa s
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field flux string|resinwright.quantity mass that passes each metre of width in a second, such as "2 g/(m s)"; SI unit kg/(m s)

---Thickness of a poured film that carries a flux. A second result says what to know about it, or
---is nil.
---@param arguments resinwright.call.film_thickness
---@return resinwright.quantity, string|nil
function rw.film_thickness(arguments) end

---@class resinwright.call.sag_run
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---How far the surface of a coat runs before it gels, at most.
---@param arguments resinwright.call.sag_run
---@return resinwright.quantity
function rw.sag_run(arguments) end

---@class resinwright.call.sag_thickness
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field run string|resinwright.quantity how far its surface may creep down; SI unit m
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---Greatest wet film that runs no further than allowed; nil on the level.
---@param arguments resinwright.call.sag_thickness
---@return resinwright.quantity|nil
function rw.sag_thickness(arguments) end

---@class resinwright.call.sag_slope
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field run string|resinwright.quantity how far its surface may creep down; SI unit m
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---Steepest slope on which a film runs no further than allowed; "90 deg" where it holds upright.
---@param arguments resinwright.call.sag_slope
---@return resinwright.quantity
function rw.sag_slope(arguments) end

---@class resinwright.call.sag_held
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field below string|resinwright.quantity distance down the face from the coat's upper edge; SI unit m
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---What a face still holds at the gel, however much was laid on it; nil on the level.
---@param arguments resinwright.call.sag_held
---@return resinwright.quantity|nil
function rw.sag_held(arguments) end

---@class resinwright.call.levelling_time
---@field viscosity string|resinwright.quantity viscosity, such as "900 mPa s"; SI unit Pa s
---@field brush_marks string|resinwright.quantity distance from brush mark to brush mark; SI unit m
---@field tension? string|resinwright.quantity surface tension of the resin (the usual value is from memory); SI unit N/m; default 0.035 N/m
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field share number|string share of the height of the marks that is left, above 0

---Time in which brush marks sink to a share of their height at a steady viscosity. A second result
---says what to know about it, or is nil.
---@param arguments resinwright.call.levelling_time
---@return resinwright.quantity, string|nil
function rw.levelling_time(arguments) end

---@class resinwright.call.levelling_left
---@field brush_marks string|resinwright.quantity distance from brush mark to brush mark; SI unit m
---@field tension? string|resinwright.quantity surface tension of the resin (the usual value is from memory); SI unit N/m; default 0.035 N/m
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---Share of the height of brush marks that is left at the gel, 0 to 1. A second result says what to
---know about it, or is nil.
---@param arguments resinwright.call.levelling_left
---@return number, string|nil
function rw.levelling_left(arguments) end

---@class resinwright.call.levelling_marks
---@field tension? string|resinwright.quantity surface tension of the resin (the usual value is from memory); SI unit N/m; default 0.035 N/m
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa
---@field share number|string share of the height of the marks that is left, above 0

---Widest brush marks that sink to a share of their height before the gel. A second result says
---what to know about it, or is nil.
---@param arguments resinwright.call.levelling_marks
---@return resinwright.quantity, string|nil
function rw.levelling_marks(arguments) end

---@class resinwright.call.bubble_speed
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field viscosity string|resinwright.quantity viscosity, such as "900 mPa s"; SI unit Pa s
---@field radius string|resinwright.quantity radius of the bubble; SI unit m
---@field surface? "rigid"|"clean" surface of the bubble: rigid is the slower, and the cautious choice; default rigid

---Speed of a rising bubble, far from walls and cloth. A second result says what to know about it,
---or is nil.
---@param arguments resinwright.call.bubble_speed
---@return resinwright.quantity, string|nil
function rw.bubble_speed(arguments) end

---@class resinwright.call.bubble_rise
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field radius string|resinwright.quantity radius of the bubble; SI unit m
---@field surface? "rigid"|"clean" surface of the bubble: rigid is the slower, and the cautious choice; default rigid
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---How far a bubble rises across the film before the gel.
---@param arguments resinwright.call.bubble_rise
---@return resinwright.quantity
function rw.bubble_rise(arguments) end

---@class resinwright.call.bubble_radius
---@field density string|resinwright.quantity density of the mixed resin; SI unit kg/m3
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field thickness string|resinwright.quantity thickness of the wet film; SI unit m
---@field surface? "rigid"|"clean" surface of the bubble: rigid is the slower, and the cautious choice; default rigid
---@field fluidity string|resinwright.quantity from cure:fluidity: how much it can still flow; SI unit 1/Pa

---Radius of the smallest bubble that escapes from the bottom of the film before the gel; nil on an
---upright face, where bubbles drift along the film.
---@param arguments resinwright.call.bubble_radius
---@return resinwright.quantity|nil
function rw.bubble_radius(arguments) end

---@class resinwright.call.needed_by_volume
---@field resin number parts of resin by volume, such as 2
---@field hardener number parts of hardener by volume, such as 1
---@field resin_density string|resinwright.quantity density of the resin alone; SI unit kg/m3
---@field hardener_density string|resinwright.quantity density of the hardener alone; SI unit kg/m3

---Mass of hardener per mass of resin from a ratio by volume. A ratio by weight is simply its
---quotient.
---@param arguments resinwright.call.needed_by_volume
---@return number
function rw.needed_by_volume(arguments) end

---@class resinwright.call.ratio_pumped
---@field resin_strokes number strokes of the resin pump
---@field hardener_strokes number strokes of the hardener pump
---@field resin_stroke string|resinwright.quantity what one stroke of resin gives, such as "20 mL": pump ten into a cup and weigh; SI unit m3
---@field hardener_stroke string|resinwright.quantity what one stroke of hardener gives; pumps sold as a pair often meter the ratio already, one stroke to one; SI unit m3
---@field resin_density string|resinwright.quantity density of the resin alone; SI unit kg/m3
---@field hardener_density string|resinwright.quantity density of the hardener alone; SI unit kg/m3
---@field needed number kilograms of hardener per kilogram of resin at the right ratio: 100:44 is 0.44

---Ratio that pump strokes give: hardener given over hardener needed.
---@param arguments resinwright.call.ratio_pumped
---@return number
function rw.ratio_pumped(arguments) end

---@class resinwright.call.tin_loss
---@field before string|resinwright.quantity|resinwright.range|resinwright.uncertain the tin when it was first weighed, with the scale's error; SI unit kg
---@field after string|resinwright.quantity|resinwright.range|resinwright.uncertain the same tin later; SI unit kg

---What has left a tin: the difference of two weighings, their errors added in squares.
---@param arguments resinwright.call.tin_loss
---@return resinwright.range
function rw.tin_loss(arguments) end

---@class resinwright.call.ratio_used
---@field resin string|resinwright.quantity|resinwright.range|resinwright.uncertain gone from the resin tin; SI unit kg
---@field hardener string|resinwright.quantity|resinwright.range|resinwright.uncertain gone from the hardener tin; SI unit kg
---@field needed number|string|resinwright.quantity|resinwright.range|resinwright.uncertain kilograms of hardener per kilogram of resin at the right ratio: 100:44 is 0.44

---Ratio used, as the tins tell it: hardener used over hardener needed. Spills and drips from one
---tin alone are not known to it.
---@param arguments resinwright.call.ratio_used
---@return resinwright.range
function rw.ratio_used(arguments) end

---@class resinwright.call.ledger.batches
---@field resin? string|resinwright.quantity resin in it; left out: not noted, taken as the mean of those noted; SI unit kg
---@field ratio? number its ratio as noted, see rw.ratio_pumped; left out: not noted, or pumps unknown
---@field alike? integer batches with the same number above 0 were noted to be mixed alike; default 0

---@class resinwright.call.ledger
---@field batches resinwright.call.ledger.batches[] the batch sheet in the order of mixing, 1 to 200; {} where nothing is noted
---@field resin string|resinwright.quantity|resinwright.range|resinwright.uncertain gone from the resin tin; SI unit kg
---@field hardener string|resinwright.quantity|resinwright.range|resinwright.uncertain gone from the hardener tin; SI unit kg
---@field needed number|string|resinwright.quantity|resinwright.range|resinwright.uncertain kilograms of hardener per kilogram of resin at the right ratio: 100:44 is 0.44
---@field mass_sd? number|string how much one batch's mass differs from another (common practice, no source); default 20 %
---@field ratio_sd? number|string how much the ratio wanders from batch to batch; 5 % with pumps (common practice, no source); default 5 %
---@field note_sd? number|string how far off a noted ratio may be; 10 % where strokes were counted and the pumps checked (common practice, no source); default 10 %

---Was it off from the start, or part way? `ratio` of all batches together; `stories`, a list of {
---key, meaning, weight, log_likelihood, ratio of the batches that are off, turn: batches before
---the change }; the `best` story with its `meaning`; `told`, false where tins and notes alone
---cannot tell; `off`, the chance that each batch was off; `warnings`.
---@param arguments resinwright.call.ledger
---@return table
function rw.ledger(arguments) end

---@class resinwright.call.ledger_test.batches
---@field resin? string|resinwright.quantity resin in it; left out: not noted, taken as the mean of those noted; SI unit kg
---@field ratio? number its ratio as noted, see rw.ratio_pumped; left out: not noted, or pumps unknown
---@field alike? integer batches with the same number above 0 were noted to be mixed alike; default 0

---@class resinwright.call.ledger_test
---@field batches resinwright.call.ledger_test.batches[] the batch sheet in the order of mixing, 1 to 200; {} where nothing is noted
---@field resin string|resinwright.quantity|resinwright.range|resinwright.uncertain gone from the resin tin; SI unit kg
---@field hardener string|resinwright.quantity|resinwright.range|resinwright.uncertain gone from the hardener tin; SI unit kg
---@field needed number|string|resinwright.quantity|resinwright.range|resinwright.uncertain kilograms of hardener per kilogram of resin at the right ratio: 100:44 is 0.44
---@field mass_sd? number|string how much one batch's mass differs from another (common practice, no source); default 20 %
---@field ratio_sd? number|string how much the ratio wanders from batch to batch; 5 % with pumps (common practice, no source); default 5 %
---@field note_sd? number|string how far off a noted ratio may be; 10 % where strokes were counted and the pumps checked (common practice, no source); default 10 %
---@field guess number[] the ratio you think each batch had, 0 to 5

---Test a guess of each batch's ratio against the tins: `hardener` that would be gone, `z` the
---standard deviations between, the `chance` of a difference this large if the guess is right,
---`log_likelihood`; `warnings`.
---@param arguments resinwright.call.ledger_test
---@return table
function rw.ledger_test(arguments) end

---@class resinwright.call.log
---@field path? string the file to read
---@field text? string its text, where it is not read from a file
---@field name? string what to call a text in messages
---@field keep_good? boolean true: leave out the rows that cannot be right, list them in `remarks`, and keep the others; else the first such row refuses the log
---@field as_read? boolean true: take temperatures as they stand, also above 45 degC
---@field ratio? number|string|resinwright.quantity mass of hardener per mass of resin on the label, 0.02 to 5; left out, batches are compared among themselves

---A logbook from a table file; docs/logbook.md describes its columns. Times are those of the log:
---universal time where it gives offsets, else the clock on the wall as it ran when the log began.
---@param arguments? resinwright.call.log
---@return resinwright.log
function rw.log(arguments) end

---The words for what was found, with what each means to the hand, the milestone it tells of, and
---its stage: a later stage cannot come before an earlier one.
---@return {found: string, meaning: string, milestone: string, stage: number}[]
function rw.log_words() end

---@class resinwright.call.log_add_batch
---@field path string the logbook; made, with a header, where there is none
---@field universal? boolean true: the times are universal time, and written with an offset
---@field batch string name or number, not yet in the log
---@field time string when mixing ended
---@field on_hull? string when it was spread
---@field mass? string|resinwright.quantity mass mixed; SI unit kg
---@field resin? string|resinwright.quantity of it resin; SI unit kg
---@field hardener? string|resinwright.quantity of it hardener; SI unit kg
---@field applied? string|resinwright.quantity mass that stayed on the hull; SI unit kg
---@field form? "film"|"cup" what is looked at; default film
---@field place? string where on the hull

---Appends a batch to a logbook. Written to the end in one piece and flushed to the disk, in the
---columns and units that the file has; a row that would be left out on reading is refused, and
---nothing is written.
---@param arguments resinwright.call.log_add_batch
---@return nothing
function rw.log_add_batch(arguments) end

---@class resinwright.call.log_add_event
---@field path string the logbook; made, with a header, where there is none
---@field universal? boolean true: the times are universal time, and written with an offset
---@field batch string a batch of the log
---@field found "thick"|"gelled"|"tacky"|"firm"|"tack_free"|"cuts_clean"|"cuts_hard"|"thumbnail_none"|"hard"|"sands" what was found, see log_words
---@field not_yet? string a look that found it not yet so
---@field already? string a look that found it so; one of the two is needed
---@field form? "film"|"cup" what is looked at; default film
---@field place? string the spot looked at
---@field observer? string who looked

---Appends what was found on a batch to a logbook. Written to the end in one piece and flushed to
---the disk, in the columns and units that the file has; a row that would be left out on reading is
---refused, and nothing is written.
---@param arguments resinwright.call.log_add_event
---@return nothing
function rw.log_add_event(arguments) end

---@class resinwright.call.log_add_reading
---@field path string the logbook; made, with a header, where there is none
---@field universal? boolean true: the times are universal time, and written with an offset
---@field time string when; with low and high the date alone
---@field air? string|resinwright.quantity temperature of the air; SI unit K
---@field hull? string|resinwright.quantity temperature of the hull; SI unit K
---@field humidity? number|string relative humidity of the air
---@field low? string|resinwright.quantity the day's coldest air; SI unit K
---@field high? string|resinwright.quantity the day's warmest air; SI unit K

---Appends a reading, or a day's low and high, to a logbook. Written to the end in one piece and
---flushed to the disk, in the columns and units that the file has; a row that would be left out on
---reading is refused, and nothing is written.
---@param arguments resinwright.call.log_add_reading
---@return nothing
function rw.log_add_reading(arguments) end

---@class resinwright.call.runaway_edge
---@field shape "slab"|"cylinder"|"sphere"|"stirred" slab, cylinder or sphere that conducts its heat outwards; stirred: of one temperature throughout
---@field biot? number surface coefficient times half thickness or radius over conductivity; left out: the surface is as cold as the air

---The edge of runaway of a body whose heat is not used up: `delta`, the greatest heating parameter
---that still leaves a steady state, and `theta`, the rise of the warmest place there in units of R
---T^2/E.
---@param arguments resinwright.call.runaway_edge
---@return {delta: number, theta: number}
function rw.runaway_edge(arguments) end

---@class resinwright.call.runaway_air
---@field shape "slab"|"cylinder"|"sphere" shape of the body
---@field size string|resinwright.quantity half the thickness of a slab, else the radius; SI unit m
---@field conductivity string|resinwright.quantity conductivity of the body; SI unit W/(m K)
---@field surface? string|resinwright.quantity heat that the air takes off; left out: the surface is as cold as the air; SI unit W/(m2 K)
---@field density string|resinwright.quantity density of the body; SI unit kg/m3
---@field heat string|resinwright.quantity heat of the full reaction; SI unit J/kg
---@field factor string|resinwright.quantity frequency factor A of A exp(-E/(R T)); SI unit 1/s
---@field energy string|resinwright.quantity its activation energy E; SI unit J/mol

---The air temperature above which a body warms without end while its heat lasts; nil and why where
---that does not lie between -123 and 327 degC.
---@param arguments resinwright.call.runaway_air
---@return resinwright.quantity|nil, string|nil
function rw.runaway_air(arguments) end

---@class resinwright.call.runaway_delta
---@field shape "slab"|"cylinder"|"sphere" shape of the body
---@field size string|resinwright.quantity half the thickness of a slab, else the radius; SI unit m
---@field conductivity string|resinwright.quantity conductivity of the body; SI unit W/(m K)
---@field surface? string|resinwright.quantity heat that the air takes off; left out: the surface is as cold as the air; SI unit W/(m2 K)
---@field density string|resinwright.quantity density of the body; SI unit kg/m3
---@field heat string|resinwright.quantity heat of the full reaction; SI unit J/kg
---@field factor string|resinwright.quantity frequency factor A of A exp(-E/(R T)); SI unit 1/s
---@field energy string|resinwright.quantity its activation energy E; SI unit J/mol
---@field air string|resinwright.quantity temperature of the air; SI unit K

---Heating parameter of a body in air; it runs away where this lies above that of runaway_edge.
---@param arguments resinwright.call.runaway_delta
---@return number
function rw.runaway_delta(arguments) end

---@class resinwright.call.batches.tray
---@field length string|resinwright.quantity inside length of the tray; SI unit m
---@field width string|resinwright.quantity inside width of the tray; SI unit m

---@class resinwright.call.batches
---@field resin resinwright.resin the resin
---@field hull resinwright.history temperature of the hull and of the shop
---@field start string when the first batch is mixed
---@field area string|resinwright.quantity area to wet out; SI unit m2
---@field resin_per_area string|resinwright.quantity resin mixed per area; SI unit kg/m2
---@field rate string|resinwright.quantity|resinwright.range|resinwright.uncertain area wetted per time, all hands together, such as "0.045 m2/min"; SI unit m2/s
---@field cup? string|resinwright.quantity diameter of the mixing cup; 70 mm where neither cup nor tray is given; SI unit m
---@field tray? resinwright.call.batches.tray the roller tray it is poured into at once
---@field chilled? string|resinwright.quantity temperature of the resin when mixed; left out, that of the shop; SI unit K
---@field mixing? string|resinwright.quantity time from pouring together to the first on the hull; SI unit s; default 3 min
---@field share? number|string share of the working time to plan with; default 70 %
---@field most? string|resinwright.quantity no batch larger than that; SI unit kg

---Batches of a wet-out: a list with `mass`, clock times `mixed`, `spread` and `latest` (too thick
---or too hot), the same as `seconds_mixed` and so on, area wetted `from` and `to`, `temperature`
---of the shop, `lost` the chance that it thickens first; and `warnings`. Where none can be
---planned: nil and why.
---@param arguments resinwright.call.batches
---@return table|nil, string|nil
function rw.batches(arguments) end

---@class resinwright.call.window
---@field resin resinwright.resin the resin
---@field hull resinwright.history temperature of the hull
---@field first string when the first section is laid
---@field last string when the last section is laid
---@field to string how far to look
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 256
---@field seed? integer another number draws other trials; default 1

---Recoat window of a whole skin: `open` once the last section is firm, `close` once the first is
---hard, both clock ranges; `empty` where it closes before it opens; `warnings`.
---@param arguments resinwright.call.window
---@return table
function rw.window(arguments) end

---@class resinwright.call.window_chance
---@field resin resinwright.resin the resin
---@field hull resinwright.history temperature of the hull
---@field first string when the first section is laid
---@field last string when the last section is laid
---@field at string the time asked for
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 512
---@field seed? integer another number draws other trials; default 1

---Chance, 0 to 1, that the whole skin's window is open at a time.
---@param arguments resinwright.call.window_chance
---@return number
function rw.window_chance(arguments) end

---@class resinwright.call.start_hours
---@field resin resinwright.resin the resin
---@field air resinwright.history the air, with its humidity where known
---@field hull resinwright.history temperature of the hull, lagging behind the air
---@field from string first hour to try
---@field step? string|resinwright.quantity time between the hours tried; SI unit s; default 1 h
---@field count? integer how many hours to try, 1 to 500; default 24
---@field duration string|resinwright.quantity time the wet-out takes; SI unit s
---@field most_rise? string|resinwright.quantity most that the wood may warm until the resin gels: warming wood blows bubbles; SI unit K; default 1 K
---@field least_margin? string|resinwright.quantity least height of the hull above the dew point until the film is past blushing; SI unit K; default 3 K

---Hours to begin a wet-out: `hours`, a list with `at`, `seconds`, `gel` and `safe` (past blushing)
---of the last section, `rise`, `margin`, `coldest` and `fine` each, nil where the forecast ends
---before; `best` is the place in it of the earliest fine hour, or of the least bad; `fine`;
---`warnings`.
---@param arguments resinwright.call.start_hours
---@return table
function rw.start_hours(arguments) end

---@class resinwright.call.amounts.uptake
---@field wet_out string|resinwright.quantity|resinwright.range|resinwright.uncertain resin into wood and cloth at wet-out; SI unit kg/m2
---@field filling string|resinwright.quantity|resinwright.range|resinwright.uncertain resin of the fill coats, before sanding; SI unit kg/m2

---@class resinwright.call.amounts
---@field area string|resinwright.quantity|resinwright.range|resinwright.uncertain skin area of the face; SI unit m2
---@field layers? resinwright.cloth[] cloths on it, the outermost first; left out or empty: a coat without cloth
---@field resin resinwright.resin the resin
---@field layup? "hand"|"bagged" how the cloth is laid; default hand
---@field soak? string|resinwright.quantity|resinwright.range|resinwright.uncertain what soaks into the wood; needed without `uptake`; SI unit kg/m2
---@field cover? string|resinwright.quantity|resinwright.range|resinwright.uncertain clear resin over the crowns of the outermost cloth, all fill coats together; needed without `uptake`; SI unit m
---@field uptake? resinwright.call.amounts.uptake what test panels took, see rw.panels; in place of layers, soak and cover
---@field waste number|string|resinwright.quantity|resinwright.range|resinwright.uncertain share of what is mixed that ends in pots and tools
---@field chance? number|string chance that `enough` really is; default 95 %

---Resin for a face: ranges `soak`, `cloth`, `fill`, `waste`, `on_hull` (the first three) and
---`total`; mixed per area `per_area`, and `wetout_per_area` without fill coats; mixed mass
---`enough` at the chance asked for, split into `resin` and `hardener`.
---@param arguments resinwright.call.amounts
---@return table
function rw.amounts(arguments) end

---@class resinwright.call.packs.packs
---@field mass string|resinwright.quantity what one pack holds, resin and hardener together; SI unit kg
---@field price string|resinwright.quantity price of one pack, such as "138 money"; SI unit money

---@class resinwright.call.packs
---@field need string|resinwright.quantity mass that is needed at least; SI unit kg
---@field packs resinwright.call.packs.packs[] the packs on sale, at most 12 kinds

---The cheapest packs that hold at least what is needed: `counts` in the order of the packs,
---`mass`, `price`, `leftover`.
---@param arguments resinwright.call.packs
---@return table
function rw.packs(arguments) end

---@class resinwright.call.cloth_layout
---@field hull resinwright.hull the hull
---@field width string|resinwright.quantity width printed on the roll; SI unit m
---@field shortfall? string|resinwright.quantity by how much the roll is narrower in truth; SI unit m; default 0 mm
---@field price? string|resinwright.quantity price of a running metre; SI unit money/m; default 0 money/m
---@field overhang? string|resinwright.quantity cloth beyond each sheer and each end; SI unit m; default 50 mm
---@field lap? string|resinwright.quantity where two pieces lie double; SI unit m; default 50 mm
---@field way "lengthwise"|"filled"|"crosswise" strips from end to end; one strip fewer and a filler where the hull is wider; or pieces from sheer to sheer

---Cloth to buy off a roll for one layer: `way`, `pieces`, `length`, `cost`, `reach`, `filler` with
---`filler_from` and `filler_to`, `lap_area`, `offcut` (share not on the hull). Where that way has
---no use: nil and why.
---@param arguments resinwright.call.cloth_layout
---@return table|nil, string|nil
function rw.cloth_layout(arguments) end

---@class resinwright.call.spreading_time
---@field area string|resinwright.quantity|resinwright.range|resinwright.uncertain what is to be wet out; SI unit m2
---@field rate string|resinwright.quantity|resinwright.range|resinwright.uncertain spread and worked, all hands together; SI unit m2/s

---Time that spreading alone takes, without mixing and breaks.
---@param arguments resinwright.call.spreading_time
---@return resinwright.range
function rw.spreading_time(arguments) end

---@class resinwright.call.reach
---@field width string|resinwright.quantity true width of a strip; SI unit m
---@field lap string|resinwright.quantity where two strips lie double; SI unit m
---@field pieces integer strips side by side, 1 to 1000

---Girth that strips cover side by side.
---@param arguments resinwright.call.reach
---@return resinwright.quantity
function rw.reach(arguments) end

---@class resinwright.call.budget.items
---@field name string what it is
---@field mass string|resinwright.quantity|resinwright.range|resinwright.uncertain what it weighs; below zero for what is taken off again; SI unit kg

---@class resinwright.call.budget
---@field items resinwright.call.budget.items[] what adds to the weight

---Sum of what is added: `total` as a range that names the item with the largest spread, `items`
---with a `name` and a `mass` each.
---@param arguments resinwright.call.budget
---@return table
function rw.budget(arguments) end

---@class resinwright.call.quantile
---@field amount string|resinwright.quantity|resinwright.range|resinwright.uncertain an uncertain mass, taken as lognormal; SI unit kg
---@field chance number|string chance that the mass is not exceeded

---The mass that is not exceeded with a chance.
---@param arguments resinwright.call.quantile
---@return resinwright.quantity
function rw.quantile(arguments) end

---@class resinwright.call.fit_runs.runs
---@field temperature? string|resinwright.quantity steady temperature of the resin; or a history; SI unit K
---@field history? resinwright.history temperature of the resin over time, in place of a steady one
---@field from? string moment of mixing, where a history is given
---@field start? number degree of cure then, 0 to below 1; default 0
---@field time (string|resinwright.quantity)[] times since the mixing, in their order; SI unit s
---@field cure (number|string|resinwright.quantity)[] degrees of cure measured then, -0.2 to 1.2, or {unit = "%", ...}
---@field weight? number[] weights, as 1/variance up to a factor; left out, all alike

---@class resinwright.call.fit_runs.robust
---@field loss? "huber"|"bisquare" huber: far points count less; bisquare: very far ones not at all; default huber
---@field scale? "median"|"proposal"|"leverage"|"fixed" where the spread of the points comes from: their median; the second proposal; the median with each point's leverage; or `sd`; default median
---@field tuning? number how many spreads count in full, 0.1 to 100; left out, 1.345 or 4.685
---@field sd? number spread of a point of weight 1, for a fixed scale

---@class resinwright.call.fit_runs
---@field law resinwright.law where to start, and the values of what is not free, see rw.law
---@field free ("ln k1"|"E1"|"ln k2"|"E2"|"ln k3"|"E3"|"m"|"n"|"limit"|"C"|"ac0"|"acT"|"ln stiffening.k")[] the parameters to be fitted, rate constants by their natural logarithm
---@field runs resinwright.call.fit_runs.runs[] measured runs, each at its temperature, 1 to 1000
---@field robust? resinwright.call.fit_runs.robust a fit that gross errors hardly move
---@field tolerance? number error allowed in a computed degree of cure; default 1e-9

---Fits a rate law to all measured runs at once. The fitted `law` goes wherever a law goes. Errors
---of the calorimeter's zero or of the full heat are not in the spreads, nor is what another batch
---would show.
---@param arguments resinwright.call.fit_runs
---@return resinwright.runs_fit
function rw.fit_runs(arguments) end

---@class resinwright.call.activation_energy.points
---@field heating? string|resinwright.quantity for all methods but friedman: heating rate, such as "10 K/min"; SI unit K/s
---@field temperature string|resinwright.quantity temperature of the peak or the conversion; SI unit K
---@field rate? string|resinwright.quantity for friedman: rate of the conversion there; SI unit 1/s
---@field start? string|resinwright.quantity where the run began with nothing cured; without it vyazovkin is too high at low conversions; SI unit K

---@class resinwright.call.activation_energy
---@field method "kissinger"|"e698"|"ofw"|"kas"|"starink"|"friedman"|"vyazovkin" kissinger and e698 take peaks, the others places of equal conversion: ofw (Ozawa, Flynn, Wall), kas (Kissinger, Akahira, Sunose), starink, friedman (from rates, any course of temperature), vyazovkin (exact temperature integrals)
---@field points resinwright.call.activation_energy.points[] one point of each run, 2 to 32; 3 for an interval
---@field level? number|string how often `low` to `high` is meant to hold the truth; default 95 %

---Activation energy from one point of each of several heating runs: `energy`, a range; its
---standard error `se`, and `low` to `high` at `level`; `middle`, the temperature where energy and
---`rate` (a rate constant) vary independently, with `log_rate`, `log_rate_se` and `log_factor` as
---logarithms of 1/s; `scatter` of the points in logarithms; `objective` of vyazovkin, n(n-1) where
---all runs agree; `runs`, `freedom`; `warnings`. What is not known is nil.The interval holds the
---scatter of the runs, no error of method or calorimeter.
---@param arguments resinwright.call.activation_energy
---@return table
function rw.activation_energy(arguments) end

---@class resinwright.call.heating_peak
---@field heating string|resinwright.quantity heating rate, such as "10 K/min"; SI unit K/s
---@field start? string|resinwright.quantity where the run began with nothing cured; without it vyazovkin is too high at low conversions; SI unit K
---@field temperature (string|resinwright.quantity)[] readings, rising, at least 5, such as {unit = "degC", 40, 42, ...}; SI unit K
---@field conversion (number|string|resinwright.quantity)[] conversion at each, 0 to 1, never falling
---@field rate? (string|resinwright.quantity)[] rate at each; left out, the slope of the conversion; SI unit 1/s

---The peak of a heating run, on a spline through its readings: `heating`, `temperature`, `rate`,
---`start`, as rw.activation_energy takes a point.
---@param arguments resinwright.call.heating_peak
---@return table
function rw.heating_peak(arguments) end

---@class resinwright.call.heating_pass
---@field heating string|resinwright.quantity heating rate, such as "10 K/min"; SI unit K/s
---@field start? string|resinwright.quantity where the run began with nothing cured; without it vyazovkin is too high at low conversions; SI unit K
---@field temperature (string|resinwright.quantity)[] readings, rising, at least 5, such as {unit = "degC", 40, 42, ...}; SI unit K
---@field conversion (number|string|resinwright.quantity)[] conversion at each, 0 to 1, never falling
---@field rate? (string|resinwright.quantity)[] rate at each; left out, the slope of the conversion; SI unit 1/s
---@field at number|string the conversion asked for

---Where a heating run passes a conversion, likewise.
---@param arguments resinwright.call.heating_pass
---@return table
function rw.heating_pass(arguments) end

---@class resinwright.call.energy_scan.curves
---@field heating string|resinwright.quantity heating rate, such as "10 K/min"; SI unit K/s
---@field start? string|resinwright.quantity where the run began with nothing cured; without it vyazovkin is too high at low conversions; SI unit K
---@field temperature (string|resinwright.quantity)[] readings, rising, at least 5, such as {unit = "degC", 40, 42, ...}; SI unit K
---@field conversion (number|string|resinwright.quantity)[] conversion at each, 0 to 1, never falling
---@field rate? (string|resinwright.quantity)[] rate at each; left out, the slope of the conversion; SI unit 1/s

---@class resinwright.call.energy_scan
---@field method "ofw"|"kas"|"starink"|"friedman"|"vyazovkin" as in rw.activation_energy
---@field curves resinwright.call.energy_scan.curves[] whole runs, 2 to 32; 3 for intervals
---@field conversions (number|string)[] conversions asked for, 1 to 1000
---@field level? number|string how often `low` to `high` is meant to hold the truth; default 95 %

---Activation energy at several conversions from whole runs: a list as of rw.activation_energy,
---each with its `conversion`; `warnings`. An energy that changes along the cure tells that one
---rate law won't do.
---@param arguments resinwright.call.energy_scan
---@return table
function rw.energy_scan(arguments) end

---@class resinwright.call.energy_of_times.runs
---@field temperature string|resinwright.quantity steady temperature of the run; SI unit K
---@field time string|resinwright.quantity how long the change took; SI unit s
---@field material? string which material, in any words; materials may differ in speed and share the energy

---@class resinwright.call.energy_of_times
---@field runs resinwright.call.energy_of_times.runs[] one and the same change, timed, 2 to 32 runs
---@field timing? number|string share by which a time may be off; keeps a lucky line from claiming too much; default 0 %
---@field level? number|string how often `low` to `high` is meant to hold the truth; default 95 %

---Activation energy from how long one change took at several temperatures: `energy`, a range; its
---standard error `se`, and `low` to `high` at `level`; `middle`, the temperature where energy and
---`rate` (a rate constant) vary independently, with `log_rate`, `log_rate_se` and `log_factor` as
---logarithms of 1/s; `scatter` of the points in logarithms; `objective` of vyazovkin, n(n-1) where
---all runs agree; `runs`, `freedom`; `warnings`. What is not known is nil.
---@param arguments resinwright.call.energy_of_times
---@return table
function rw.energy_of_times(arguments) end

---@class resinwright.call.time_of_change
---@field time (string|resinwright.quantity)[] moments of the readings, rising; SI unit s
---@field value number[] readings of anything that rises
---@field from number level where the time begins
---@field to number level where it ends, above `from`

---Time from the first passing of a level to the first passing of a higher one, by straight lines
---between the readings.
---@param arguments resinwright.call.time_of_change
---@return resinwright.quantity
function rw.time_of_change(arguments) end

---@class resinwright.call.panels.panels
---@field area string|resinwright.quantity the face worked on, such as "500 cm2"; SI unit m2
---@field bare string|resinwright.quantity mass before any resin; SI unit kg
---@field wet_out string|resinwright.quantity mass with the cloth wetted out, cured; SI unit kg
---@field filled? string|resinwright.quantity mass with the weave filled and coated, cured; SI unit kg
---@field sanded? string|resinwright.quantity mass after sanding, free of dust; SI unit kg

---@class resinwright.call.panels
---@field panels resinwright.call.panels.panels[] test panels, weighed after each stage, 1 to 1000; 3 or more for an interval worth the name
---@field cloth? string|resinwright.quantity dry cloth on them, all layers together; 0 where the bare panels were weighed with it; SI unit kg/m2; default 0 kg/m2
---@field level? number|string how often the interval of a mean is meant to hold the truth; default 95 %

---Resin uptake from test panels: `wet_out`, `filling`, `sanding` and `left` (what stays), each
---with `mean`, `sd` from panel to panel, the mean's t-interval `low` to `high`, `next` (a range: a
---hull taken as one more panel) and `panels`, how many; nil where none was weighed. `uptake` is
---what rw.amounts takes in place of soak, layers and cover; nil where a term rests on fewer than
---two panels, then `why`. `level`; `warnings`. Wear a mask when sanding: the dust harms the lungs.
---@param arguments resinwright.call.panels
---@return table
function rw.panels(arguments) end

---@class resinwright.call.fit_intervals.rows
---@field exact? string|resinwright.quantity when it happened, where that was seen; SI unit s
---@field not_yet? string|resinwright.quantity looked at then, and it had not yet happened; SI unit s
---@field already? string|resinwright.quantity it had happened then; SI unit s
---@field x? number[] covariates, one number for each
---@field weight? number counts as so many such rows; 0 leaves it out; default 1

---@class resinwright.call.fit_intervals
---@field rows resinwright.call.fit_intervals.rows[] what was seen, at least 2 rows
---@field scatter? "lognormal"|"weibull" how ln time scatters: normal, or as a smallest extreme value; default lognormal
---@field covariates? string[] names of the covariates; left out, x1, x2 and so on

---Fits times that are known exactly, or only to lie before, after or between looks: ln time =
---constant + covariates + spread. Where the rows allow no estimate: nil, why, and the key of the
---trouble (all_after, all_before, constant, collinear, threaded, exact, separated, spreadless,
---unsettled).
---@param arguments resinwright.call.fit_intervals
---@return resinwright.intervals_fit|nil, string|nil, string|nil
function rw.fit_intervals(arguments) end

---The names of units and what they mean.
---@return {name: string, meaning: string}[]
function rw.units() end

---@class resinwright.call.nearest
---@field word string a word that may be misspelt
---@field known string[] the words there are

---The known word nearest to a misspelt one, or nil where none is near.
---@param arguments resinwright.call.nearest
---@return string|nil
function rw.nearest(arguments) end

---All functions and types with their fields, kinds, units and descriptions.
---@return table
function rw.describe() end

---What an object of this module is: "quantity", "range", "error" or the name of its type; nil for
---anything else.
---@param x? any anything
---@return string|nil
function rw.kind(x) end

---The number in a unit.
---@param unit string the unit, such as "g/m2"
---@return number
function quantity:to(unit) end

---The number in SI units.
---@return number
function quantity:si() end

---The quantity as text, in the reader's units.
---@param digits? integer significant digits, 1 to 17; default 4
---@return string
function quantity:text(digits) end

---The unit it is printed in.
---@return string
function quantity:unit() end

---The name of its dimension.
---@return string
function quantity:dimension() end

---@class resinwright.history.at
---@field at string when, such as "2026-10-03 15:30"

---Temperature at a time, and humidity where it was read on both sides.
---@param arguments resinwright.history.at
---@return {air: resinwright.quantity, humidity: number|nil}
function history:at(arguments) end

---@class resinwright.history.lag
---@field time_constant string|resinwright.quantity the time after a step of the air in which the body has gone 63 % of the way; about "40 min" for 8 mm strips (common practice, no source); SI unit s
---@field start? string|resinwright.quantity temperature of the body at the beginning; left out: that of the air; SI unit K

---The temperature of a body that follows the air with a delay: wood, hull, resin. Kept within 0.02
---K of the exact solution.
---@param arguments resinwright.history.lag
---@return resinwright.history
function history:lag(arguments) end

---@class resinwright.history.extend
---@field to string how far, at most 400 days after the last reading
---@field how "hold"|"repeat_day" hold: keep the last reading; repeat_day: the last 24 h again and again

---The same history, carried on after its last reading.
---@param arguments resinwright.history.extend
---@return resinwright.history
function history:extend(arguments) end

---@class resinwright.history.warmer
---@field by string|resinwright.quantity how much warmer, such as "3 K"; colder: "-3 K"; SI unit K

---The same history, warmer or colder throughout.
---@param arguments resinwright.history.warmer
---@return resinwright.history
function history:warmer(arguments) end

---@class resinwright.history.extremes
---@field from? string beginning; left out: the first reading
---@field to? string end; left out: the last reading

---Coldest and warmest between two times.
---@param arguments? resinwright.history.extremes
---@return {low: resinwright.quantity, high: resinwright.quantity}
function history:extremes(arguments) end

---First and last time, as texts and in seconds since 1970.
---@return {from: string, to: string, seconds_from: number, seconds_to: number}
function history:span() end

---The points as plain numbers, for charts: seconds since 1970, degC, relative humidity (false
---where it was not read). Between them the temperature is a straight line.
---@return {seconds: number[], celsius: number[], humidity: (number|false)[]}
function history:points() end

---@class resinwright.hull.area
---@field from? string|resinwright.quantity position; left out: the first station; SI unit m
---@field to? string|resinwright.quantity position; left out: the last station; SI unit m

---Area of the skin between two positions, both sides. From girths, evenly spaced and odd in
---number, Simpson's rule; the interval holds the reading of the tape, the shape between the
---stations and the slope along the hull.
---@param arguments? resinwright.hull.area
---@return resinwright.range
function hull:area(arguments) end

---@class resinwright.hull.girth
---@field at string|resinwright.quantity position along the hull; SI unit m

---Girth at a position.
---@param arguments resinwright.hull.girth
---@return resinwright.quantity
function hull:girth(arguments) end

---The greatest girth and where it is.
---@return {at: resinwright.quantity, girth: resinwright.quantity}
function hull:widest() end

---From the first station to the last.
---@return resinwright.quantity
function hull:length() end

---@class resinwright.hull.wider_than
---@field girth string|resinwright.quantity the girth to compare with, such as what a roll covers; SI unit m

---How much of the hull's length has a greater girth, as one stretch from the first such place to
---the last; from and to are nil where nowhere.
---@param arguments resinwright.hull.wider_than
---@return {length: resinwright.quantity, from: resinwright.quantity|nil, to: resinwright.quantity|nil}
function hull:wider_than(arguments) end

---@class resinwright.hull.bands
---@field count integer how many bands, 1 to 200

---The hull cut across into bands of equal area, in the order of the stations.
---@param arguments resinwright.hull.bands
---@return {from: resinwright.quantity, to: resinwright.quantity, area: resinwright.range}[]
function hull:bands(arguments) end

---Positions and girths as plain numbers in m, for charts.
---@return {x: number[], girth: number[]}
function hull:stations() end

---@class resinwright.cloth.thickness
---@field layup? "hand"|"bagged" hand: brush, roller and squeegee; bagged: the same under a vacuum bag; default hand
---@field fibre_share? number|string fibre volume share, in place of that of the lay-up

---Thickness of one layer in resin: areal mass over fibre density and fibre volume share.
---@param arguments? resinwright.cloth.thickness
---@return resinwright.quantity
function cloth:thickness(arguments) end

---@class resinwright.cloth.resin
---@field layup? "hand"|"bagged" hand: brush, roller and squeegee; bagged: the same under a vacuum bag; default hand
---@field resin_density? string|resinwright.quantity density of the mixed resin; SI unit kg/m3; default 1.1 g/cm3

---Resin inside one layer per area. What fills the weave on top is apart, see rw.amounts.
---@param arguments? resinwright.cloth.resin
---@return resinwright.range
function cloth:resin(arguments) end

---The matrices A (N/m), B (N) and D (N m) of lamination theory, by rows in the order x, y, xy; x
---runs along the hull, z from the middle towards the inside.
---@return {A: number[], B: number[], D: number[]}
function laminate:matrices() end

---@class resinwright.laminate.strain
---@field Nx? string|resinwright.quantity pull along, per metre of width; SI unit N/m; default 0 N/m
---@field Ny? string|resinwright.quantity pull across, per metre of length; SI unit N/m; default 0 N/m
---@field Nxy? string|resinwright.quantity shear in the plane, per metre; SI unit N/m; default 0 N/m
---@field Mx? string|resinwright.quantity moment per metre of width (N m/m) that bends along; above 0 it stretches the inside; SI unit N; default 0 N
---@field My? string|resinwright.quantity moment that bends across, likewise; SI unit N; default 0 N
---@field Mxy? string|resinwright.quantity twisting moment, per metre; SI unit N; default 0 N

---Strains of the middle plane (plain numbers) and curvatures (1/m) under loads per width.
---@param arguments? resinwright.laminate.strain
---@return {ex: number, ey: number, gxy: number, kx: number, ky: number, kxy: number}
function laminate:strain(arguments) end

---Engineering constants pulled in the plane and bent (those of one material that bends as much),
---and the stiffness against shear through the thickness, per width (N/m): shear_xz along, shear_yz
---across, shear_both the coupling of the two. skew_x: shear strain over strain along, pulled
---along.
---@return {Ex: resinwright.quantity, Ey: resinwright.quantity, Gxy: resinwright.quantity, nuxy: number, nuyx: number, skew_x: number, skew_y: number, bending_Ex: resinwright.quantity, bending_Ey: resinwright.quantity, bending_Gxy: resinwright.quantity, bending_nuxy: number, bending_nuyx: number, shear_xz: resinwright.quantity, shear_yz: resinwright.quantity, shear_both: resinwright.quantity}
function laminate:constants() end

---@class resinwright.laminate.first_failure
---@field Nx? string|resinwright.quantity pull along, per metre of width; SI unit N/m; default 0 N/m
---@field Ny? string|resinwright.quantity pull across, per metre of length; SI unit N/m; default 0 N/m
---@field Nxy? string|resinwright.quantity shear in the plane, per metre; SI unit N/m; default 0 N/m
---@field Mx? string|resinwright.quantity moment per metre of width (N m/m) that bends along; above 0 it stretches the inside; SI unit N; default 0 N
---@field My? string|resinwright.quantity moment that bends across, likewise; SI unit N; default 0 N
---@field Mxy? string|resinwright.quantity twisting moment, per metre; SI unit N; default 0 N
---@field among? "all"|"wood"|"cloth"|"outside"|"inside" which plies are asked; outside and inside: the cloth before and after all wood and cores; default all
---@field criterion? "max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" max_stress: each stress against its own strength; tsai_wu: quadratic in all of them; max_strain: each strain; tsai_hill: quadratic, with the strength of the sign that acts; default max_stress

---What gives way first, and by what the load must be multiplied for it (math.huge: never; ply,
---face and name are nil then). Stress locked in is left out, see failure. For comparing and shop
---planning only, not an approval: scantling rules, survey and licensed practice decide, and
---strengths are good to a factor of two.
---@param arguments? resinwright.laminate.first_failure
---@return {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string}
function laminate:first_failure(arguments) end

---@class resinwright.laminate.failure.load
---@field Nx? string|resinwright.quantity pull along, per metre of width; SI unit N/m; default 0 N/m
---@field Ny? string|resinwright.quantity pull across, per metre of length; SI unit N/m; default 0 N/m
---@field Nxy? string|resinwright.quantity shear in the plane, per metre; SI unit N/m; default 0 N/m
---@field Mx? string|resinwright.quantity moment per metre of width (N m/m) that bends along; above 0 it stretches the inside; SI unit N; default 0 N
---@field My? string|resinwright.quantity moment that bends across, likewise; SI unit N; default 0 N
---@field Mxy? string|resinwright.quantity twisting moment, per metre; SI unit N; default 0 N

---@class resinwright.laminate.failure.locked_in.expansion
---@field fibre? string|resinwright.quantity of the cloth's fibres along themselves, of all plies; left out, by the tables (expansion), which have none for flax; SI unit 1/K
---@field fibre_across? string|resinwright.quantity across themselves; left out, as along where that is given, else by the tables; SI unit 1/K
---@field resin? string|resinwright.quantity of the resin; left out, that of the tables; SI unit 1/K
---@field wood? string|resinwright.quantity of the wood along its grain; left out, by the tables (expand_along); SI unit 1/K
---@field wood_across? string|resinwright.quantity of the wood across its grain; left out, by the tables (expand_tangential where flat-sawn, else expand_radial), good to 30 %; SI unit 1/K

---@class resinwright.laminate.failure.locked_in
---@field warming? string|resinwright.quantity how much warmer than when the resin went hard; below 0 cooler; SI unit K
---@field expansion? resinwright.laminate.failure.locked_in.expansion by length, per kelvin, in place of those of the tables
---@field cure_shrinkage? number|string of the resin by length from when it no longer flows; a third of that by volume
---@field moisture? number|string of all the wood now, over its dry mass

---@class resinwright.laminate.failure
---@field load resinwright.laminate.failure.load load per width
---@field criterion? "all"|"max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" which to ask; default all
---@field locked_in? resinwright.laminate.failure.locked_in what is locked in: the load grows and this stays

---What gives way first by each criterion asked for, with what is locked in by warmth, cure and
---damp (see locked_in), and when each layer would, as if the others held on (plies, from the
---outside to the inside). For comparing and shop planning only, not an approval: scantling rules,
---survey and licensed practice decide, and strengths are good to a factor of two.
---@param arguments resinwright.laminate.failure
---@return {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string, criterion: string, plies: {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string}[]}[]
function laminate:failure(arguments) end

---@class resinwright.laminate.shear_failure
---@field Qx? string|resinwright.quantity shear force along, per metre of width; SI unit N/m; default 0 N/m
---@field Qy? string|resinwright.quantity shear force across, per metre of length; SI unit N/m; default 0 N/m

---Which layer gives way to shear through the thickness: a core, rolling shear of wood; glue lines
---are left out. For comparing and shop planning only, not an approval: scantling rules, survey and
---licensed practice decide, and strengths are good to a factor of two.
---@param arguments? resinwright.laminate.shear_failure
---@return {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string}
function laminate:shear_failure(arguments) end

---@class resinwright.laminate.wrinkling
---@field core integer which ply is the core, counted from the outside: wood or a core, between two skins
---@field Nx? string|resinwright.quantity pull along, per metre of width; SI unit N/m; default 0 N/m
---@field Ny? string|resinwright.quantity pull across, per metre of length; SI unit N/m; default 0 N/m
---@field Nxy? string|resinwright.quantity shear in the plane, per metre; SI unit N/m; default 0 N/m
---@field Mx? string|resinwright.quantity moment per metre of width (N m/m) that bends along; above 0 it stretches the inside; SI unit N; default 0 N
---@field My? string|resinwright.quantity moment that bends across, likewise; SI unit N; default 0 N
---@field Mxy? string|resinwright.quantity twisting moment, per metre; SI unit N; default 0 N

---When the skin on one side of a core wrinkles: the factor of the load (math.huge: never, the rest
---is nil then), the face, the skin's mean stress and the direction in which it is pushed, from
---along the hull. For comparing and shop planning only, not an approval: scantling rules, survey
---and licensed practice decide, and strengths are good to a factor of two.
---@param arguments resinwright.laminate.wrinkling
---@return {factor: number, face: "outer"|"inner"|nil, stress: resinwright.quantity|nil, direction: resinwright.quantity|nil}
function laminate:wrinkling(arguments) end

---@class resinwright.laminate.hit
---@field criterion? "max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" max_stress: each stress against its own strength; tsai_wu: quadratic in all of them; max_strain: each strain; tsai_hill: quadratic, with the strength of the sign that acts; default max_stress

---The standard case of a hit from outside: moments per width at which something gives way bent
---along (as between ribs), across, and alike both ways (as in the middle of a panel), and the
---energy stored per area in the last of them: a damage index, for comparing schedules only; it
---promises nothing about a rock. For comparing and shop planning only, not an approval: scantling
---rules, survey and licensed practice decide, and strengths are good to a factor of two.
---@param arguments? resinwright.laminate.hit
---@return {along: {moment: resinwright.quantity, ply: integer, face: string, name: string, mode: string}, across: {moment: resinwright.quantity, ply: integer, face: string, name: string, mode: string}, both: {moment: resinwright.quantity, ply: integer, face: string, name: string, mode: string}, index: resinwright.quantity}
function laminate:hit(arguments) end

---@class resinwright.laminate.faired
---@field ply integer which ply was faired, counted from the outside
---@field thickness (string|resinwright.quantity)[] readings of that ply's thickness alone, one for each place; SI unit m
---@field face? "outer"|"inner" from which face it was sanded: plywood's veneers go from there; default outer
---@field limit? number|string least share of the planned stiffness to keep; default 80 %

---Bending stiffness left where one ply was faired, from its thickness at places of a map: worst,
---the place that keeps least, how much is left there along and across, how many places are below
---the limit, and the thickness at which it is just met (nil: the other plies meet it).
---@param arguments resinwright.laminate.faired
---@return {worst: integer, along: number, across: number, below: integer, needed: resinwright.quantity|nil}
function laminate:faired(arguments) end

---@class resinwright.laminate.locked_in.expansion
---@field fibre? string|resinwright.quantity of the cloth's fibres along themselves, of all plies; left out, by the tables (expansion), which have none for flax; SI unit 1/K
---@field fibre_across? string|resinwright.quantity across themselves; left out, as along where that is given, else by the tables; SI unit 1/K
---@field resin? string|resinwright.quantity of the resin; left out, that of the tables; SI unit 1/K
---@field wood? string|resinwright.quantity of the wood along its grain; left out, by the tables (expand_along); SI unit 1/K
---@field wood_across? string|resinwright.quantity of the wood across its grain; left out, by the tables (expand_tangential where flat-sawn, else expand_radial), good to 30 %; SI unit 1/K

---@class resinwright.laminate.locked_in
---@field warming? string|resinwright.quantity how much warmer than when the resin went hard; below 0 cooler; SI unit K
---@field expansion? resinwright.laminate.locked_in.expansion by length, per kelvin, in place of those of the tables
---@field cure_shrinkage? number|string of the resin by length from when it no longer flows; a third of that by volume
---@field moisture? number|string of all the wood now, over its dry mass

---What warming or cooling, cure and damp do to a free, flat laminate: curvature (1/m, above 0 it
---bulges to the inside), strain of the middle plane, and the stress in each layer at its outer and
---inner face, along and across its fibre or grain. Elastic: resin and wood let go of part of it in
---time, so it is an upper bound. Warming takes the expansions of the tables unless others are
---given, and the wood's moisture as it was unless moisture is given: damp wood dries when it is
---warmed, and shrinks by that, mostly more than it grows. Swelling of resin and fibre by damp is
---left out, and so is what a core by its data sheet does.
---@param arguments? resinwright.laminate.locked_in
---@return {curvature: {x: resinwright.quantity, y: resinwright.quantity, xy: resinwright.quantity}, strain: {x: number, y: number, xy: number}, plies: {name: string, ply: integer, veneer: integer|nil, outer: {along: resinwright.quantity, across: resinwright.quantity, shear: resinwright.quantity}, inner: {along: resinwright.quantity, across: resinwright.quantity, shear: resinwright.quantity}}[], warnings: string[]}
function laminate:locked_in(arguments) end

---@class resinwright.laminate.panel.patch
---@field load string|resinwright.quantity whole force on the place, from outside above 0: a rock; from inside below 0: a heel; 80 kg weigh 785 N; SI unit N
---@field size? string|resinwright.quantity side of a square place; SI unit m
---@field diameter? string|resinwright.quantity of a round place, such as a heel, the panel's short side at most; bent as under the square of its area; SI unit m
---@field length? string|resinwright.quantity of an oblong place, along the panel's length; SI unit m
---@field width? string|resinwright.quantity of an oblong place, across; SI unit m
---@field x? string|resinwright.quantity its middle from one end; left out, half the length; SI unit m
---@field y? string|resinwright.quantity its middle from one side; left out, half the width; SI unit m

---@class resinwright.laminate.panel
---@field length string|resinwright.quantity of the panel along the hull; SI unit m
---@field width string|resinwright.quantity across; a tenth to ten times the length; SI unit m
---@field edges? "resting"|"clamped" how all four are held: resting and free to turn, or bonded into something stiff; a real one lies between, so ask for both; default resting
---@field ends? "resting"|"clamped" the two edges that end its length, where held otherwise
---@field sides? "resting"|"clamped" the two along it, likewise
---@field pressure? string|resinwright.quantity even load from outside over all of it; SI unit Pa; default 0 Pa
---@field patch? resinwright.laminate.panel.patch a load on one place of it, beside the pressure
---@field shear? boolean false: shear through the thickness is left out; default true
---@field criterion? "max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" of first failure; default max_stress

---A flat panel of it, held all round, under a load from outside. The side named first runs along
---x. Small deflections; edges don't give.
---@param arguments resinwright.laminate.panel
---@return resinwright.panel
function laminate:panel(arguments) end

---@class resinwright.laminate.strip
---@field span string|resinwright.quantity between the two supports; free length of a cantilever; SI unit m
---@field load? string|resinwright.quantity newtons per metre of the strip's width, across its middle (a cantilever's end); SI unit N/m; default 0 N/m
---@field x? string|resinwright.quantity where that load is, from the first support; SI unit m
---@field patch? string|resinwright.quantity length it is spread over; 0: a line; SI unit m; default 0 m
---@field pressure? string|resinwright.quantity even load over the whole span, beside it; SI unit Pa; default 0 Pa
---@field ends? "resting"|"clamped"|"cantilever" how it is held; a cantilever at its first end only; default resting
---@field wide? boolean true: much wider than its span, so that it cannot curl across; default false
---@field shear? boolean true: with shear through the thickness; default false
---@field places? (string|resinwright.quantity)[] where else to tell deflection and moment, from the first support, 0 to the span; SI unit m
---@field criterion? "max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" of first failure; default max_stress
---@field spread? boolean true: also how well deflection, strain and first failure are known; default false

---A strip along the hull between two supports. Shear is left out unless asked for: a short strip
---bends more, as a warning says. The moment is per width (N), above 0 it stretches the inside;
---outer and inner are the strains of the faces where it is greatest; places: deflection and moment
---at each place asked for. For comparing and shop planning only, not an approval: scantling rules,
---survey and licensed practice decide, and strengths are good to a factor of two.
---@param arguments resinwright.laminate.strip
---@return {deflection: resinwright.quantity, at: resinwright.quantity, shear_share: number, moment: resinwright.quantity, moment_at: resinwright.quantity, surface_strain: number, outer: {x: number, y: number, xy: number}, inner: {x: number, y: number, xy: number}, first_reaction: resinwright.quantity, second_reaction: resinwright.quantity, failure: {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string}, places: {x: resinwright.quantity, deflection: resinwright.quantity, moment: resinwright.quantity}[]|nil, spread: {deflection: resinwright.range, strain: resinwright.range, factor: resinwright.range, other: {share: number, ply: integer, veneer: integer|nil, face: "outer"|"inner", name: string, mode: string}|nil}|nil, warnings: string[]}
function laminate:strip(arguments) end

---@class resinwright.laminate.arch
---@field span string|resinwright.quantity along the chord; SI unit m
---@field rise string|resinwright.quantity of the crown above it, an eighth of the span at most; SI unit m
---@field ends? "pinned"|"fixed" free to turn, or clamped; held apart; default pinned
---@field wide? boolean false: a narrow strip, free to curl across; default true
---@field pressure? string|resinwright.quantity from outside, over the whole span; SI unit Pa; default 0 Pa
---@field crown? string|resinwright.quantity line load at the crown, per metre of width; SI unit N/m; default 0 N/m
---@field criterion? "max_stress"|"tsai_wu"|"max_strain"|"tsai_hill" of first failure; default max_stress
---@field spread? boolean true: also how well deflection, strain and first failure are known; default false

---A strip of a curved side, as a shallow arch that bulges to the outside: deflection of the crown,
---thrust along it (below 0 a pull), moments, what the same strip without rise would deflect
---(flat), and by what the load must be multiplied until the arch snaps through (math.huge: it does
---not). Every give of the ends takes from it. For comparing and shop planning only, not an
---approval: scantling rules, survey and licensed practice decide, and strengths are good to a
---factor of two.
---@param arguments resinwright.laminate.arch
---@return {deflection: resinwright.quantity, flat: resinwright.quantity, thrust: resinwright.quantity, moment: resinwright.quantity, moment_at: resinwright.quantity, crown_moment: resinwright.quantity, end_moment: resinwright.quantity, surface_strain: number, outer: {x: number, y: number, xy: number}, inner: {x: number, y: number, xy: number}, snap: number, failure: {factor: number, ply: integer|nil, veneer: integer|nil, face: "outer"|"inner"|nil, name: string|nil, mode: string}, spread: {deflection: resinwright.range, strain: resinwright.range, factor: resinwright.range, other: {share: number, ply: integer, veneer: integer|nil, face: "outer"|"inner", name: string, mode: string}|nil}|nil, warnings: string[]}
function laminate:arch(arguments) end

---@class resinwright.layups.at
---@field number integer which layup, from 1 to count

---Mass, thickness, bending stiffness (N m) and stiffness in the plane (N/m), resin and cost of one
---layup, and its strengths by their names: moment (N) or pull (N/m) per width at first failure by
---the quadratic criterion of all stresses; a strength is nil where nothing asked can give way. For
---comparing and shop planning only, not an approval: scantling rules, survey and licensed practice
---decide, and strengths are good to a factor of two.
---@param arguments resinwright.layups.at
---@return {number: integer, mass: resinwright.quantity, thickness: resinwright.quantity, bend_along: resinwright.quantity, bend_across: resinwright.quantity, pull_along: resinwright.quantity, pull_across: resinwright.quantity, resinwright.resin: resinwright.quantity, cost: resinwright.quantity, [string]: resinwright.quantity}
function layups:at(arguments) end

---@class resinwright.layups.laminate
---@field number integer which layup, from 1 to count

---One layup as a laminate, to ask it for more: its layers, a panel, what gives way first.
---@param arguments resinwright.layups.laminate
---@return resinwright.laminate
function layups:laminate(arguments) end

---@class resinwright.layups.rank.wishes
---@field measure "mass"|"thickness"|"bend_along"|"bend_across"|"pull_along"|"pull_across"|"resin"|"cost"|"hit"|"hit_skins"|"hit_outside"|"hit_core"|"hit_inside"|"bending_along"|"bending_along_skins"|"bending_along_outside"|"bending_along_core"|"bending_along_inside"|"bending_across"|"bending_across_skins"|"bending_across_outside"|"bending_across_core"|"bending_across_inside"|"tension_along"|"tension_along_skins"|"tension_along_outside"|"tension_along_core"|"tension_along_inside"|"tension_across"|"tension_across_skins"|"tension_across_outside"|"tension_across_core"|"tension_across_inside"|"heel"|"heel_skins"|"heel_outside"|"heel_core"|"heel_inside" what is wished for
---@field want? "small"|"large" left out: small for mass, thickness, resin and cost, large for the rest
---@field weight? number of this wish among the others, above 0; default 1
---@field step? number|string difference that counts as one, as a share of the best of all; left out, from the best to the worst of those compared

---@class resinwright.layups.rank
---@field wishes resinwright.layups.rank.wishes[] 1 to 8 measures
---@field numbers? integer[] layups to compare; left out, all of them
---@field top? integer how many to give; default 10

---Layups by a wish, the best first: behind is the weighted sum of how far each falls behind the
---best of all in each measure, in steps (0: best in all).
---@param arguments resinwright.layups.rank
---@return {number: integer, behind: number}[]
function layups:rank(arguments) end

---@class resinwright.layups.front.wishes
---@field measure "mass"|"thickness"|"bend_along"|"bend_across"|"pull_along"|"pull_across"|"resin"|"cost"|"hit"|"hit_skins"|"hit_outside"|"hit_core"|"hit_inside"|"bending_along"|"bending_along_skins"|"bending_along_outside"|"bending_along_core"|"bending_along_inside"|"bending_across"|"bending_across_skins"|"bending_across_outside"|"bending_across_core"|"bending_across_inside"|"tension_along"|"tension_along_skins"|"tension_along_outside"|"tension_along_core"|"tension_along_inside"|"tension_across"|"tension_across_skins"|"tension_across_outside"|"tension_across_core"|"tension_across_inside"|"heel"|"heel_skins"|"heel_outside"|"heel_core"|"heel_inside" what is wished for
---@field want? "small"|"large" left out: small for mass, thickness, resin and cost, large for the rest
---@field weight? number of this wish among the others, above 0; default 1
---@field step? number|string difference that counts as one, as a share of the best of all; left out, from the best to the worst of those compared

---@class resinwright.layups.front
---@field wishes resinwright.layups.front.wishes[] 1 to 8 measures; weight and step don't matter
---@field numbers? integer[] layups to compare; left out, all of them

---The layups that no other one beats: none is as good in every measure and better in one. From the
---best in the first measure on.
---@param arguments resinwright.layups.front
---@return integer[]
function layups:front(arguments) end

---@class resinwright.layups.stability.wishes
---@field measure "mass"|"thickness"|"bend_along"|"bend_across"|"pull_along"|"pull_across"|"resin"|"cost"|"hit"|"hit_skins"|"hit_outside"|"hit_core"|"hit_inside"|"bending_along"|"bending_along_skins"|"bending_along_outside"|"bending_along_core"|"bending_along_inside"|"bending_across"|"bending_across_skins"|"bending_across_outside"|"bending_across_core"|"bending_across_inside"|"tension_along"|"tension_along_skins"|"tension_along_outside"|"tension_along_core"|"tension_along_inside"|"tension_across"|"tension_across_skins"|"tension_across_outside"|"tension_across_core"|"tension_across_inside"|"heel"|"heel_skins"|"heel_outside"|"heel_core"|"heel_inside" what is wished for
---@field want? "small"|"large" left out: small for mass, thickness, resin and cost, large for the rest
---@field weight? number of this wish among the others, above 0; default 1
---@field step? number|string difference that counts as one, as a share of the best of all; left out, from the best to the worst of those compared

---@class resinwright.layups.stability
---@field numbers integer[] 1 to 1000 layups, such as the first of a ranking
---@field wishes resinwright.layups.stability.wishes[] 1 to 8 measures
---@field wood? number|string standard deviation of the moduli of a core, each core by itself, up to 50 %; default 20 %
---@field resin? number|string standard deviation of the resin in the cloth, all layers alike, up to 50 %; default 15 %
---@field draws? integer random trials, up to 1000000; default 500
---@field seed? integer another number draws other trials; default 1

---How well a ranking holds where wood and resin are not known exactly: for each layup the share of
---the trials in which it comes first, its mean place, its best and its worst. Every trial changes
---all alike, so that only their difference counts.
---@param arguments resinwright.layups.stability
---@return {number: integer, first: number, rank: number, best: number, worst: number}[]
function layups:stability(arguments) end

---@class resinwright.panel.at
---@field x string|resinwright.quantity from one end; SI unit m
---@field y string|resinwright.quantity from one side; SI unit m

---One place of the panel: deflection, strains of the outer and the inner face, moments and shear
---forces per width (N, N/m; shear forces are 0 where shear was left out).
---@param arguments resinwright.panel.at
---@return {x: resinwright.quantity, y: resinwright.quantity, deflection: resinwright.quantity, outer: {x: number, y: number, xy: number}, inner: {x: number, y: number, xy: number}, moment: {x: resinwright.quantity, y: resinwright.quantity, xy: resinwright.quantity}, Qx: resinwright.quantity, Qy: resinwright.quantity}
function panel:at(arguments) end

---How well the answers are known, from the scatter of wood and of cloth: each is stiffer or
---softer, and stronger or weaker, as a whole. The greatest strain of each face (of any direction,
---above 0 stretched) and the factor of the load at first failure come with their ranges; other is
---what else gives way first in some of a thousand trials, the share of all such trials, and what
---it is most often (nil: nothing else ever). Left out: knots and bad wetting, the weakest strip of
---many, edges, and theory itself. For comparing and shop planning only, not an approval: scantling
---rules, survey and licensed practice decide, and strengths are good to a factor of two.
---@return {deflection: resinwright.range, held: resinwright.range, outer_strain: resinwright.range, inner_strain: resinwright.range, factor: resinwright.range, other: {share: number, ply: integer, veneer: integer|nil, face: "outer"|"inner", name: string, mode: string}|nil}
function panel:spread() end

---@class resinwright.law.rate
---@field cure number degree of cure, 0 liquid to 1 fully cured
---@field temperature string|resinwright.quantity temperature of the resin; SI unit K

---Rate of cure.
---@param arguments resinwright.law.rate
---@return resinwright.quantity
function law:rate(arguments) end

---@class resinwright.law.off_ratio
---@field ratio number amine hydrogens per epoxide group; 1 is the right ratio

---The law of a mix off its ratio: the epoxide stops at the ratio, or at 1. resin:off_ratio moves
---the gel and the milestones along as well.
---@param arguments resinwright.law.off_ratio
---@return resinwright.law
function law:off_ratio(arguments) end

---What the law is made of, as rw.law takes it; each constant also as the published factor, which
---rw.law takes in its place.
---@return table
function law:values() end

---@class resinwright.resin.forecast
---@field hull resinwright.history temperature of the hull
---@field laid string when the film is laid
---@field to string how far to look
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 256
---@field seed? integer another number draws other trials; default 1

---When a film reaches each milestone: clock ranges by the milestone's key, the ends 5 and 95 of
---100; `half` has the same with the ends 25 and 75 of 100; `order` lists the keys, `meaning` says
---what each is to the hand, `reached` is the degree of cure at the end. Of what is not reached,
---`needs` tells the steady warmth that does it in that time, and `never` lists what a year at the
---hull's warmest would not bring.
---@param arguments resinwright.resin.forecast
---@return table
function resin:forecast(arguments) end

---@class resinwright.resin.chances
---@field hull resinwright.history temperature of the hull
---@field laid string when the film is laid
---@field at string the time asked for
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 512
---@field seed? integer another number draws other trials; default 1

---Chance that a film has reached each milestone by a time, 0 to 1, by its key.
---@param arguments resinwright.resin.chances
---@return table
function resin:chances(arguments) end

---@class resinwright.resin.cure
---@field hull resinwright.history temperature of the resin
---@field from string when it was mixed
---@field to string how far to follow it
---@field start? number degree of cure it begins with; default 0
---@field tolerance? number error allowed in the degree of cure; default 1e-6

---Degree of cure over time.
---@param arguments resinwright.resin.cure
---@return resinwright.cure
function resin:cure(arguments) end

---@class resinwright.resin.pot.tray
---@field length string|resinwright.quantity inside length of the tray; SI unit m
---@field width string|resinwright.quantity inside width of the tray; SI unit m

---@class resinwright.resin.pot
---@field mass string|resinwright.quantity mass mixed; SI unit kg
---@field cup? string|resinwright.quantity diameter of the mixing cup; 70 mm where neither cup nor tray is given; SI unit m
---@field tray? resinwright.resin.pot.tray the roller tray it is poured into at once
---@field air string|resinwright.quantity temperature of the shop; SI unit K
---@field start? string|resinwright.quantity temperature of the resin when mixed; left out, that of the shop; SI unit K

---What a mixed batch does in its cup or tray: `work_end` too thick to spread, `hot` past 60 degC,
---`gel`, `usable` the sooner of the first two, each a time after mixing or nil where it does not
---come within 24 h; `peak` and `peak_time`; `balance`, how well the heat closes. A hot pot burns
---and smokes: set it outside on the ground.
---@param arguments resinwright.resin.pot
---@return table
function resin:pot(arguments) end

---@class resinwright.resin.glass
---@field cure number degree of cure, 0 liquid to 1 fully cured

---Glass transition at a degree of cure.
---@param arguments resinwright.resin.glass
---@return resinwright.quantity
function resin:glass(arguments) end

---@class resinwright.resin.viscosity
---@field cure number degree of cure, 0 liquid to 1 fully cured
---@field temperature string|resinwright.quantity temperature of the resin; SI unit K

---Viscosity of the mix; nil from gel on.
---@param arguments resinwright.resin.viscosity
---@return resinwright.quantity|nil
function resin:viscosity(arguments) end

---@class resinwright.resin.warmth
---@field milestone "work_end"|"gel"|"recoat_opens"|"blush_past"|"trim_opens"|"trim_closes"|"recoat_closes"|"handle"|"sand"|"service" what is to be reached
---@field within string|resinwright.quantity time allowed; SI unit s

---Least steady temperature at which a milestone is reached in time; nil where 120 degC would not
---do.
---@param arguments resinwright.resin.warmth
---@return resinwright.quantity|nil
function resin:warmth(arguments) end

---@class resinwright.resin.steady
---@field temperature string|resinwright.quantity temperature of the resin all the time; SI unit K
---@field cures? number[] degrees of cure whose times are wanted
---@field times? (string|resinwright.quantity)[] times whose states are wanted, each up to `within`; SI unit s
---@field within? string|resinwright.quantity how far to look; what comes later is never; SI unit s; default 28 d
---@field start? number degree of cure it begins with; default 0

---Cure at a steady temperature: `cures`, a list of { cure, time }, time nil where it is never
---reached; `states`, a list of { time, cure, rate, glass, viscosity }, viscosity nil from gel on;
---the greatest rate `peak_rate` with `peak_cure` and `peak_time`; `half_time`; `reached`, the
---degree of cure at the end.
---@param arguments resinwright.resin.steady
---@return table
function resin:steady(arguments) end

---@class resinwright.resin.ramp
---@field from string|resinwright.quantity temperature it begins with; SI unit K
---@field to string|resinwright.quantity temperature it ends with, above `from`; SI unit K
---@field heating string|resinwright.quantity heating rate, such as "10 K/min"; SI unit K/s
---@field start? number degree of cure it begins with; default 0
---@field count? integer how many points, 2 to 100000; default 200

---Cure under a steady heating: `peak`, the greatest rate, with `temperature`, `cure`, `rate`,
---`time`, nil where the rate is greatest at an end; plain numbers for a chart in lists `celsius`,
---`seconds`, `cure`, `rate` (1/s), `glass_celsius`.
---@param arguments resinwright.resin.ramp
---@return table
function resin:ramp(arguments) end

---@class resinwright.resin.map
---@field from? string|resinwright.quantity coldest; left out, 10 K below the glass transition of the uncured mix; SI unit K
---@field to? string|resinwright.quantity hottest; left out, 20 K above the glass transition of the cured resin; SI unit K
---@field count? integer how many temperatures, 2 to 2000; default 60
---@field within? string|resinwright.quantity how far to look; what comes later is never; SI unit s; default 28 d
---@field share? number|string share of the cure at the end of that time that counts as full, where it comes in the first half of it; default 95 %

---Map of time, temperature and transformation, one steady cure per temperature: lists of plain
---numbers `celsius`, `gel_seconds`, `glass_seconds`, `full_seconds` (math.huge: never), `plateau`,
---`plateau_glass_celsius`; the temperatures `glass_uncured`, `glass_at_gel`, `glass_cured`;
---`nose`, { temperature, time }, where glass comes sooner than just above or below, or nil. The
---heat of the reaction is left out.
---@param arguments? resinwright.resin.map
---@return table
function resin:map(arguments) end

---@class resinwright.resin.fastest
---@field temperature string|resinwright.quantity temperature of the resin; SI unit K

---A bound on how fast the resin can warm itself: no mix of it, at any degree of cure, is faster at
---a temperature than `rate`, nor gains faster above it than with `energy`.
---@param arguments resinwright.resin.fastest
---@return table
function resin:fastest(arguments) end

---@class resinwright.resin.safe_thickness
---@field air string|resinwright.quantity temperature of the shop, and of the resin when poured; SI unit K
---@field form? "on_wood"|"plate"|"rod"|"ball" on_wood: open to the air on one face, on wood or in a mould, fillets too, by their thickness; plate: open on both faces; rod, ball: by their diameter; default on_wood
---@field conductivity? string|resinwright.quantity conductivity of the resin; 0.2 is usual without filler; SI unit W/(m K); default 0.2 W/(m K)
---@field surface? string|resinwright.quantity heat that the air takes off; 8 to 10 W/(m2 K) where it stands still (common practice, no source); SI unit W/(m2 K); default 8 W/(m2 K)

---The greatest thickness that cannot run away in steady air, from a bound: the real limit lies
---higher, since resin is used up. Keep to the low end. Nil and why where anything is safe.
---@param arguments resinwright.resin.safe_thickness
---@return resinwright.range|nil, string|nil
function resin:safe_thickness(arguments) end

---@class resinwright.resin.safe_mass.tray
---@field length string|resinwright.quantity inside length of the tray; SI unit m
---@field width string|resinwright.quantity inside width of the tray; SI unit m

---@class resinwright.resin.safe_mass
---@field air string|resinwright.quantity temperature of the shop, and of the resin when mixed; SI unit K
---@field cup? string|resinwright.quantity diameter of the mixing cup; 70 mm where neither cup nor tray is given; SI unit m
---@field tray? resinwright.resin.safe_mass.tray the roller tray it is poured into at once
---@field surface? string|resinwright.quantity heat that the air takes off; 8 to 10 W/(m2 K) where it stands still (common practice, no source); SI unit W/(m2 K); default 8 W/(m2 K)

---The greatest mass in a cup or tray that cannot run away in steady air, from the same bound. More
---may be mixed where it is spread in time, see pot. Nil and why where any depth is safe.
---@param arguments resinwright.resin.safe_mass
---@return resinwright.range|nil, string|nil
function resin:safe_mass(arguments) end

---@class resinwright.resin.casting.wood
---@field thickness string|resinwright.quantity thickness of the wood; SI unit m
---@field density string|resinwright.quantity density of the wood; SI unit kg/m3
---@field conductivity? string|resinwright.quantity conductivity across the grain; 0.12 for softwood is common practice, no source; SI unit W/(m K); default 0.12 W/(m K)
---@field heat_capacity? string|resinwright.quantity heat capacity of wood as dry as in a shop (from memory); SI unit J/(kg K); default 1.6 kJ/(kg K)
---@field start? string|resinwright.quantity temperature of the wood when poured; left out, that of the air; SI unit K

---@class resinwright.resin.casting
---@field thickness string|resinwright.quantity thickness of the resin; of a fillet, from its face to the corner; SI unit m
---@field air resinwright.history temperature of the air on both sides
---@field poured string when it is poured or spread
---@field to string how far to look
---@field wood? resinwright.resin.casting.wood the wood behind it; left out: none
---@field start? string|resinwright.quantity temperature of the resin when poured; left out, that of the air; SI unit K
---@field cure? number degree of cure when poured; default 0
---@field conductivity? string|resinwright.quantity conductivity of the resin; 0.2 is usual without filler; SI unit W/(m K); default 0.2 W/(m K)
---@field front? string|resinwright.quantity heat that the air takes off the open face; 10 where it stands still (common practice, no source); SI unit W/(m2 K); default 10 W/(m2 K)
---@field back? string|resinwright.quantity the same behind the wood, or under the resin where there is none; 0: tight to heat, or the middle of a piece twice as thick; SI unit W/(m2 K); default 10 W/(m2 K)
---@field times? string[] when to note the profile, in order

---Heat and cure through a casting, fillet or film: `peak`, `peak_depth` below the open face,
---`peak_at`; `work_end_first`, `work_end_last`, `gel_first`, `gel_last`, clock times, nil where
---they do not come; `cure_least`, `cure_greatest` at the end; heat per area `released`, `stored`,
---`lost`, and `balance`, how well they close; `millimetres` below the open face of each place,
---wood's outer side first, and `profile`, a list of { at, celsius, cure } over them, cure false in
---wood.
---@param arguments resinwright.resin.casting
---@return table
function resin:casting(arguments) end

---@class resinwright.resin.softening.earlier
---@field hull resinwright.history temperature of the hull
---@field from? string beginning; left out, the first reading
---@field to? string end; left out, the last reading

---@class resinwright.resin.softening
---@field hull resinwright.history temperature of the hull
---@field from? string beginning; left out, the first reading
---@field to? string end; left out, the last reading
---@field earlier? resinwright.resin.softening.earlier[] what the hull went through before, in order, from the laying of the resin on; what lies between two periods is left out
---@field start? number degree of cure at the very beginning; left out, 0, fresh resin
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 256
---@field seed? integer another number draws other trials; default 1

---How near a hull comes to softening in a period: ranges `cure` and `glass` at its end, `worst`,
---the most that the hull is warmer than its glass transition (above 0: soft), and `soft_for`, how
---long; `worst_at`; `chance` that it softened. How far a cold cure goes and the glass transition
---of the class are drawn too; a measured glass transition overrules them.
---@param arguments resinwright.resin.softening
---@return table
function resin:softening(arguments) end

---@class resinwright.resin.post_cure.place
---@field most string|resinwright.quantity warmest the hull gets there; SI unit K
---@field span string|resinwright.quantity heating and holding in a session, such as "8 h"; SI unit s
---@field rest string|resinwright.quantity temperature before, between and after; SI unit K
---@field sessions? integer how often it is to be had, 1 to 60; default 1
---@field period? string|resinwright.quantity from the start of a session to the next one's; SI unit s; default 1 d
---@field heating? string|resinwright.quantity fastest rise; slow, so that thick parts keep up (common practice, no source); SI unit K/s; default 10 K/h
---@field cooling? string|resinwright.quantity fastest fall; SI unit K/s; default 10 K/h
---@field step? string|resinwright.quantity how often the setting is changed; SI unit s; default 30 min

---@class resinwright.resin.post_cure.earlier
---@field hull resinwright.history temperature of the hull
---@field from? string beginning; left out, the first reading
---@field to? string end; left out, the last reading

---@class resinwright.resin.post_cure
---@field target string|resinwright.quantity glass transition that is wanted; SI unit K
---@field from string start of the first session
---@field place resinwright.resin.post_cure.place what heats the hull
---@field earlier? resinwright.resin.post_cure.earlier[] what the hull went through before, in order, from the laying of the resin on; what lies between two periods is left out
---@field start? number degree of cure at the very beginning; left out, 0, fresh resin
---@field below? string|resinwright.quantity how far the hull stays below its glass transition, for it gives some kelvin before (common practice, no source); SI unit K; default 5 K
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 256
---@field seed? integer another number draws other trials; default 1

---The warmest ramp that keeps a hull below its glass transition and ends when the wanted one is
---reached: `ramp`, a list of { at, temperature }, the same as a `history`; `reached_at`, nil where
---it is not, then `why` says what would do; `most_at` and `hold` at the place's most;
---`soft_start`, time held at rest because the hull was too soft to warm; `unbroken` time there
---that would do; `month`, glass transition after 30 days there; `needed`, least warmth that would
---do. `cure`, `glass`, `worst`, `worst_at`, `soft_for` and `chance` along the ramp as in
---softening. Never with flame or heat gun.
---@param arguments resinwright.resin.post_cure
---@return table
function resin:post_cure(arguments) end

---@class resinwright.resin.coat
---@field hull resinwright.history temperature of the hull
---@field mixed? string when the resin was mixed; left out, when it is laid
---@field laid string when the coat is laid
---@field to string how far to look, past the gel
---@field thickness? string|resinwright.quantity clear wet film; this or `spread` is needed; SI unit m
---@field spread? string|resinwright.quantity the same as mass per area; SI unit kg/m2
---@field slope string|resinwright.quantity slope from level: "90 deg" is upright; SI unit rad
---@field run? string|resinwright.quantity how far its surface may creep down before the gel (common practice, no source); SI unit m; default 50 mm
---@field below? string|resinwright.quantity distance down from the coat's upper edge, where `held` is told (common practice, no source); SI unit m; default 0.3 m
---@field brush_marks? string|resinwright.quantity distance from brush mark to brush mark; a brush leaves 1 to 5 mm (common practice, no source); SI unit m; default 3 mm
---@field tension? string|resinwright.quantity surface tension of the resin (the usual value is from memory); SI unit N/m; default 0.035 N/m
---@field surface? "rigid"|"clean" surface of the bubble: rigid is the slower, and the cautious choice; default rigid
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K

---What becomes of a coat until it gels, as ranges: `fluidity`; `run`, how far it runs; greatest
---wet film `thickness` for the run allowed, and `spread`, the same per area; `held`, what the face
---holds of it; `slope`, the steepest for the run allowed; `marks_left`, share of the brush marks'
---height; `bubble`, radius of the smallest that escapes. What has no end is nil: thickness on the
---level, bubble upright. `gel`, when; `warnings`.
---@param arguments resinwright.resin.coat
---@return table
function resin:coat(arguments) end

---@class resinwright.resin.judge_ratio
---@field ratio number|string|resinwright.quantity|resinwright.range|resinwright.uncertain hardener used over hardener needed: 1 is right, 0.5 is half, as rw.ratio_used gives it
---@field epoxide_groups? number epoxide groups of a resin molecule; default 2
---@field amine_hydrogens? number amine hydrogens of a hardener molecule; default 4
---@field need? string|resinwright.quantity glass transition that service needs; left out, that of the resin's service milestone; SI unit K

---What a mix of some ratio can become: `verdict` and its `meaning`; `chances` of each verdict by
---its key; `gels`, and `gel`, the conversion of epoxide there; `glass`, the highest glass
---transition it can ever have, a range; `need`; `warming_helps`; `reaches`, by milestone; highest
---conversions `epoxide` and `amine`; the ratios `gels_between`, `doubtful_between` and
---`usable_between`, each { from, to }; `ratio`; `warnings`. Keep gloves on when scraping and
---sanding, uncured resin and hardener harm the skin.
---@param arguments resinwright.resin.judge_ratio
---@return table
function resin:judge_ratio(arguments) end

---@class resinwright.resin.off_ratio
---@field ratio number hardener used over hardener needed: 1 is right, 0.5 is half, 0.05 to 5

---The resin that a mix off its ratio makes: for cures, forecasts, pots and coats of it. Its glass
---transition is that of the right mix: ask ratio_glass.
---@param arguments resinwright.resin.off_ratio
---@return resinwright.resin
function resin:off_ratio(arguments) end

---@class resinwright.resin.ratio_glass
---@field ratio number hardener used over hardener needed: 1 is right, 0.5 is half, 0.05 to 5
---@field cure number conversion of the epoxide, 0 to the ratio or to 1

---Glass transition of a mix off its ratio at a conversion of its epoxide.
---@param arguments resinwright.resin.ratio_glass
---@return resinwright.quantity
function resin:ratio_glass(arguments) end

---@class resinwright.resin.ratio_forecast
---@field ratio number hardener used over hardener needed: 1 is right, 0.5 is half, 0.05 to 5
---@field hull resinwright.history temperature of the hull
---@field laid string when the film is laid
---@field to string how far to look
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 256
---@field seed? integer another number draws other trials; default 1

---As forecast, for a film mixed off its ratio; milestones that it never reaches stay out of sight.
---@param arguments resinwright.resin.ratio_forecast
---@return table
function resin:ratio_forecast(arguments) end

---All that the resin is made of: rw.resin makes the same again from it, once rw.law has made its
---`law`.
---@return table
function resin:values() end

---@class resinwright.resin.draws
---@field hull resinwright.history temperature of the hull
---@field laid string when the film is laid
---@field to string how far to look
---@field levels number[] degrees of cure whose times are wanted, rising
---@field viscosity? string|resinwright.quantity the thickness that `thick` waits for; left out, too thick to spread; SI unit Pa s
---@field quantiles? (number|string)[] which quantiles to give in `seconds`
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 1024
---@field seed? integer another number draws other trials; default 1
---@field progress? function called every few hundred trials with how many are done and how many there are; where it returns false the work is stopped

---Many cures, as the resin's rate and energies, the hull's temperature and the viscosity are not
---known exactly: `levels`, a list of { cure, time: a clock range, chance that it is reached,
---seconds: the quantiles asked for, math.huge: not in the time looked at }; `thick`, the same for
---the viscosity; `reached`, a range; `warnings`. Stopped by its progress function: nil and why.
---@param arguments resinwright.resin.draws
---@return table|nil, string|nil
function resin:draws(arguments) end

---@class resinwright.cure.at
---@field at string the time asked for

---State at a time: `cure`, `rate`, `temperature`, `glass` transition.
---@param arguments resinwright.cure.at
---@return table
function cure:at(arguments) end

---@class resinwright.cure.when
---@field cure? number degree of cure, 0 liquid to 1 fully cured
---@field glass_above? string|resinwright.quantity how far its glass transition lies above its temperature; "0 K": it turns to glass; SI unit K
---@field viscosity? string|resinwright.quantity viscosity, such as "8 Pa s"; SI unit Pa s

---Clock time at which one thing first comes: a degree of cure, a glass transition so far above the
---temperature, or a viscosity; nil where it does not come.
---@param arguments? resinwright.cure.when
---@return string|nil
function cure:when(arguments) end

---@class resinwright.cure.fluidity
---@field from? string when it is laid; left out: when it was mixed
---@field to? string end; left out: until the gel
---@field tolerance? number error allowed, as a share of the fluidity; default 1e-6

---How much a coat can still flow, the time integral of 1/viscosity up to its gel: `fluidity`;
---`complete`, false where the cure was not followed to the gel, it then counts to the end.
---@param arguments? resinwright.cure.fluidity
---@return {fluidity: resinwright.quantity, complete: boolean}
function cure:fluidity(arguments) end

---@class resinwright.cure.points
---@field count? integer how many points, 2 to 100000; default 200

---Plain numbers for a chart: lists `seconds`, `cure`, `celsius`, `glass_celsius`.
---@param arguments? resinwright.cure.points
---@return table
function cure:points(arguments) end

---@class resinwright.log.history
---@field of? "air"|"hull" which thermometer; default air
---@field from string beginning
---@field to string end, after the beginning
---@field bridge? string|resinwright.quantity longest time between two readings that a straight line joins, 1 min to 115 d; SI unit s; default 12 h

---The temperatures of the log between two times, or beyond; hours without a reading refuse it by
---name.
---@param arguments resinwright.log.history
---@return resinwright.history
function log:history(arguments) end

---@class resinwright.log.gaps
---@field of? "air"|"hull" which thermometer; default air
---@field from string beginning
---@field to string end, after the beginning
---@field bridge? string|resinwright.quantity longest time between two readings that a straight line joins, 1 min to 115 d; SI unit s; default 12 h

---The hours without a temperature, a list of { from, to }.
---@param arguments resinwright.log.gaps
---@return table
function log:gaps(arguments) end

---@class resinwright.log.span
---@field batch string name of the batch

---The hours for which a batch needs temperatures: { from, to }, mixing to the last look.
---@param arguments resinwright.log.span
---@return table
function log:span(arguments) end

---@class resinwright.log.fit
---@field resin resinwright.resin what is known before: a class, a label, a fit
---@field lag? string|resinwright.quantity how far the hull stays behind the air, where the hull itself was not read; SI unit s; default 0 s
---@field bridge? string|resinwright.quantity longest time between two readings that a straight line joins; SI unit s; default 12 h
---@field suspects? boolean true: take the batches whose ratio the log doubts, to test them against the others
---@field without? string[] names of batches to leave out
---@field together? number share of the milestones' spread that they have in common, 0 to 0.99; default 0.5
---@field scatter? number how far a time scatters from batch to batch and look to look, as a share; default 0.15
---@field scatter_sd? number how unsure that is, of its logarithm; default 0.5
---@field observer_sd? number how far observers differ, as a share; default 0.1
---@field reference? string|resinwright.quantity temperature at which ages count; left out, the mean over the notes; SI unit K

---What the notes of the log tell of a resin: its rate, its energies and when each milestone comes,
---with all spreads, starting from what its class or label says. Few notes leave that nearly as it
---was, many overrule it.
---@param arguments resinwright.log.fit
---@return resinwright.fit
function log:fit(arguments) end

---@class resinwright.fit.limits
---@field of "rate"|"energy"|"scatter"|"age" which quantity, as the properties
---@field milestone? "work_end"|"gel"|"recoat_opens"|"blush_past"|"trim_opens"|"trim_closes"|"recoat_closes"|"handle"|"sand"|"service" of an age; left out, recoat_opens
---@field level? number|string chance that the limits cover, 50 to 99.99 %; default 90 %

---Profile limits { low, high } of a quantity, all else sought anew: to be trusted where notes tell
---of one side only and the ranges of the properties mislead.
---@param arguments resinwright.fit.limits
---@return table
function fit:limits(arguments) end

---@class resinwright.fit.resin
---@field observer? string whose hand judges; left out, nobody in particular

---The fitted resin, for everything that takes one; its spreads are those of the fit.
---@param arguments? resinwright.fit.resin
---@return resinwright.resin
function fit:resin(arguments) end

---@class resinwright.fit.forecast
---@field hull resinwright.history temperature of the hull
---@field laid string when the film is laid
---@field to string how far to look
---@field temperature_sd? string|resinwright.quantity how far off the hull's temperature may be as a whole (standard deviation); SI unit K; default 1 K
---@field draws? integer random trials behind the spread, up to 100000; 0: no interval; default 512
---@field seed? integer another number draws other trials; default 1
---@field observer? string whose hand judges; left out, nobody in particular
---@field next_batch? boolean false: the resin itself, without the scatter of the next batch

---When the next film reaches each milestone, as resin:forecast, with the full spread of the fit:
---what the notes tell of one milestone together with another is kept.
---@param arguments resinwright.fit.forecast
---@return table
function fit:forecast(arguments) end

---@class resinwright.runs_fit.limits
---@field parameter "ln k1"|"E1"|"ln k2"|"E2"|"ln k3"|"E3"|"m"|"n"|"limit"|"C"|"ac0"|"acT"|"ln stiffening.k" one of those that were free
---@field level? number|string how often the interval is meant to hold the truth; default 95 %

---Limits of a parameter from the sum of squares itself, to be trusted where the spread is not:
---`value`, `low`, `high` in the parameter's unit, an end that is none is nil; `unit`; `level`;
---`warnings`.
---@param arguments resinwright.runs_fit.limits
---@return table
function runs_fit:limits(arguments) end

---@class resinwright.runs_fit.cure
---@field temperature? string|resinwright.quantity steady temperature of the resin; or a history; SI unit K
---@field history? resinwright.history temperature of the resin over time, in place of a steady one
---@field from? string moment of mixing, where a history is given
---@field start? number degree of cure then, 0 to below 1; default 0
---@field time (string|resinwright.quantity)[] times since the mixing, in their order; SI unit s

---Degree of cure of the fitted law at times since the mixing, with the spread that the runs leave:
---a list of { time, cure: a range }; `warnings`.
---@param arguments resinwright.runs_fit.cure
---@return table
function runs_fit:cure(arguments) end

---@class resinwright.runs_fit.when
---@field temperature? string|resinwright.quantity steady temperature of the resin; or a history; SI unit K
---@field history? resinwright.history temperature of the resin over time, in place of a steady one
---@field from? string moment of mixing, where a history is given
---@field start? number degree of cure then, 0 to below 1; default 0
---@field cure number degree of cure asked for, above `start` and below 1
---@field within? string|resinwright.quantity how far to look; left out, to the end of the history, or 28 days; SI unit s

---When the fitted law reaches a degree of cure: a time since the mixing at a steady temperature, a
---clock range along a history; nil where it does not come.
---@param arguments resinwright.runs_fit.when
---@return resinwright.range|nil
function runs_fit:when(arguments) end

---@class resinwright.runs_fit.resin.label
---@field pot_life? string|resinwright.quantity pot life, such as "45 min"; SI unit s
---@field pot_mass? string|resinwright.quantity mass that the pot life is given for; SI unit kg; default 100 g
---@field pot_temperature? string|resinwright.quantity temperature that the pot life is given for; SI unit K; default 25 degC
---@field recoat_from? string|resinwright.quantity time after coating from which the next coat may go on; SI unit s
---@field recoat_to? string|resinwright.quantity time after coating until which it bonds without sanding; SI unit s
---@field recoat_temperature? string|resinwright.quantity temperature that the recoat times are given for; needed with them; SI unit K
---@field hardener? number|string|resinwright.quantity mass of hardener per mass of resin: 100:44 by weight is 0.44
---@field density? string|resinwright.quantity density of the mix; SI unit kg/m3

---@class resinwright.runs_fit.resin.glass
---@field uncured? string|resinwright.quantity glass transition of the fresh mix, Tg0; SI unit K
---@field cured? string|resinwright.quantity glass transition fully cured; SI unit K
---@field lambda? number bend of the curve between, above 0 to 1

---@class resinwright.runs_fit.resin.flow
---@field viscosity? string|resinwright.quantity of the fresh mix at the reference temperature; SI unit Pa s
---@field energy? string|resinwright.quantity how much warmth thins it, such as "48 kJ/mol"; SI unit J/mol
---@field reference? string|resinwright.quantity temperature that the viscosity is given for; SI unit K
---@field gel? number degree of cure at gel
---@field C1? number exponent of the rise towards the gel
---@field C2? number how the exponent grows with the degree of cure
---@field work_viscosity? string|resinwright.quantity too thick to spread from there on; SI unit Pa s
---@field work_sd? number standard deviation of the logarithm of that, 0 to 3

---@class resinwright.runs_fit.resin.thresholds
---@field work_end? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is too thick to spread and wet out cloth
---@field gel? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is gelled: no longer flows
---@field recoat_opens? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is firm: the next coat no longer shifts the cloth
---@field blush_past? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is past most of the harm that damp air does to the surface
---@field trim_opens? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is leathery: the cloth cuts clean without dragging
---@field trim_closes? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is too hard to cut with a knife
---@field recoat_closes? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is a thumbnail leaves no mark: from now on sand first
---@field handle? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is strong enough to turn the hull over
---@field sand? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is sands to powder
---@field service? number|string|resinwright.quantity|resinwright.range|resinwright.uncertain degree of cure when it is hard enough to varnish, load and launch

---@class resinwright.runs_fit.resin
---@field class string name of the resin class in the material tables, such as "slow-polyetheramine"
---@field label? resinwright.runs_fit.resin.label what the label says; left out, the class stands for itself
---@field glass? resinwright.runs_fit.resin.glass glass transition in place of the class's own
---@field flow? resinwright.runs_fit.resin.flow viscosity and gel in place of the class's own
---@field thresholds? resinwright.runs_fit.resin.thresholds degrees of cure at the milestones in place of the class's own
---@field heat? string|resinwright.quantity of the full reaction, per mass of mix; SI unit J/kg
---@field heat_capacity? string|resinwright.quantity of the mix; SI unit J/(kg K)
---@field density? string|resinwright.quantity of the mix; SI unit kg/m3
---@field hardener? number|string|resinwright.quantity mass of hardener per mass of resin
---@field rate_sd? number standard deviation of the logarithm of the rate, 0 to 2
---@field energy_sd? string|resinwright.quantity standard deviation of the activation energies together; SI unit J/mol

---A resin of a class with the fitted law in place of the class's own. Its spread stays that of the
---class unless `rate_sd` and `energy_sd` are given: runs of one batch do not tell how batches
---differ.
---@param arguments resinwright.runs_fit.resin
---@return resinwright.resin
function runs_fit:resin(arguments) end

---@class resinwright.intervals_fit.quantile
---@field share number|string share of the events that have happened by then
---@field x? number[] covariates, as many as the fit has

---When a share of the events has happened: `time`, a range made on the logarithm, where the spread
---is nearer to even; `log_seconds` and its standard error `log_se`.
---@param arguments resinwright.intervals_fit.quantile
---@return table
function intervals_fit:quantile(arguments) end

---@class resinwright.intervals_fit.limits
---@field coefficient? string name of a coefficient
---@field share? number|string or of a time: the share that has happened by then
---@field x? number[] for a time: covariates, as many as the fit has
---@field level? number|string how often the interval is meant to hold the truth; default 95 %

---Limits from the likelihood itself, which need no even spread: `low` and `high` of a coefficient
---as numbers, of a time as quantities, nil where there is none; `level`; `warnings`.
---@param arguments? resinwright.intervals_fit.limits
---@return table
function intervals_fit:limits(arguments) end

return rw
