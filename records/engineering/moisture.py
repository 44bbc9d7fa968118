"""Moisture content of wood, and the air that it comes to rest in."""

from collections.abc import Sequence
from typing import NamedTuple

from records.engineering.validity import (
    at_least,
    finite,
    not_negative,
    positive,
    spelled,
    within,
)

_HUMIDITY_PCT = (5.0, 95.0)
_TEMPERATURE_F = (30.0, 270.0)
_TEMPERATURE_C = ((30.0 - 32) / 1.8, (270.0 - 32) / 1.8)


class _Sorption(NamedTuple):
    W: tuple[float, float, float]
    K: tuple[float, float, float]
    K1: tuple[float, float, float]
    K2: tuple[float, float, float]


_CELSIUS = _Sorption(
    W=(349.0, 1.29, 0.0135),
    K=(0.805, 0.000736, -0.00000273),
    K1=(6.27, -0.00938, -0.000303),
    K2=(1.91, 0.0407, -0.000293),
)
_FAHRENHEIT = _Sorption(
    W=(330.0, 0.452, 0.00415),
    K=(0.791, 0.000463, -0.000000844),
    K1=(6.34, 0.000775, -0.0000935),
    K2=(1.09, 0.0284, -0.0000904),
)


def moisture_content(wet_mass_g: float, dry_mass_g: float) -> float:
    """Find the moisture content from the mass before and after oven-drying.

    Parameters
    ----------
    wet_mass_g : float
        Mass as received [g].
    dry_mass_g : float
        Mass after drying at 103 degC to constant mass [g].

    Returns
    -------
    float
        Moisture content on the dry mass; it may exceed 100 [%].

    Raises
    ------
    ValueError
        If the dry mass is not above zero or the wet mass is below it.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-2; EN 13183-1:2002.

    Examples
    --------
    >>> moisture_content(1100, 1000)
    10.0
    """
    dry = positive("oven-dry mass", dry_mass_g, "g")
    wet = finite("mass before drying", wet_mass_g)
    if wet < dry:
        raise ValueError(
            f"mass before drying {spelled(wet, 'g')} is below the oven-dry mass "
            f"{spelled(dry, 'g')}; check that they are not swapped"
        )
    return 100 * (wet - dry) / dry


def equilibrium_content(temperature_c: float, humidity_pct: float) -> float:
    """Find the moisture content at which wood comes to rest, in the Celsius form.

    Real wood differs by species and history: treat it as good to about 1 %.

    Parameters
    ----------
    temperature_c : float
        Temperature of the air, -1.1 to 132.2 (30 to 270 degF) [degC].
    humidity_pct : float
        Relative humidity, 5 to 95 [%].

    Returns
    -------
    float
        Equilibrium moisture content [%].

    Raises
    ------
    ValueError
        If temperature or humidity is outside the range of Table 4-2.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-5 and Table 4-2 (read in transcription).

    Examples
    --------
    >>> equilibrium_content(21.1, 50)
    9.2
    """
    celsius = within("temperature", temperature_c, *_TEMPERATURE_C, "degC")
    return _equilibrium(_CELSIUS, celsius, humidity_pct)


def equilibrium_content_fahrenheit(temperature_f: float, humidity_pct: float) -> float:
    """Find the moisture content at which wood comes to rest, in the Fahrenheit form.

    Parameters
    ----------
    temperature_f : float
        Temperature of the air, 30 to 270 [degF].
    humidity_pct : float
        Relative humidity, 5 to 95 [%].

    Returns
    -------
    float
        Equilibrium moisture content, within 0.011 of the Celsius form [%].

    Raises
    ------
    ValueError
        If temperature or humidity is outside the range of Table 4-2.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-5 and Table 4-2 (read in transcription).

    Examples
    --------
    >>> equilibrium_content_fahrenheit(70, 50)
    9.2
    """
    fahrenheit = within("temperature", temperature_f, *_TEMPERATURE_F, "degF")
    return _equilibrium(_FAHRENHEIT, fahrenheit, humidity_pct)


def humidity_holding(moisture_pct: float, temperature_c: float) -> float:
    """Find the relative humidity that holds wood at a moisture content.

    Parameters
    ----------
    moisture_pct : float
        Moisture content to hold [%].
    temperature_c : float
        Temperature of the air, -1.1 to 132.2 (30 to 270 degF) [degC].

    Returns
    -------
    float
        Relative humidity, 5 to 95 [%].

    Raises
    ------
    ValueError
        If the temperature is outside the range of Table 4-2, or no humidity from 5
        to 95 % holds that content.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-5, solved by bisection: it rises with
    humidity at every temperature of its range.

    Examples
    --------
    >>> humidity_holding(9.2, 21.1)
    49.8
    """
    low, high = _HUMIDITY_PCT
    driest, wettest = (equilibrium_content(temperature_c, h) for h in (low, high))
    at = f"moisture content at {spelled(temperature_c, 'degC')}"
    target = within(at, moisture_pct, driest, wettest, "%")
    while low < (middle := (low + high) / 2) < high:
        if equilibrium_content(temperature_c, middle) < target:
            low = middle
        else:
            high = middle
    return high


def moisture_spread(contents_pct: Sequence[float]) -> float:
    """Find how far the moisture contents in a stack lie apart.

    Parameters
    ----------
    contents_pct : Sequence[float]
        Moisture content of each board or lamination [%].

    Returns
    -------
    float
        Highest less lowest; 0 for a single one [%].

    Raises
    ------
    ValueError
        If there is none, or one is negative or not finite.

    References
    ----------
    Range of a sample, ISO 3534-1:2006, 1.10 (from memory). A spread of at most 2 or
    3 % in one stack is asked for in texts of the trade; the limit is the shop's.

    Examples
    --------
    >>> moisture_spread([8.5, 9.1, 10.0])
    1.5
    """
    at_least("moisture contents", contents_pct, 1)
    contents = [not_negative("moisture content", c, "%") for c in contents_pct]
    return max(contents) - min(contents)


def _equilibrium(form: _Sorption, temperature: float, humidity_pct: float) -> float:
    h = within("relative humidity", humidity_pct, *_HUMIDITY_PCT, "%") / 100
    W, K, K1, K2 = (a + b * temperature + c * temperature**2 for a, b, c in form)
    first = K * h / (1 - K * h)
    hydrates = K1 * K * h + K1 * K2 * (K * h) ** 2
    return 1800 / W * (first + (hydrates + K1 * K2 * (K * h) ** 2) / (1 + hydrates))
