"""National-scale volume and biomass equations: pure functions in the report's own units, forms and symbols.

Source of every function here: [westfall2024], "Model forms" and "Examples of Tree-Level Calculations".
"""

from __future__ import annotations

import math

K_FT2_PER_IN2 = math.pi / 576  # area of a circle, ft2 per square inch of diameter
_STEPS = 200


def tree_total(
    model: int,
    dbh_in: float,
    height_ft: float,
    a: float,
    b: float,
    c: float,
    b1: float = 0.0,
    k_in: float = 9.0,
    wood_density: float = 1.0,
) -> float:
    """A whole-tree quantity, y, by one of the report's model forms.

    model : int            Form: 1, 2 (segmented at k_in), 4 or 5. Form 3 has no spruce row.
    dbh_in : float         Diameter outside bark at breast height, D. [in]
    height_ft : float      Total height, unbroken, H. [ft]
    a, b, c, b1 : float    Coefficients of the row; b1 in forms 2 and 4 only.
    k_in : float           Where form 2 changes slope, k: 9 softwoods, 11 hardwoods. [in]
    wood_density : float   Specific gravity of the wood, WDSG; form 5 only.
    Returns the quantity in the unit of its table: S1 to S3 [ft3], S6, S7 and S9 [dry lb].
    Valid for D >= 1 in.  Error: table S13, by species.  Source: [westfall2024] model forms 1, 2, 4, 5.
    Raises ValueError for another form.

    >>> round(tree_total(2, 20, 110, .001929099661, 2.162413104203, .985444005253, 1.690400253097), 9)
    88.452275544
    """
    if model == 2 and dbh_in >= k_in:
        return float(a * k_in ** (b - b1) * dbh_in**b1 * height_ft**c)
    simple = float(a * dbh_in**b * height_ft**c)
    if model in (1, 2):
        return simple
    if model == 4:
        return simple * math.exp(-b1 * dbh_in)
    if model == 5:
        return simple * wood_density
    raise ValueError(f"model form {model} is not one of 1, 2, 4, 5")


def share_below(height_ft: float, total_ft: float, alpha: float, beta: float) -> float:
    """Share of a tree's volume that lies below a height, R: tables S4 (outside bark) and S5 (inside bark).

    height_ft : float    Height above ground, h, 0 to total_ft. [ft]
    total_ft : float     Total height, H. [ft]
    Returns R, 0 at the ground and 1 at the tip.  Source: [westfall2024] model form 6.

    >>> round(share_below(1, 110, 2.220714200464, .952218706779), 12)
    0.024198309503
    """
    return float((1 - (1 - height_ft / total_ft) ** alpha) ** beta)


def diameter_in(height_ft: float, total_ft: float, volume_ft3: float, alpha: float, beta: float) -> float:
    """Diameter at a height, d: equation 7 before it is solved for the height.

    height_ft : float     Height above ground, h, over 0 and up to total_ft. [ft]
    total_ft : float      Total height, H. [ft]
    volume_ft3 : float    Stem volume that alpha and beta share out: S3 with S4, S1 with S5. [ft3]
    Returns d on the bark for S3 and S4. [in]  Infinite at h = 0; understates butt flare below about 2 ft.
    Source: [westfall2024] eq. 7.  Differs: pi / 576 in full where the report prints 0.005454154.
    """
    left = 1 - height_ft / total_ft
    if left <= 0:
        return 0.0
    if height_ft <= 0:
        return math.inf
    slope = alpha * beta * left ** (alpha - 1) * (1 - left**alpha) ** (beta - 1)
    return math.sqrt(volume_ft3 / (K_FT2_PER_IN2 * total_ft) * slope)


def height_to_top_ft(top_in: float, total_ft: float, volume_ft3: float, alpha: float, beta: float) -> float:
    """Height at which a stem has tapered to a top diameter: equation 7 solved, to 1e-10 ft.

    top_in : float    Diameter wanted, d, 0 or more. [in]  The others as in `diameter_in`.
    Returns the height above ground [ft]; 0 when the stem is thinner than that at 0.001 ft already.
    Valid for alpha > 1 and 0 < beta <= 1 (every published row): the diameter falls all the way up, one root.
    Source: [westfall2024] eq. 7, "solved iteratively".  Differs: solved to the end; the report stops 2e-5 to 4e-5 ft
    short.
    """
    low, high = 1e-3, total_ft
    if top_in <= 0:
        return total_ft
    if diameter_in(low, total_ft, volume_ft3, alpha, beta) <= top_in:
        return 0.0
    wanted = top_in * top_in * K_FT2_PER_IN2 * total_ft / volume_ft3
    height = total_ft / 2
    for _ in range(_STEPS):
        left: float = 1 - height / total_ft
        rest = 1 - left**alpha
        section = alpha * beta * left ** (alpha - 1) * rest ** (beta - 1)
        if section > wanted:
            low = height
        else:
            high = height
        slope = -section / total_ft * ((alpha - 1) / left + (1 - beta) * alpha * left ** (alpha - 1) / rest)
        step = (section - wanted) / slope
        guess = height - step
        if not low < guess < high:
            guess = (low + high) / 2
        if abs(guess - height) < 1e-10:
            return float(guess)
        height = guess
    return height


def branches_left(height_ft: float, actual_ft: float, crown_ratio: float) -> float:
    """Share of the branches that a broken top leaves on the tree, BranchRem.

    height_ft : float      Height the tree had unbroken, H. [ft]
    actual_ft : float      Height of the break, AH. [ft]
    crown_ratio : float    Share of H that carried live crown, CRH, over 0 to 1.
    Returns 0 to 1: 0 when the break is below the crown.  Source: [westfall2024] examples 3 and 4.

    >>> round(branches_left(65, 59, .364615384615), 9)
    0.746835443
    """
    base_ft = height_ft * (1 - crown_ratio)
    return min(1.0, max(0.0, (actual_ft - base_ft) / (height_ft * crown_ratio)))
