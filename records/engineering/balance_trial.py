"""Unbalance from two indications, without and with a trial mass.

Any balancer will do whose indication grows with the unbalance and turns with it:
vibration amplitude and phase with the engine running, or the bubble of a stand.
Runs with the engine on follow the balancer's and the engine maker's instructions.
"""

import cmath
import math
from dataclasses import dataclass
from typing import Final

from records.engineering.balance import PointMass, Unbalance, unbalance_of
from records.engineering.validity import finite, not_negative, positive

# Below this the trial mass tells no more than the scatter of the readings does:
# common practice, no source.
LEAST_CHANGE: Final = 0.01


@dataclass(frozen=True, slots=True)
class Indication:
    """What a balancer shows.

    Attributes
    ----------
    amplitude : float
        Size of the indication, 0 or more [any one unit].
    phase_deg : float
        Its direction, by the balancer's own zero, rising in the order of the
        blade numbers [deg].
    """

    amplitude: float
    phase_deg: float


def unbalance_from_trial_mass(
    without: Indication, with_trial: Indication, trial: PointMass
) -> Unbalance:
    """Return the unbalance from the indications without and with a trial mass.

    Parameters
    ----------
    without : Indication
        Indication of the propeller as it is [any one unit, deg].
    with_trial : Indication
        Indication with the trial mass fitted, all else equal [same unit, deg].
    trial : PointMass
        Trial mass and where it was fitted [g, mm, deg].

    Returns
    -------
    Unbalance
        Unbalance without the trial mass [g.mm].

    Raises
    ------
    ValueError
        If the trial mass changes the indication by less than 1 % of the larger
        one, an amplitude is negative, the trial mass or its radius is not above
        zero, or a number is not finite.

    References
    ----------
    Influence coefficient in one plane: V0 = a U, V1 = a (U + T), hence
    U = T V0 / (V1 - V0). ISO 21940-2 has the terms (from memory).

    Examples
    --------
    A trial mass fitted just opposite the heavy spot halves the indication, so the
    unbalance is twice the trial's:

    >>> found = unbalance_from_trial_mass(
    ...     Indication(0.4, 50), Indication(0.2, 50), PointMass(10, 100, 210)
    ... )
    >>> found.amount_g_mm, found.angle_deg
    (2000.0, 30.0)
    """
    first, second = _complex(without), _complex(with_trial)
    positive("trial mass", trial.mass_g, "g")
    positive("radius of the trial mass", trial.radius_mm, "mm")
    change = abs(second - first)
    if change <= LEAST_CHANGE * max(abs(first), abs(second)):
        raise ValueError(
            f"the trial mass changed the indication by {change:.3g} only: "
            "fit a larger one, or fit it elsewhere, and read again"
        )
    fitted = unbalance_of(trial)
    unbalance = (
        complex(fitted.along_g_mm, fitted.across_g_mm) * first / (second - first)
    )
    return Unbalance(unbalance.real, unbalance.imag)


def _complex(indication: Indication) -> complex:
    amplitude = not_negative("indication", indication.amplitude, "-")
    phase = finite("phase of the indication", indication.phase_deg)
    return cmath.rect(amplitude, math.radians(phase))
