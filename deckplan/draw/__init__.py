"""Drawings: views turn a study into a scene, painters turn a scene into a picture.

`deckplan.draw.drawings` lists every view and gives the whole set; each view is a function of the module of its name:
`plan_view` (framing), `footing_view`, `treatment_view`, `board_view`, `room_view` (furniture), `path_view` (load
path), `guard_view`, `site_view`, `section_view`, `side_view`, `levels_view`, `flight_view`, `connection_view`.
Painters: `paint_svg` (a string), `paint_matplotlib` (the only module that imports matplotlib). Tests and workbooks read
scenes, not pixels.
"""
