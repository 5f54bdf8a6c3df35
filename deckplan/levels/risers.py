"""Splitting a rise into equal risers, and saying why some rises cannot be split."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short
from deckplan.verdict import SAME, Source, Step, Verdict

ARITHMETIC = Source("Arithmetic", "equal parts of a whole", "derived")


@dataclass(frozen=True, slots=True)
class RiserSplit:
    """A rise split into equal risers.

    risers: how many; riser [in]: one of them, exact; marks [in]: heights on the story pole from the lower
    surface, one a riser, the last is the rise; frame [in]: height of a step frame or first stringer riser
    under boards; nearest [in]: the nearest rises that can be split, empty where this one can; reason: why,
    in one sentence.
    """

    rise: float
    risers: int
    riser: float
    verdict: Verdict
    marks: tuple[float, ...]
    frame: float
    nearest: tuple[float, ...]
    reason: str
    steps: tuple[Step, ...]


def count_risers(rise: float, riser_max: float) -> int:
    """Return the fewest equal risers: rise [in] over the largest riser [in], rounded up; at least one.

    A rise that is a whole number of largest risers, but for the noise of float sums, takes just that many.

    >>> count_risers(102.5, 7.75)
    14
    """
    return max(1, math.ceil(rise / riser_max - SAME * max(1.0, rise / riser_max)))


def risers_in_words(risers: int, riser: float, units: Units = "us") -> str:
    """Say how a flight is split; one that goes the wrong way, since its landing lies higher, says so.

    >>> risers_in_words(4, 6.375), risers_in_words(1, 1.5), risers_in_words(1, -2.5)
    ('4 risers of 6 3/8"', '1 riser of 1 1/2"', '2 1/2" up, not down')
    """
    if riser < 0:
        return f"{format_short(-riser * risers, units)} up, not down"
    return f"{'1 riser' if risers == 1 else f'{risers} risers'} of {format_short(riser, units)}"


def nearest_rises(rise: float, riser_max: float, riser_min: float) -> tuple[float, ...]:
    """Return the nearest rises [in], below and above, that split into risers within both limits [in].

    A rise of n risers lies between n times the least and n times the largest; what lies between two such
    ranges cannot be split. Level (0) is not named. Empty where the rise itself can be split.

    >>> nearest_rises(7.875, 7.75, 4.0)
    (7.75, 8.0)
    """
    near = SAME * max(1.0, rise)
    risers = count_risers(rise, riser_max) if rise > 0 else 1
    if risers * riser_min - near <= rise <= risers * riser_max + near and rise > 0:
        return ()
    below = (risers - 1) * riser_max
    above = risers * riser_min
    return tuple(height for height in (below, above) if height > 0)


def _said(height: float, below: bool, units: Units) -> str:
    """Write a nearest height so that what is written can be split: rounded away from what cannot."""
    step = 1 / 16 if units == "us" else 0.5 / 25.4
    count = math.floor(height / step + 1e-6) if below else math.ceil(height / step - 1e-6)
    return format_short(count * step, units)


def _reason(
    split: tuple[float, int, float], profile: Profile, nearest: tuple[float, ...], units: Units
) -> str:
    rise, risers, riser = split
    most = profile.riser_max
    if rise <= 0:
        return "there is no way down: the upper surface is not above the lower one"
    if not nearest:
        fewer = (
            f"{risers - 1} would be {format_short(rise / (risers - 1), units)} each, over"
            if risers > 1
            else ""
        )
        one = "one riser is within"
        many = f"{risers} equal risers" if risers > 1 else "one riser"
        limit = f"{format_short(most.value, units)} ({most.source})"
        text = f"{many} of {format_short(riser, units)}: {fewer or one} the {limit}"
        if profile.riser_min is None and riser < 4:
            return (
                text + "; no minimum is stated here, yet risers under 4 in are easily missed (IBC 1011.5.2)"
            )
        return text
    least = profile.riser_min
    heights = " and ".join(_said(height, height < rise, units) for height in nearest)
    small = f"{risers} {'riser is' if risers == 1 else 'risers are'} {format_short(riser, units)}"
    under = f"under the {format_short(least.value, units)} of {least.source}" if least else ""
    large = ""
    if risers > 1:
        over = format_short(rise / (risers - 1), units)
        large = (
            f"{risers - 1} of {over} would be over the {format_short(most.value, units)} of {most.source}, "
        )
    lead = f"{format_short(rise, units)} cannot be split"
    return f"{lead}: {large}{small}, {under}; nearest heights that can: {heights}"


def split_rise(rise: float, profile: Profile, board: float = 0.0, units: Units = "us") -> RiserSplit:
    """Split a rise [in], finished surface to finished surface, into the fewest equal risers.

    board [in]: thickness of the boards on the steps; units: how the reason writes its lengths.

    n = rise / largest riser, rounded up; riser = rise / n, kept exact.

    Source: trade literature (102.5 in, largest 7.75: 14 risers of 7-5/16).

    >>> from deckplan.rules import load_profile
    >>> split = split_rise(102.5, load_profile("irc-2021"))
    >>> split.risers, round(split.riser, 4)
    (14, 7.3214)
    """
    most, least = profile.riser_max, profile.riser_min
    risers = count_risers(rise, most.value) if rise > 0 else 1
    riser = rise / risers
    nearest = nearest_rises(rise, most.value, least.value if least else 0.0)
    verdict = Verdict.FAIL if nearest or rise <= 0 else Verdict.PASS
    steps = riser_steps(rise, risers, profile)
    if board:
        numbers = f"{riser:.6g} - {board:.6g}"
        under = Source("Common practice", "step frame under boards", "common practice")
        steps = (
            *steps,
            Step("h", "height of a step frame", "R - board", numbers, riser - board, "in", under),
        )
    return RiserSplit(
        rise=rise,
        risers=risers,
        riser=riser,
        verdict=verdict,
        marks=tuple(rise * count / risers for count in range(1, risers + 1)),
        frame=riser - board,
        nearest=nearest,
        reason=_reason((rise, risers, riser), profile, nearest, units),
        steps=steps,
    )


def riser_steps(rise: float, risers: int, profile: Profile, why: str = "") -> tuple[Step, ...]:
    """Return the sum behind a count of risers and one riser [in]; why: what asks for more risers than the rise does."""
    most = profile.riser_max
    share = f"{rise:.6g} / {most.value:.6g} = {rise / most.value:.4f}, rounded up"
    fewest = count_risers(rise, most.value) if rise > 0 else 1
    more = f" ({fewest} would do; {why})" if why and risers > fewest else ""
    return (
        Step("n", f"risers{more}", "rise / largest riser, rounded up", share, risers, "", most.source),
        Step("R", "riser", "rise / n", f"{rise:.6g} / {risers}", rise / risers, "in", ARITHMETIC),
    )
