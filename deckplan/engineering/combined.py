"""Bending together with a force along the member."""

from __future__ import annotations

from deckplan.errors import RangeError


def tension_and_bending(ft: float, Ft: float, fb: float, Fb_star: float, Fb_double: float) -> float:
    """Return the larger use [1] of a member in tension and bending; over 1 fails.

    ft [psi]; Ft [psi]: Ft'; fb [psi]; Fb_star [psi]: Fb with all factors but C_L; Fb_double [psi]: Fb with all
    factors but C_V (C_L counts). ft/Ft' + fb/Fb*, and (fb - ft)/Fb** on the compression edge.

    Source: NDS 2018 Equations 3.9-1 and 3.9-2.
    """
    return max(ft / Ft + fb / Fb_star, (fb - ft) / Fb_double)


def compression_and_bending(
    fc: float,
    Fc: float,
    FcE1: float,
    fb1: float,
    Fb1: float,
    *,
    fb2: float = 0.0,
    Fb2: float = 1.0,
    FcE2: float = float("inf"),
    FbE: float = float("inf"),
) -> float:
    """Return the use [1] of a member in compression and bending about one or two axes; over 1 fails.

    fc [psi]; Fc [psi]: Fc' with C_P; FcE1 [psi]: buckling stress in the plane of the edgewise bending; fb1 [psi];
    Fb1 [psi]: edgewise, with C_L; fb2, Fb2, FcE2 [psi]: flatwise; FbE [psi]: of lateral buckling.
    (fc/Fc')2 + fb1/(Fb1' (1 - fc/FcE1)) + fb2/(Fb2' (1 - fc/FcE2 - (fb1/FbE)2)).
    Raises RangeError where a buckling stress is reached. Source: NDS 2018 Equations 3.9-3 and 3.9-4.
    """
    left1, left2 = 1 - fc / FcE1, 1 - fc / FcE2 - (fb1 / FbE) ** 2
    if left1 <= 0 or left2 <= 0:
        raise RangeError("compression and bending reach a buckling stress of the member (NDS 3.9.2)")
    return (fc / Fc) ** 2 + fb1 / (Fb1 * left1) + fb2 / (Fb2 * left2)
