"""Forefoot share, lever and Achilles force: the foot at rest as a stiff beam in side view.

Symbols: a heel contact behind and b forefoot contact in front of the ankle (mm), c centre of
pressure in front of the ankle (mm), N load on the foot (N), d arm of the Achilles tendon (mm),
H height of the ankle over the metatarsal heads (mm). No weight of the foot, no other muscle.
"""

from math import cos, radians, sin

from footexam.mechanics.reach import above, not_below_zero, within

MOST_RAISED_DEG = 40
MOST_PITCH_DEG = 20
MOST_LEAN_DEG = 5


def weight_n(mass_kg: float, gravity_n_kg: float) -> float:
    """The weight of a mass.

    W = m · g, with m mass (kg) and g gravity (N/kg).
    Assumes: standing on the Earth.
    Holds: m and g above 0.
    Class: geometry. Source: physics; figure “gravity”.
    """
    above("Body mass", mass_kg, "kg")
    above("Gravity", gravity_n_kg, "N/kg")
    return mass_kg * gravity_n_kg


def forefoot_share(heel_mm: float, forefoot_mm: float, pressure_centre_mm: float) -> float:
    """The share of the load on the foot that the forefoot carries, 0 to 1.

    s = (a + c) / (a + b).
    Assumes: two points of contact, the midfoot carries nothing.
    Holds: a + b above 0 and c from -a to b.
    Class: model. Source: statics; figures “ankle-to-heel”, “ankle-to-forefoot”.
    """
    above("The distance from heel to forefoot", heel_mm + forefoot_mm, "mm")
    within("The centre of pressure", pressure_centre_mm, -heel_mm, forefoot_mm, "mm")
    return (heel_mm + pressure_centre_mm) / (heel_mm + forefoot_mm)


def achilles_force_n(load_n: float, ahead_mm: float, arm_mm: float) -> float:
    """The force of the Achilles tendon that holds a load in front of the ankle.

    F = N · c / d, with c how far in front of the ankle the load acts (mm).
    Assumes: this tendon alone, nothing pulling against it; d itself changes F by a third.
    Holds: N and c from 0, d above 0.
    Class: model. Source: statics; arm Manal 2013 and Maganaris 2000, figure “achilles-arm”.
    """
    not_below_zero("The load", load_n, "N")
    not_below_zero("The distance in front of the ankle", ahead_mm, "mm")
    above("The arm of the Achilles tendon", arm_mm, "mm")
    return load_n * ahead_mm / arm_mm


def leaning_centre_mm(upright_mm: float, mass_height_mm: float, lean_deg: float) -> float:
    """Where the centre of pressure goes when the body leans forwards as one piece.

    c = c0 + z · sin λ, with c0 upright and z height of the mass centre over the ankle (mm), λ lean.
    Assumes: a stiff body turning at the ankle, and slowly.
    Holds: z above 0, λ from 0 to 5 degrees.
    Class: model. Source: statics; figures “pressure-centre”, “mass-centre-height”.
    """
    above("The height of the mass centre", mass_height_mm, "mm")
    within("The lean", lean_deg, 0, MOST_LEAN_DEG, "deg")
    return upright_mm + mass_height_mm * sin(radians(lean_deg))


def raised_lever_mm(forefoot_mm: float, ankle_height_mm: float, raised_deg: float) -> float:
    """How far the metatarsal heads lie in front of the ankle when the heel is raised on them.

    l = b · cos φ - H · sin φ, with φ how far the heel is raised (degrees).
    Assumes: the foot stiff between ankle and heads.
    Holds: φ from 0 to 40 degrees and l above 0.
    Class: model. Source: statics; figures “ankle-to-forefoot”, “ankle-height”.
    """
    above("The distance from ankle to forefoot", forefoot_mm, "mm")
    not_below_zero("The height of the ankle", ankle_height_mm, "mm")
    within("How far the heel is raised", raised_deg, 0, MOST_RAISED_DEG, "deg")
    angle = radians(raised_deg)
    lever = forefoot_mm * cos(angle) - ankle_height_mm * sin(angle)
    above("The lever of the forefoot", lever, "mm")
    return lever


def pitched_share(
    heel_mm: float,
    forefoot_mm: float,
    ankle_height_mm: float,
    pressure_centre_mm: float,
    pitch_deg: float,
) -> float:
    """The forefoot's share over a heel that is higher, by the pitch of the foot.

    s = (a' + c) / (a' + b'), a' = a · cos p + H · sin p, b' = b · cos p - H · sin p, p pitch.
    Assumes: the centre of pressure stays below the same point of the body.
    Holds: p from 0 to 20 degrees, c from -a' to b'.
    Class: model; the direction agrees with heel-height measurements (PMC5890200). Source: statics.
    """
    within("The pitch of the foot", pitch_deg, 0, MOST_PITCH_DEG, "deg")
    forward = raised_lever_mm(forefoot_mm, ankle_height_mm, pitch_deg)
    angle = radians(pitch_deg)
    back = heel_mm * cos(angle) + ankle_height_mm * sin(angle)
    return forefoot_share(back, forward, pressure_centre_mm)


def push_off_force_n(mass_kg: float, moment_nm_kg: float, arm_mm: float) -> float:
    """The force of the Achilles tendon at push-off in walking, from the moment at the ankle.

    F = μ · m · 1000 / d, with μ moment by body mass (N m/kg), m mass (kg) and d arm (mm).
    Assumes: as achilles_force_n; the mean moment of one study is true of this person.
    Holds: all above 0.
    Class: model. Source: moment Sobhani 2015 (worked back), figure “push-off-moment”.
    """
    above("Body mass", mass_kg, "kg")
    above("The moment at push-off", moment_nm_kg, "N m/kg")
    above("The arm of the Achilles tendon", arm_mm, "mm")
    return moment_nm_kg * mass_kg * 1000 / arm_mm
