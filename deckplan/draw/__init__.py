"""Drawings: views turn a study into a scene, painters turn a scene into a picture.

Views: plan_view (framing), footing_view, section_view, side_view, site_view, guard_view, levels_view,
flight_view. Painters: paint_svg (a string), paint_matplotlib (the only module that imports matplotlib).
"""
