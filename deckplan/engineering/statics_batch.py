"""Many beams at once: the same pattern envelope as `statics`, as arrays, for searches over framings.

All beams of a batch have the same number of supports; lengths and loads differ. Uniform dead and live load over
the whole length, live patterned by span and overhang. Sagging peaks are exact (parabolas between the zeros of the
units' moments).
Source: three-moment equation. Lengths [in], line loads [lb/in], moments [lb in].
"""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
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
    spans: Numbers, left: Numbers, right: Numbers, dead: Numbers, live: Numbers, *, chunk: int = 8192
) -> BatchAnalysis:
    """Analyse a batch of beams of constant stiffness under uniform dead and patterned uniform live load.

    spans [in]: (beams, spans); left, right [in]: overhangs; dead, live [lb/in]: one figure a beam; chunk: how
    many beams one thread takes at a time.
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
    starts = range(0, beams, chunk)

    def work(at: int) -> tuple[Numbers, ...]:
        return _chunk(spans[at : at + chunk].T, *(each[at : at + chunk] for each in singles))

    if len(starts) > 1:  # numpy lets go of the interpreter while it computes: threads share the chunks
        with ThreadPoolExecutor(min(len(starts), os.cpu_count() or 1)) as pool:
            parts = list(pool.map(work, starts))
    else:
        parts = [work(at) for at in starts]
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

    Within the span, other units' moments are straight lines with at most one zero, the span's own a parabola
    with at most two; the peak lies at a zero, an end, or the top of the parabola of one pattern between zeros.
    """
    start, slope = units[:, span], slopes[:, span]
    own = span + 1
    with np.errstate(divide="ignore", invalid="ignore"):
        zeros = np.nan_to_num(-start / slope, nan=0.0, posinf=0.0, neginf=0.0)
        lean = slope[own] + length / 2
        width = np.sqrt(np.maximum(lean**2 + 2 * start[own], 0))
        zeros[own] = lean - width
        stops = np.concatenate([zeros, (lean + width)[None], np.zeros_like(length)[None], length[None]])
    stops = np.sort(np.clip(stops, 0, length), axis=0)
    middle = (stops[:-1] + stops[1:]) / 2
    c0, c1, c2 = np.empty_like(middle), np.empty_like(middle), np.empty_like(middle)
    c0[:] = dead * start.sum(axis=0)
    c1[:] = dead * (slope.sum(axis=0) + length / 2)
    c2[:] = dead / -2
    value, spare = np.empty_like(middle), np.empty_like(middle)
    for unit in range(units.shape[0]):  # in place: this loop is where the time goes
        steepness = slope[unit] + length / 2 if unit == own else slope[unit]
        np.multiply(middle, steepness, out=value)
        value += start[unit]
        if unit == own:
            value -= np.multiply(middle, middle, out=spare) / 2
        np.multiply(value > 0, live, out=value)
        c0 += np.multiply(value, start[unit], out=spare)
        c1 += np.multiply(value, steepness, out=spare)
        if unit == own:
            c2 -= np.multiply(value, 0.5, out=spare)
    with np.errstate(divide="ignore", invalid="ignore"):
        top = np.where(c2 < 0, -c1 / (2 * c2), 0.0)
    top = np.minimum(np.maximum(top, stops[:-1]), stops[1:])
    best = np.maximum(_parabola(c0, c1, c2, top), _parabola(c0, c1, c2, stops[:-1])).max(axis=0)
    at_end = _parabola(c0[-1], c1[-1], c2[-1], stops[-1])
    result: Numbers = np.maximum(best, at_end)
    return result


def _parabola(c0: Numbers, c1: Numbers, c2: Numbers, x: Numbers) -> Numbers:
    value: Numbers = c2 * x
    value += c1
    value *= x
    value += c0
    return value
