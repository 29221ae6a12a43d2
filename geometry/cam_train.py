"""From cam to shoe: which cam angle puts a roller where, and, turned round, where a cam angle puts a roller.

The cam is point-symmetric and the shoes are mirror images: in the outward frame of the right shoe the cam turns
counter-clockwise, in that of the left one clockwise. With delta the roller's direction seen from the camshaft in the
outward frame, and kappa its angle on the pitch curve, the cam angle is

    gamma = delta - kappa  (right)        gamma = -delta - kappa  (left, riding the second arm)

Everything is explicit in the profile's parameter. A cam angle is turned back into the parameter by a cubic Hermite
table; where the table is not exact (which is looked at when it is made) Newton's method follows, inside the table's own
interval, which brackets the root because gamma rises with the parameter. Of many brakes at once there are no tables:
Newton's method starts from one cubic over the whole profile.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import CHUNK, Array, Mask, floats
from geometry.brake import SIDES, Side, turn_sense
from geometry.cam import Pitch, Profile, on_working_profile
from geometry.errors import AssemblyError, Fault
from geometry.many import arrays_of, is_many, remembered, taken
from geometry.root import bracketed_newton
from geometry.shoe import RollerPlace, Shoe, distance_at_turn, roller_at_distance

NODES = 2049
TRIALS = 4 * NODES
"""Places along the cam at which a roller must move outwards."""
POLISH = 1e-9
"""Newton's last step, rad: its error is about the square of this."""

EXACT = 1e-13
"""A table no farther off than this between its nodes (rad of cam angle: some 1e-12 mm at a roller) is taken as it is.
That of a smooth profile is some 1e-14, which is what Newton's method would leave."""


SPARE = 1e-9
"""How far an angle may lie past an end by rounding alone, in steps between two nodes."""


@dataclass(frozen=True)
class Ride:
    """A roller riding the cam: the pitch curve there, the roller's place, the cam angle and d(angle)/d(parameter)."""

    pitch: Pitch
    place: RollerPlace
    angle: Array
    angle_slope: Array


def ride(profile: Profile, shoe: Shoe, side: Side, parameter: Array) -> Ride:
    """Return the ride at each profile parameter; NaN where the shoe's roller cannot get there."""
    pitch = profile.pitch(parameter, shoe.roller_radius)
    place = roller_at_distance(shoe, pitch.distance)
    sense = turn_sense(side)
    squared = pitch.distance**2
    arm_x, arm_y = place.y + shoe.cam_distance - shoe.anchor[1], shoe.anchor[0] - place.x
    with np.errstate(invalid="ignore"):
        swing = (place.x * arm_y - place.y * arm_x) / squared * place.turn_slope * pitch.distance_slope
    angle = sense * np.arctan2(place.y, place.x) - pitch.angle
    return Ride(pitch, place, angle, sense * swing - pitch.angle_slope)


def angles_at_turn(profile: Profile, shoe: Shoe, turn: Array) -> tuple[Array, Array]:
    """Return the cam angles (rad) that put the left and the right shoe at a turn beta (rad); NaN off the profile."""
    distance = distance_at_turn(shoe, turn)
    parameter = on_working_profile(profile, profile.parameter_at(distance, shoe.roller_radius))
    pitch = profile.pitch(parameter, shoe.roller_radius)
    place = roller_at_distance(shoe, pitch.distance)
    bearing = np.arctan2(place.y, place.x)
    left, right = (turn_sense(side) * bearing - pitch.angle for side in SIDES)
    return left, right


@dataclass(frozen=True)
class RideTable:
    """Parameters at evenly spaced cam angles, from the heel to the tip, and the cubic (4, n - 1) from each to the next.

    ``exact`` says whether the cubics are as near as `EXACT`.
    """

    heel_angle: float
    tip_angle: float
    parameter: Array
    cubic: Array
    exact: bool

    @property
    def step(self) -> float:
        """Cam angle between two nodes, rad."""
        return (self.tip_angle - self.heel_angle) / (NODES - 1)

    def between(self, node: NDArray[np.intp], u: Array) -> Array:
        """Return the parameter at a share ``u`` of the way from a node to the next."""
        start, first, second, third = (row[node] for row in self.cubic)
        return start + u * (first + u * (second + u * third))


@lru_cache(maxsize=256)
def ride_table(profile: Profile, shoe: Shoe, side: Side) -> RideTable:
    """Return the table for one side of a brake. Raises `AssemblyError` where the roller cannot follow the cam."""
    low, high, within = _reachable(profile, shoe)
    if not within:
        raise AssemblyError(_no_follow(shoe))
    trial = ride(profile, shoe, side, np.linspace(low, high, TRIALS))
    if not np.all(trial.angle_slope > 0):
        raise AssemblyError(_no_follow(shoe))
    angles = floats(np.linspace(float(trial.angle[0]), float(trial.angle[-1]), NODES))
    guess = floats(np.interp(angles, trial.angle, np.linspace(low, high, TRIALS)))

    def excess(parameter: Array) -> tuple[Array, Array]:
        at = ride(profile, shoe, side, parameter)
        return at.angle - angles, at.angle_slope

    inner = bracketed_newton(excess, np.full(NODES, low), np.full(NODES, high), guess, POLISH)
    parameter = np.concatenate([low[np.newaxis], inner[1:-1], high[np.newaxis]])
    slope = 1 / ride(profile, shoe, side, parameter).angle_slope
    cubic = _cubics(parameter, slope * (float(angles[-1]) - float(angles[0])) / (NODES - 1))
    parameter.flags.writeable = cubic.flags.writeable = False
    table = RideTable(float(angles[0]), float(angles[-1]), parameter, cubic, exact=False)
    return replace(table, exact=_farthest_off(table, profile, shoe, side) < EXACT)


def _cubics(parameter: Array, slope: Array) -> Array:
    """The cubic Hermite coefficients from each node to the next; ``slope`` is for one such step."""
    rise, start, end = np.diff(parameter), slope[:-1], slope[1:]
    return np.array([parameter[:-1], start, 3 * rise - 2 * start - end, start + end - 2 * rise])


def _farthest_off(table: RideTable, profile: Profile, shoe: Shoe, side: Side) -> float:
    """How far off (rad) the cam angle is that a table's cubics lead to, at three places between any two nodes."""
    node, u = np.meshgrid(np.arange(NODES - 1), [0.25, 0.5, 0.75])
    off = ride(profile, shoe, side, table.between(node, u)).angle - (table.heel_angle + (node + u) * table.step)
    return float(np.max(np.abs(off)))


def _reachable(profile: Profile, shoe: Shoe) -> tuple[Array, Array, Mask]:
    """The working profile, cut where the roller would have to pass between camshaft and anchor; is any of it left."""
    heel, tip = (floats(end) for end in profile.working)
    nearest, farthest = np.abs(shoe.radius - shoe.span) * (1 + 1e-9), shoe.radius + shoe.span
    low, high = (profile.pitch(end, shoe.roller_radius).distance for end in (heel, tip))
    first = profile.parameter_at(np.maximum(nearest, low), shoe.roller_radius)
    last = profile.parameter_at(np.minimum(farthest, high), shoe.roller_radius)
    return np.fmax(heel, first), np.fmin(tip, last), np.asarray((high > nearest) & (low < farthest))


def _no_follow(shoe: Shoe) -> Fault:
    return Fault(
        "foundation.roller_distance",
        "the roller does not move outwards all along the cam's profile, so the cam cannot spread the shoes",
        "a roller_distance near the cam_distance, and anchors well below the camshaft",
        shoe.roller_distance,
        most=shoe.cam_distance,
        least=shoe.cam_distance,
    )


def parameter_at_angle(profile: Profile, shoe: Shoe, side: Side, angle: Array) -> Array:
    """Return the profile parameter at which the shoe's roller rides at each cam angle (rad); NaN off the profile."""
    if is_many(profile) or is_many(shoe):
        return _found_at_angle(profile, shoe, side, angle)
    table = ride_table(profile, shoe, side)
    place = (angle - table.heel_angle) / table.step
    with np.errstate(invalid="ignore"):
        inside = (place >= -SPARE) & (place <= NODES - 1 + SPARE)
    node = np.minimum(np.maximum(np.where(inside, place, 0), 0), NODES - 2).astype(np.intp)
    guess = table.between(node, np.minimum(np.maximum(place - node, 0.0), 1.0))
    if table.exact:
        return np.where(inside, guess, np.nan)

    def excess(parameter: Array) -> tuple[Array, Array]:
        at = ride(profile, shoe, side, parameter)
        return at.angle - angle, at.angle_slope

    low, high = table.parameter[node], table.parameter[node + 1]
    root = bracketed_newton(excess, low, high, guess, POLISH, proven=True)
    return np.where(inside, root, np.nan)


@dataclass(frozen=True)
class RideEnds:
    """The profile's parameters, cam angles (rad) and d(parameter)/d(angle) with the roller on heel and on tip."""

    low: Array
    high: Array
    heel_angle: Array
    tip_angle: Array
    low_slope: Array
    high_slope: Array


@remembered
def ride_ends(profile: Profile, shoe: Shoe, side: Side) -> RideEnds:
    """Return the ends of a side's ride; of many brakes NaN for those whose roller cannot follow the cam.

    Raises `AssemblyError` where that is the only brake there is.
    """
    if not (is_many(profile) or is_many(shoe)):
        ride_table(profile, shoe, side)
    low, high, _ = _reachable(profile, shoe)
    spreads = follows(profile, shoe)
    low, high = np.where(spreads, low, np.nan), np.where(spreads, high, np.nan)
    heel, tip = (ride(profile, shoe, side, end) for end in (low, high))
    return RideEnds(low, high, heel.angle, tip.angle, 1 / heel.angle_slope, 1 / tip.angle_slope)


def _found_at_angle(profile: Profile, shoe: Shoe, side: Side, angle: Array) -> Array:
    """As `parameter_at_angle`, for many brakes."""
    ends = ride_ends(profile, shoe, side)
    whole = ends.tip_angle - ends.heel_angle
    past = np.maximum(ends.heel_angle - angle, angle - ends.tip_angle)
    aim = np.where(past <= SPARE * whole / (NODES - 1), np.clip(angle, ends.heel_angle, ends.tip_angle), np.nan)

    def excess(parameter: Array) -> tuple[Array, Array]:
        at = ride(profile, shoe, side, parameter)
        return at.angle - aim, at.angle_slope

    u, rise = (aim - ends.heel_angle) / whole, ends.high - ends.low
    start, end = ends.low_slope * whole, ends.high_slope * whole
    guess = ends.low + u * (start + u * (3 * rise - 2 * start - end + u * (start + end - 2 * rise)))
    root = bracketed_newton(excess, ends.low, ends.high, guess, POLISH, proven=True)
    return np.where(np.isnan(aim), np.nan, root)


@remembered
def follows(profile: Profile, shoe: Shoe) -> Mask:
    """Tell of many brakes which rollers move outwards all along the cam, as `ride_table` asks of one: true for one.

    The slope of the cam's angle is looked at in few places where it is far from nothing everywhere, and in more and
    more where it is not; in the last of `TRIALS`, as of one brake.
    """
    if not (is_many(profile) or is_many(shoe)):
        return np.array(True)
    figures = [*arrays_of(profile).values(), *arrays_of(shoe).values()]
    low, high, within, *_ = np.broadcast_arrays(*_reachable(profile, shoe), *figures)
    good, still = np.zeros(within.shape, dtype=bool), np.array(within)
    for places, share in ((5, 0.5), (55, 0.1), (745, 0.01), (TRIALS - 1, 0.0)):
        least, most = _slopes(
            taken(profile, still), taken(shoe, still), low[still], high[still], places * profile.pieces
        )
        sure = np.where(least > share * most, least > 0, False)
        open_still = (least > 0) & ~sure
        good[still] = sure
        still[still] = open_still
        if not still.any():
            break
    return good


def _slopes(profile: Profile, shoe: Shoe, low: Array, high: Array, places: int) -> tuple[Array, Array]:
    """The least and greatest d(cam angle)/d(parameter) of both sides, from end to end."""
    least, most = np.full_like(low, np.inf), np.full_like(low, -np.inf)
    shares = np.linspace(0.0, 1.0, places + 1)[:, np.newaxis]
    for some in np.array_split(shares, min(shares.size, 1 + shares.size * low.size // CHUNK)):
        at = ride(profile, shoe, "right", low + some * (high - low))
        swing = np.abs(at.angle_slope + at.pitch.angle_slope)  # which has another sign on the other side
        least = np.minimum(least, np.min(-at.pitch.angle_slope - swing, axis=0))
        most = np.maximum(most, np.max(swing - at.pitch.angle_slope, axis=0))
    return least, most
