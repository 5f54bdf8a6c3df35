"""The spans, heights, sizes and spacings that the command line answers, gathered at one door."""

from deckplan.engineering.answers import Answer, Capacity
from deckplan.engineering.beams import beam_span, tributary_width
from deckplan.engineering.columns import height_cap, post_capacity, post_height, post_utilisation
from deckplan.engineering.concrete import Footing, footing_size
from deckplan.engineering.joists import AreaLoads, joist_overhang, joist_span
from deckplan.engineering.prescriptive import ledger_placement, ledger_spacing, printed_post_height

__all__ = [
    "Answer",
    "AreaLoads",
    "Capacity",
    "Footing",
    "beam_span",
    "footing_size",
    "height_cap",
    "joist_overhang",
    "joist_span",
    "ledger_placement",
    "ledger_spacing",
    "post_capacity",
    "post_height",
    "post_utilisation",
    "printed_post_height",
    "tributary_width",
]
