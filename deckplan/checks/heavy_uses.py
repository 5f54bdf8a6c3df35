"""Words of a level's use that name what an area load does not stand for: water, vehicles, buildings, stone, crowds.

Whole words only (common practice): a "poolside" or "shedding" names neither a pool nor a shed. What a level merely lies
by ("lounge by the pool", "pool view") is not on it; that is asked about in a note.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from deckplan.plan.model import Platform
from deckplan.verdict import Check, Source, Step, Verdict, at_most, outside

ENGINEER = Source("Common practice", "outside the deck tables: a licensed engineer", "common practice")
WATER_WEIGHT = 62.4
"""Weight of fresh water [lb/cu ft]. Source: physics, at 60 °F or so."""
CROWD_LOAD = 100.0
"""Live load of places of assembly, dance floors and stands [psf]. Source: ASCE 7-16 Table 4.3-1 (from memory)."""
CROWDS = Source("ASCE 7-16", "Table 4.3-1: dance floors, stands, assembly", "from memory")
WEIGHT = Source("Physics", "62.4 lb/cu ft of water", "derived")


def _words(*words: str) -> re.Pattern[str]:
    return re.compile(rf"\b({'|'.join(words)})\b", re.IGNORECASE)


BY = re.compile(
    r"\b(by|beside|near|next to|a?round|at|over|above|overlooking|facing|watching|towards?|to|from|off|no|without)"
    r"( (the|a|an|our|its|any)( [\w-]+)?)? ?$",
    re.IGNORECASE,
)
"""Words before a thing that say that it stands elsewhere. Source: common practice."""
OF_IT = re.compile(
    r"^[ -]?(views?|side|tables?|deck|access|house|path|way|rooms?|doors?|towels?|mats?|chairs?|gates?)\b",
    re.IGNORECASE,
)
"""Words behind a thing that make something else of it: a pool table, a pond view. Source: common practice."""
OF_A_CROWD = re.compile(r"^[ -]?(views?|side|lights?|lanterns?|walls?)\b", re.IGNORECASE)
"""The same behind a crowd, which does stand on a "party deck". Source: common practice."""

WATER = _words(
    r"((swimming|paddling|wading|plunge|lap|splash|dipping)[ -]?)?pools?",
    r"((fish|koi|lily)[ -]?)?ponds?|aquari(um|a)s?|fountains?|water[ -]?features?|cisterns?",
    r"(?<!propane )(?<!gas )((fish|rain|water|plunge|soaking|dipping|koi) ?)?tanks?|(rain|water)[ -]?(barrel|butt)s?",
    r"bathtubs?|whirl[ -]?pools?|swim[ -]?spas?|onsens?|o?furos?",
    r"(?<!bird[ -])(?<!sun[ -])((hot|cold|ice|foot|soaking|outdoor) )?(baths?|soaks?(?! (up|in the sun)\b)|plunges?)",
    r"(?<!sun[ -])(?<!forest )(bathing|soaking)(?! (suits?|tubs?|up|in the sun)\b)|(?<!after )(?<!before )swimming",
)
"""What holds water. Bathrooms, birdbaths, sunbathing, a carpool and a propane tank hold none to speak of."""
VEHICLE = _words(
    r"cars?|carports?|vehicles?|parking|garages?|driveways?|trucks?|vans?|campers?",
    r"boats?|trailers?|tractors?|motor ?(bike|cycle)s?|golf carts?",
)
BUILDING = _words(
    r"(green|play|summer|glass|tree|bath|pool)[ -]?houses?|conservator(y|ies)",
    r"sheds?|saunas?|cabins?|huts?|cabanas?|workshops?|kennels?|(chicken|hen) (coop|house)s?",
)
STANDS = _words(
    r"(stone|brick|masonry|concrete)( \w+)?|(pizza|bread|clay) ?ovens?|fireplaces?|outdoor kitchens?",
    r"pianos?|statues?|sculptures?|generators?|boilers?|heat pumps?|weights|gyms?",
    r"(fire)?wood (stack|store)s?|log (stack|store)s?|climbing (walls?|frames?)",
)
CROWD = _words(
    r"danc(e|es|ers|ing)( floors?)?|discos?|ballrooms?|stages?|bleachers?|grand ?stands?|concerts?|theatres?",
    r"(?<!third )part(y|ies)|partying|weddings?|receptions?|banquets?|ceremon(y|ies)|festivals?|venues?|events",
    r"assembl(y|ies)|crowds?|audiences?|spectators?|congregations?|auditoriums?",
)
PULLS = _words(r"swings?|hammocks?|trampolines?|climbing frames?|slides?|zip ?lines?|(shade )?sails?")
"""What pulls or bounces: it has no weight to speak of, and a note asks about it."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of thing: its rule, the words that name it, why the area load does not stand for it."""

    rule: str
    words: re.Pattern[str]
    why: str


KINDS = (
    Kind("water on the deck", WATER, "{water}; an engineer designs the frame, posts and footings under it"),
    Kind(
        "vehicle on the deck",
        VEHICLE,
        "a wheel's load is not in these rules: 2,000 lb on 20 sq in for a car (IRC Table R301.5 note, from memory)",
    ),
    Kind(
        "building on the deck",
        BUILDING,
        "its weight, and snow, wind and uplift on it, are not in these rules",
    ),
    Kind(
        "heavy thing on the deck",
        STANDS,
        "it presses on its few square feet with more than {live:g} psf; its weight and place are for an engineer",
    ),
)


def carried(pattern: re.Pattern[str], use: str, of_it: re.Pattern[str] = OF_IT) -> str:
    """Return the words of a use that name a thing which stands on the level, nothing where none does.

    of_it: words behind it that make something else of it.

    >>> carried(WATER, "small pond"), carried(WATER, "lounge by the pool"), carried(WATER, "pool view")
    ('pond', '', '')
    """
    for found in pattern.finditer(use):
        if not BY.search(use[: found.start()]) and not of_it.search(use[found.end() :]):
            return found[0].lower()
    return ""


def check_heavy_uses(mark: str, platform: Platform, live: float) -> list[Check]:
    """Say of each heavy thing that a level's use names why no rule here covers it; live [psf]: its live load."""
    found: list[Check] = []
    deep = 12 * live / WATER_WEIGHT
    water = f"{live:g} psf is {deep:.1f} in of water and nobody in it"
    for kind in KINDS:
        if word := carried(kind.words, platform.use):
            reason = (
                f'"{platform.name}" carries {_with_article(word)}: {kind.why.format(water=water, live=live)}'
            )
            found.append(outside(mark, kind.rule, ENGINEER, reason))
    if word := carried(CROWD, platform.use, OF_A_CROWD):
        found.append(_crowd(mark, platform.name, word, live))
    return found


def _crowd(mark: str, name: str, word: str, live: float) -> Check:
    line = Step("L", f"live load of {word}", "", "", CROWD_LOAD, "psf", CROWDS)
    check = at_most(mark, "crowd on the deck", CROWDS, CROWD_LOAD, live, "psf", (line,))
    if check.verdict is Verdict.PASS:
        return check
    thing = _with_article(word)
    reason = (
        f'"{name}" is for {thing}: people in step or packed want {CROWD_LOAD:g} psf, it has {live:g} psf; '
        f"raise site.live_load, and let an engineer judge its sway"
    )
    return outside(
        mark, "crowd on the deck", CROWDS, reason, demand=CROWD_LOAD, capacity=live, unit="psf", steps=(line,)
    )


def _with_article(word: str) -> str:
    many = word.endswith(("s", "ing"))
    return word if many else f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def use_questions(platform: Platform) -> list[str]:
    """Return what to ask about things that a level's name or use speaks of without saying that it carries them."""
    name, found = platform.name, []
    for kind in KINDS:
        word = kind.words.search(f"{name}. {platform.use}")
        if word and not carried(kind.words, platform.use):
            thing = _with_article(word[0].lower())
            found.append(f'"{name}": does it carry {thing}? Say so in its use: that lies outside the rules')
    if word := PULLS.search(platform.use):
        thing = _with_article(word[0].lower())
        found.append(
            f'"{name}": {thing} pulls at posts and rails and shakes them: go by the maker\'s instructions, and fix '
            f"nothing of it to what carries the deck that is not designed for it"
        )
    return found
