"""A good part file, and what can be wrong with it: old text, new text, what is said of it."""

GOOD = """name = "test"
[states.shop]
temperature = "20 degC"
[states.hot]
temperature = "70 degC"
pressure = "8 MPa"

[press.liner]
hole = "16 H7"
shaft = "16.060/16.050"
shaft_bore = "12"
hub_outside = "32"
hub_material = "6061-T6"
shaft_material = "316"

[running.plunger]
hole = "liner.shaft_bore"
shaft = "11.9 -0.01/-0.02"
"""

BAD = [
    ('"16 H7"', '"16 H77"', 'part.toml:9: press.liner.hole: "16 H77": no grade 77; grades run from 01 to 18'),
    ('"16 H7"', '"16 h7"', "part.toml:9: press.liner.hole: \"16 h7\": h7 is a class of shafts, a hole is due"),
    ('"16 H7"', '"16 Q7"', "no tolerance class Q7"),
    ('"16.060/16.050"', '"16.050/16.060"', "part.toml:10: press.liner.shaft: \"16.050/16.060\": the limits are swapped"),
    ('"16 H7"', '"16,0 H7"', "decimal comma"),
    ('"6061-T6"', '"6061"', 'part.toml:13: press.liner.hub_material: "6061": unknown metal; did you mean "6061-T6"?'),
    ('hub_outside = "32"', 'hub_outsid = "32"', 'part.toml:12: press.liner.hub_outsid: unknown key; did you mean "hub_outside"?'),
    ('hub_outside = "32"\n', "", "part.toml:8: press.liner.hub_outside: missing: outside of the hub"),
    ('shaft_bore = "12"', 'shaft_bore = "17"', "part.toml:11: press.liner.shaft_bore: \"17 mm\": must stay below shaft"),
    ('hub_outside = "32"', 'hub_outside = "15"', "must stay below hub_outside"),
    ('"16 H7"', '"25 H7"', "can't belong together"),
    ('"8 MPa"', '"8"', "part.toml:6: states.hot.pressure: \"8\": a pressure needs a unit"),
    ('"8 MPa"', "8", "a pressure needs a unit"),
    ('"8 MPa"', '"8 N"', "a pressure is due, N is a force"),
    ('"8 MPa"', '"-8 MPa"', "must be at least 0 MPa"),
    ('"70 degC"', '"70 K to 80 K"', "a state is a point"),
    ('"70 degC"', '"nan degC"', "not a finite number"),
    ('"70 degC"', '"-300 degC"', "must be at least -273.15 degC"),
    ('"70 degC"', '"?"', "not decided yet; write a number; fits window sweeps it all the same"),
    ('"test"', '" "', "part.toml:1: name: nothing stands here"),
    ('pressure = "8', 'presure = "8', 'states.hot.presure: unknown key; did you mean "pressure"?'),
    ("[press.liner]", "[pres.liner]", 'pres: unknown kind of feature; did you mean "press"?'),
    ('name = "test"', 'nmae = "test"', 'part.toml:1: nmae: unknown key; did you mean "name"?'),
    ('name = "test"', "name = 7", "part.toml:1: name: \"7\": text is due"),
    ('name = "test"', 'units = "cm"', "must be mm or in"),
    ('"liner.shaft_bore"', '"linr.shaft_bore"', 'part.toml:17: running.plunger.hole: "linr.shaft_bore": no feature linr in this part'),
    ('"16 H7"', '"sizes.bore"', 'press.liner.hole: "sizes.bore": a shared size stands by its name alone; write "bore"'),
    ('"liner.shaft_bore"', '"liner.bore"', "liner has no surface bore"),
    ("[states.hot]", "[states.as_made]", "a reserved name"),
    ("[running.plunger]", "[running.liner]", "this name stands twice"),
    ("[running.plunger]", "[running.hot]", "this name stands twice"),
    ("[states.hot]", "[states.hot.plungr]\ntemperature = \"3 degC\"\n[states.hot]", "no such feature"),
    ('hole = "16 H7"', 'hole = "16 H7"\nhole = "16 H6"', "part.toml:10: not TOML: a key or table stands twice"),
    ('hole = "16 H7"', 'hole = "16 H7', "part.toml:9: not TOML:"),
    ('hole = "16 H7"', "hole = ", "part.toml:9: not TOML:"),
    ("[press.liner]", "[press]\nliner = 3\n[other]", "a table is due"),
    ('temperature = "70 degC"\n', "", "states.hot.temperature: missing: how warm the parts are"),
    ('temperature = "70 degC"', 'hub_temperature = "70 degC"', "states.hot.shaft_temperature: missing beside"),
    ('temperature = "70 degC"', 'temperature = "70 degC"\nhub_temperature = "70 degC"', "either temperature, or"),
]
