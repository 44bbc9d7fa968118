"""Block shear of glue-joint coupons: strength and wood failure.

A coupon speaks for its glue line alone. No published minimum by species was
found: what counts as enough is the shop's or its design approval's to set.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Final

from records.engineering.validity import at_least, not_negative, positive, within

CLEAR_WOOD_SHARE: Final = 0.90


@dataclass(frozen=True, slots=True)
class CouponMean:
    """Results of coupons that speak for the same mix.

    Attributes
    ----------
    count : int
        Number of coupons [-].
    mean : float
        Arithmetic mean [unit of result].
    lowest : float
        Lowest single result [unit of result].
    standard_deviation : float or None
        Sample standard deviation; None with one coupon [unit of result].
    """

    count: int
    mean: float
    lowest: float
    standard_deviation: float | None


@dataclass(frozen=True, slots=True)
class ShopRule:
    """A minimum that a shop sets itself for want of a published one.

    Attributes
    ----------
    minimum_mpa : float
        Lowest shear strength to accept [MPa].
    basis : str
        Where the figure comes from, for print beside it [-].
    """

    minimum_mpa: float
    basis: str


def shear_strength(load_n: float, area_mm2: float) -> float:
    """Return the shear strength of a block that was loaded until it failed.

    Parameters
    ----------
    load_n : float
        Largest load [N].
    area_mm2 : float
        Glued area as measured on this block, not the nominal [mm2].

    Returns
    -------
    float
        Shear strength [MPa].

    Raises
    ------
    ValueError
        If the load is negative or the area not above zero.

    References
    ----------
    ASTM D905: largest load over glued area; nominal 2 in by 1.5 in (from memory).

    Examples
    --------
    6000 lbf on 3 in2 is 2000 psi (computed):

    >>> shear_strength(6000 * 4.4482216152605, 3 * 25.4**2)
    13.790
    """
    load = not_negative("largest load", load_n, "N")
    return load / positive("glued area", area_mm2, "mm2")


def wood_failure(failed_in_wood_mm2: float, area_mm2: float) -> float:
    """Return the share of a broken glue line that failed in the wood.

    Parameters
    ----------
    failed_in_wood_mm2 : float
        Area covered by torn wood fibre, 0 to the glued area [mm2].
    area_mm2 : float
        Glued area as measured on this block [mm2].

    Returns
    -------
    float
        Wood failure, 0 to 100 [%].

    Raises
    ------
    ValueError
        If the glued area is not above zero, or the torn area is not within it.

    References
    ----------
    ASTM D5266 estimates the same share by eye (title seen, text not).

    Examples
    --------
    >>> wood_failure(1548.4, 1935.5)
    80.0
    """
    area = positive("glued area", area_mm2, "mm2")
    torn = within("area failed in wood", failed_in_wood_mm2, 0, area, "mm2")
    return 100 * torn / area


def mean_shear_strength(strengths_mpa: Sequence[float]) -> CouponMean:
    """Return mean, lowest and scatter of coupons' shear strengths.

    Parameters
    ----------
    strengths_mpa : Sequence[float]
        Shear strength of each coupon, 0 or more [MPa].

    Returns
    -------
    CouponMean
        Mean, lowest and standard deviation [MPa], count [-].

    Raises
    ------
    ValueError
        If there is no coupon or a strength is negative or not finite.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.1 and 1.3.5.6 (section
    numbers from memory).

    Examples
    --------
    >>> mean_shear_strength([13.790, 19.305, 20.684]).mean
    17.926
    """
    return _mean([not_negative("shear strength", s, "MPa") for s in strengths_mpa])


def mean_wood_failure(failures_pct: Sequence[float]) -> CouponMean:
    """Return mean, lowest and scatter of coupons' wood failure.

    Parameters
    ----------
    failures_pct : Sequence[float]
        Wood failure of each coupon, 0 to 100 [%].

    Returns
    -------
    CouponMean
        Mean, lowest and standard deviation [%], count [-].

    Raises
    ------
    ValueError
        If there is no coupon or a share is outside 0 to 100 %.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.1 and 1.3.5.6 (section
    numbers from memory).

    Examples
    --------
    >>> mean_wood_failure([75, 80, 100]).mean
    85.0
    """
    return _mean([within("wood failure", f, 0, 100, "%") for f in failures_pct])


def shop_rule_minimum(clear_wood_shear_mpa: float) -> ShopRule:
    """Return 90 % of the clear wood's shear strength: a shop rule.

    Parameters
    ----------
    clear_wood_shear_mpa : float
        Shear parallel to grain of the species at 12 % moisture content [MPa].

    Returns
    -------
    ShopRule
        Lowest shear strength to accept [MPa] and the words for its basis [-].

    Raises
    ------
    ValueError
        If the strength is not above zero.

    References
    ----------
    Shop rule, no published minimum found. Clear-wood shear: Wood Handbook,
    FPL-GTR-190 (2010), Table 5-3a. ANSI A190.1 is said to use the same share
    (from memory).

    Examples
    --------
    Sugar maple, 16.1 MPa:

    >>> shop_rule_minimum(16.1).minimum_mpa
    14.5
    """
    clear = positive("clear-wood shear strength", clear_wood_shear_mpa, "MPa")
    return ShopRule(
        minimum_mpa=CLEAR_WOOD_SHARE * clear,
        basis=f"shop rule: {100 * CLEAR_WOOD_SHARE:.0f} % of clear-wood shear strength",
    )


def _mean(results: Sequence[float]) -> CouponMean:
    at_least("coupons", results, 1)
    return CouponMean(
        count=len(results),
        mean=fmean(results),
        lowest=min(results),
        standard_deviation=stdev(results) if len(results) > 1 else None,
    )
