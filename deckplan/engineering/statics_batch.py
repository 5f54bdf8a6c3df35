"""Many beams at once: the same pattern envelope as `statics`, as arrays, for searches over framings.

All beams of a batch have the same number of supports; lengths and loads differ. Uniform dead and live load over
the whole length, live patterned by span and overhang. Sagging peaks are exact (parabolas between the zeros of the
units' moments).
Source: three-moment equation. Lengths [in], line loads [lb/in], moments [lb in].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from deckplan.errors import RangeError

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class BatchAnalysis:
    """Envelopes of a batch of beams; the first axis counts the beams.

    reactions_largest, reactions_least, reactions_full, support_moments: by support; span_moments: sagging peak
    by span; shear: largest at a face.
    """

    reactions_largest: Numbers
    reactions_least: Numbers
    reactions_full: Numbers
    support_moments: Numbers
    span_moments: Numbers
    shear: Numbers


def analyse_beams(
    spans: Numbers, left: Numbers, right: Numbers, dead: Numbers, live: Numbers, *, chunk: int = 4096
) -> BatchAnalysis:
    """Analyse a batch of beams of constant stiffness under uniform dead and patterned uniform live load.

    spans [in]: (beams, spans); left, right [in]: overhangs; dead, live [lb/in]: one figure a beam; chunk: how
    many beams go through the processor's cache together.
    Raises RangeError for shapes that do not fit, spans not over 0 or negative loads.

    >>> one = analyse_beams(np.array([[120.0, 120.0]]), *(np.array([x]) for x in (0.0, 0.0, 10.0, 0.0)))
    >>> one.reactions_full.round().tolist()
    [[450.0, 1500.0, 450.0]]
    """
    spans = np.ascontiguousarray(spans, dtype=np.float64)
    beams = spans.shape[0]
    singles = [
        np.broadcast_to(np.asarray(each, dtype=np.float64), (beams,)) for each in (left, right, dead, live)
    ]
    if (
        spans.ndim != 2
        or spans.shape[1] < 1
        or np.any(spans <= 0)
        or any(np.any(each < 0) for each in singles)
    ):
        raise RangeError("a batch needs spans over 0 in two dimensions, overhangs and loads not under 0")
    parts = [
        _chunk(spans[at : at + chunk].T, *(each[at : at + chunk] for each in singles))
        for at in range(0, beams, chunk)
    ]
    joined = [np.concatenate(column, axis=-1) for column in zip(*parts, strict=True)]
    return BatchAnalysis(*(each.T if each.ndim == 2 else each for each in joined))


def _chunk(L: Numbers, left: Numbers, right: Numbers, dead: Numbers, live: Numbers) -> tuple[Numbers, ...]:
    """One chunk; the first axis counts spans or supports, the last the beams."""
    count = L.shape[0]
    units = _unit_moments(L, left, right)  # (units, supports, beams)
    steady = units.sum(axis=0)
    hogging = dead * steady + live * np.minimum(units, 0).sum(axis=0)
    slopes = (units[:, 1:] - units[:, :-1]) / L  # shear of each span from its end moments
    near, far = slopes.copy(), slopes.copy()
    for span in range(count):
        near[span + 1, span] += L[span] / 2
        far[span + 1, span] -= L[span] / 2
    reactions = np.zeros_like(units)
    reactions[:, :-1] += near
    reactions[:, 1:] -= far
    reactions[0, 0] += left
    reactions[-1, -1] += right
    full = reactions.sum(axis=0)
    most = dead * full + live * np.maximum(reactions, 0).sum(axis=0)
    least = dead * full + live * np.minimum(reactions, 0).sum(axis=0)
    shear = (dead + live) * np.maximum(left, right)
    for faces in (near, far):
        total = dead * faces.sum(axis=0)
        high = total + live * np.maximum(faces, 0).sum(axis=0)
        low = total + live * np.minimum(faces, 0).sum(axis=0)
        shear = np.maximum(shear, np.maximum(high, -low).max(axis=0))
    sagging = np.stack([_sagging(units, slopes, span, L[span], dead, live) for span in range(count)])
    return most, least, (dead + live) * full, hogging, sagging, shear


def _unit_moments(L: Numbers, left: Numbers, right: Numbers) -> Numbers:
    """Support moments under 1 lb/in on the left overhang, on each span, on the right overhang."""
    count, beams = L.shape
    inner = count - 1
    moments = np.zeros((count + 2, count + 1, beams))
    moments[0, 0], moments[-1, -1] = -(left**2) / 2, -(right**2) / 2
    if inner == 0:
        return moments
    loads = np.zeros((count + 2, inner, beams))
    loads[0, 0] -= moments[0, 0] * L[0]
    loads[-1, -1] -= moments[-1, -1] * L[-1]
    cubes = L**3 / 4
    for span in range(count):
        if span > 0:
            loads[span + 1, span - 1] -= cubes[span]
        if span < inner:
            loads[span + 1, span] -= cubes[span]
    diagonal = 2 * (L[:-1] + L[1:])
    for row in range(1, inner):  # elimination of the three-moment equations, all units and beams together
        ratio = L[row] / diagonal[row - 1]
        diagonal[row] -= ratio * L[row]
        loads[:, row] -= ratio * loads[:, row - 1]
    moments[:, inner] = loads[:, inner - 1] / diagonal[inner - 1]
    for row in range(inner - 2, -1, -1):
        moments[:, row + 1] = (loads[:, row] - L[row + 1] * moments[:, row + 2]) / diagonal[row]
    return moments


def _sagging(
    units: Numbers, slopes: Numbers, span: int, length: Numbers, dead: Numbers, live: Numbers
) -> Numbers:
    """Sagging peak of one span, exactly: over all patterns, at every place.

    Within the span other units' moments are straight lines, the span's own is a parabola. Going from left to
    right, a line joins the envelope or leaves it where it is zero, the parabola joins and leaves at its two
    zeros: between these events the envelope is one parabola c0 + c1 x + c2 x2.
    """
    start, slope = units[:, span], slopes[:, span]
    own, count = span + 1, units.shape[0]
    lean = slope[own] + length / 2
    width = np.sqrt(np.maximum(lean**2 + 2 * start[own], 0))
    with np.errstate(divide="ignore", invalid="ignore"):
        zeros = -start / slope
    turns = (zeros > 0) & (zeros < length)  # not for lines that keep their sign, nor for zeros at a support
    # the events: place, and what they add to c0, c1, c2; the last row is the parabola's second zero
    shape = (count + 1, len(length))
    at, gain0, gain1, gain2 = np.zeros(shape), np.zeros(shape), np.zeros(shape), np.zeros(shape)
    np.fmin(np.fmax(zeros, 0), length, out=at[:-1])
    begins = start > 0
    joins = live * (turns * (1.0 - 2.0 * begins))
    np.multiply(joins, start, out=gain0[:-1])
    np.multiply(joins, slope, out=gain1[:-1])
    at[own], at[-1] = np.clip(lean - width, 0, length), np.clip(lean + width, 0, length)
    gain0[own], gain1[own], gain2[own] = live * start[own], live * lean, live / -2
    gain0[-1], gain1[-1], gain2[-1] = -gain0[own], -gain1[own], -gain2[own]
    first = (turns & begins) | (~turns & (start + slope * (length / 2) > 0))
    first[own] = False
    order = np.argsort(at, axis=0)
    order *= len(length)
    order += np.arange(len(length))
    at, gain0, gain1, gain2 = (each.ravel().take(order) for each in (at, gain0, gain1, gain2))
    c0 = dead * start.sum(axis=0) + live * (first * start).sum(axis=0)
    c1 = dead * (slope.sum(axis=0) + length / 2) + live * (first * slope).sum(axis=0)
    c2 = dead / -2
    best = _peak(c0, c1, c2, np.zeros_like(length), at[0])
    for event in range(count + 1):
        c0, c1, c2 = c0 + gain0[event], c1 + gain1[event], c2 + gain2[event]
        best = np.maximum(best, _peak(c0, c1, c2, at[event], at[event + 1] if event < count else length))
    return np.maximum(best, _parabola(c0, c1, c2, length))


def _peak(c0: Numbers, c1: Numbers, c2: Numbers, low: Numbers, high: Numbers) -> Numbers:
    """Largest value of a parabola that opens downwards, or a line, between two places."""
    with np.errstate(divide="ignore", invalid="ignore"):
        top = c1 / (-2 * c2)  # a level line has no top (0/0): fmax then takes the lower place
    return _parabola(c0, c1, c2, np.fmin(np.fmax(top, low), high))


def _parabola(c0: Numbers, c1: Numbers, c2: Numbers, x: Numbers) -> Numbers:
    value: Numbers = c2 * x
    value += c1
    value *= x
    value += c0
    return value
