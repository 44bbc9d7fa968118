"""Specific gravity and density of wood at a moisture content."""

from records.engineering.validity import positive, within

_WATER_KG_M3 = 1000.0
_CELL_WALL_GRAVITY = 1.54
_FIBRE_SATURATION_PCT = 30.0


def density_at(specific_gravity: float, moisture_pct: float) -> float:
    """Find the density of moist wood from its specific gravity.

    Parameters
    ----------
    specific_gravity : float
        Oven-dry mass over volume at that moisture, to water [-].
    moisture_pct : float
        Moisture content [%].

    Returns
    -------
    float
        Mass with its water over volume [kg/m3].

    Raises
    ------
    ValueError
        If the specific gravity is not above 0 or is above 1.54, that of the cell
        wall, or the wood can't hold that much water.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), ch. 4, density and Table 4-6a (read in
    transcription).

    Examples
    --------
    >>> density_at(0.60, 12)
    672.0
    """
    gravity = _gravity(specific_gravity)
    moisture = _content(gravity, moisture_pct)
    return _WATER_KG_M3 * gravity * (1 + moisture / 100)


def gravity_at(basic_gravity: float, moisture_pct: float) -> float:
    """Find the specific gravity at a moisture content from the basic one.

    Wood does not shrink above fibre saturation (30 %), so there the basic specific
    gravity holds.

    Parameters
    ----------
    basic_gravity : float
        Oven-dry mass over green volume, to water [-].
    moisture_pct : float
        Moisture content [%].

    Returns
    -------
    float
        Oven-dry mass over volume at that moisture, to water [-].

    Raises
    ------
    ValueError
        If the specific gravity is not above 0 or is above 1.54, that of the cell
        wall, or the wood can't hold that much water.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-9 to 4-13 (read in transcription). Its
    worked example, white ash 0.55, prints 0.605 at 12 %; the equation gives 0.603.

    Examples
    --------
    >>> gravity_at(0.55, 12)
    0.603
    """
    basic = _gravity(basic_gravity)
    moisture = _content(basic, moisture_pct)
    if moisture >= _FIBRE_SATURATION_PCT:
        return basic
    return basic / (1 - 0.265 * basic * (1 - moisture / _FIBRE_SATURATION_PCT))


def maximum_moisture(basic_gravity: float) -> float:
    """Find the moisture content of wood with every cavity full of water.

    Parameters
    ----------
    basic_gravity : float
        Oven-dry mass over green volume, to water [-].

    Returns
    -------
    float
        The highest moisture content that wood can have [%].

    Raises
    ------
    ValueError
        If the specific gravity is not above 0 or is above 1.54, that of the cell
        wall.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-3 (read in transcription; its prose
    rounds with 1.50 for 1.54).

    Examples
    --------
    >>> maximum_moisture(0.30)
    268.4
    """
    basic = _gravity(basic_gravity)
    return 100 * (_CELL_WALL_GRAVITY - basic) / (_CELL_WALL_GRAVITY * basic)


def _gravity(value: float) -> float:
    positive("specific gravity", value, "-")
    return within("specific gravity", value, 0, _CELL_WALL_GRAVITY, "-")


def _content(gravity: float, moisture_pct: float) -> float:
    most = maximum_moisture(gravity)
    return within("moisture content", moisture_pct, 0, most, "%")
