"""What nature and arithmetic say: the calculations of the trade, in plain Python.

Every public function states the unit of each parameter and result in brackets,
``[-]`` for a bare number, and its source with edition and equation. What is outside
the range of that source is refused with a sentence; nothing is clamped and no table
is carried past its ends. Results are floats in the unit that the name ends with;
readings and limits stay ``Decimal`` (`units`, `decision`).

Nomenclature
------------

Wood and moisture (`moisture`, `moisture_meter`, `wood`, `wood_density`,
`wood_species`, `shrinkage`)

=========  ===================================================  ==============
symbol     meaning                                              unit
=========  ===================================================  ==============
MC         moisture content on the oven-dry mass                %
EMC        equilibrium moisture content                         %
RH, h      relative humidity; the same as a fraction            %; -
T          temperature of air, wood or glue line                degC
W          molar mass term of the sorption equation             -
K, K1, K2  equilibrium constants of the sorption equation       -
G          specific gravity, oven-dry mass to water             -
G_b        basic specific gravity, on the green volume          -
rho        density with its moisture                            kg/m3
S          shrinkage from green to oven-dry                     %
C_R, C_T   dimensional change coefficient, radial, tangential   1 per % of MC
theta      angle of growth rings to the wide face, or of grain  deg
P, Q       strength along and across the grain                  any, the same
n          exponent of Hankinson's formula                      -
M_p        moisture content where strength begins to rise       %
=========  ===================================================  ==============

Glue and press (`gluing`, `gluing_plan`, `gluing_times`, `gluing_windows`, `curing`,
`histories`, `pressing`, `pressing_screws`, `coupons`)

=========  ===================================================  ==============
symbol     meaning                                              unit
=========  ===================================================  ==============
r          mix ratio, hardener or water to resin, by mass       %
A          glued area of one joint                              m2
q          spread, mass of mixed glue per area of glue line     g/m2
t          time; working life, open and closed assembly time    s
t(T)       maker's press time at a temperature                  s
F          fraction cured, sum of dt / t(T)                     -
p          mean pressure on the glue line                       Pa
p_gauge    pressure on the hydraulic gauge                      Pa
d          bore of a ram; nominal diameter of a thread          m
K          nut factor, friction of thread and collar            -
tau        shear strength of a coupon                           MPa
=========  ===================================================  ==============

Blade (`geometry`, `planform`, `section`, `quadrature`, `track`)

=========  ===================================================  ==============
symbol     meaning                                              unit
=========  ===================================================  ==============
r, R       radius of a station; radius of the tip               mm
x          r / R                                                -
D          diameter                                             mm
beta       blade angle at a station                             deg
p          geometric pitch, 2 pi r tan(beta)                    mm
c          chord                                                mm
t          thickness of a section                               mm
B          number of blades                                     pieces
AF         activity factor of one blade                         -
=========  ===================================================  ==============

Balance (`balance`, `balance_trial`, `balance_stand`, `balance_permissible`,
`balance_correction`, `layup`, `layup_flips`, `layup_order`)

=========  ===================================================  ==============
symbol     meaning                                              unit
=========  ===================================================  ==============
U          static unbalance, mass times radius, a vector        g.mm
m          mass of the propeller; of a correction               kg; g
e_per      permissible residual specific unbalance              um
U_per      permissible residual unbalance                       g.mm
G          balance quality grade, e_per times omega             mm/s
omega, n   angular and rotational speed                         rad/s; rpm
=========  ===================================================  ==============

Figures and verdicts (`spc_charts`, `spc_rules`, `spc_capability`, `spc_conclusion`,
`uncertainty`, `uncertainty_combination`, `decision`, `risk`, `calibration`)

=========  ===================================================  ==============
symbol     meaning                                              unit
=========  ===================================================  ==============
x          a reading                                            any
u, U       standard and expanded uncertainty                    of the reading
k          coverage factor                                      -
nu         degrees of freedom                                   -
T_L, T_U   lower and upper limit                                of the reading
w          guard band                                           of the reading
p_c        probability of conformity                            -
sigma      standard deviation of a process                      of the reading
MR         moving range of two readings                         of the reading
lambda     weight of the newest reading in an EWMA              -
Cp, Cpk    capability indices; Cpm about a target               -
=========  ===================================================  ==============
"""
