"""Correction of a pin meter's reading by the tables the shop enters for it.

Correct for temperature first, then for species: the species table of a meter holds
for the temperature at which it was calibrated.
"""

from collections.abc import Sequence

from records.engineering.interpolation import interpolate
from records.engineering.validity import at_least, finite, increasing


def species_corrected(
    reading_pct: float, points: Sequence[tuple[float, float]]
) -> float:
    """Correct a reading by the table for one species.

    Parameters
    ----------
    reading_pct : float
        What the meter shows [%].
    points : Sequence[tuple[float, float]]
        Reading and corrected content, readings rising [%, %].

    Returns
    -------
    float
        Corrected moisture content [%].

    Raises
    ------
    ValueError
        If the reading is outside the table.

    References
    ----------
    ASTM D4444-13(2018), species correction of hand-held meters (from memory); the
    table itself is the meter maker's.

    Examples
    --------
    >>> species_corrected(10, [(8, 7.2), (12, 10.8)])
    9.0
    """
    return interpolate(points, reading_pct, "meter reading", "%")


def temperature_corrected(
    reading_pct: float,
    temperature_c: float,
    table: Sequence[tuple[float, Sequence[tuple[float, float]]]],
) -> float:
    """Correct a reading by the table for the temperature of the wood.

    Parameters
    ----------
    reading_pct : float
        What the meter shows [%].
    temperature_c : float
        Temperature of the wood [degC].
    table : Sequence[tuple[float, Sequence[tuple[float, float]]]]
        Temperature, rising, with its pairs of reading and corrected content
        [degC, %, %].

    Returns
    -------
    float
        Content at the meter's calibration temperature [%].

    Raises
    ------
    ValueError
        If temperature or reading is outside the table.

    References
    ----------
    ASTM D4444-13(2018), temperature correction before species correction (from
    memory); the table itself is the meter maker's.

    Examples
    --------
    >>> cool, warm = [(6, 7), (14, 15)], [(6, 6), (14, 14)]
    >>> temperature_corrected(10, 15, [(10, cool), (20, warm)])
    10.5
    """
    at_least("temperatures in the meter's table", table, 1)
    increasing("temperatures in the meter's table", [row[0] for row in table], "degC")
    around = _rows_around(finite("wood temperature", temperature_c), table)
    at_rows = [(row[0], species_corrected(reading_pct, row[1])) for row in around]
    return interpolate(at_rows, temperature_c, "wood temperature", "degC")


def meter_content(
    reading_pct: float,
    temperature_c: float,
    by_temperature: Sequence[tuple[float, Sequence[tuple[float, float]]]],
    by_species: Sequence[tuple[float, float]],
) -> float:
    """Correct a reading for temperature, then for species.

    Parameters
    ----------
    reading_pct : float
        What the meter shows [%].
    temperature_c : float
        Temperature of the wood [degC].
    by_temperature : Sequence[tuple[float, Sequence[tuple[float, float]]]]
        The meter's temperature table, as in `temperature_corrected` [degC, %, %].
    by_species : Sequence[tuple[float, float]]
        The meter's species table, as in `species_corrected` [%, %].

    Returns
    -------
    float
        Moisture content of the wood [%].

    Raises
    ------
    ValueError
        If temperature, reading or temperature-corrected reading is outside its
        table.

    References
    ----------
    ASTM D4444-13(2018), order of the two corrections (from memory).

    Examples
    --------
    >>> meter_content(10, 20, [(20, [(6, 6), (14, 14)])], [(8, 7.2), (12, 10.8)])
    9.0
    """
    warmed = temperature_corrected(reading_pct, temperature_c, by_temperature)
    return species_corrected(warmed, by_species)


def _rows_around(
    temperature_c: float, table: Sequence[tuple[float, Sequence[tuple[float, float]]]]
) -> Sequence[tuple[float, Sequence[tuple[float, float]]]]:
    # A reading need not lie in the rows that the temperature does not touch.
    exact = [row for row in table if row[0] == temperature_c]
    below = [row for row in table if row[0] < temperature_c][-1:]
    above = [row for row in table if row[0] > temperature_c][:1]
    return exact or [*below, *above]
