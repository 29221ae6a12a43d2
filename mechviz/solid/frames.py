"""Where every solid stands: the pose table's transforms, in space.

The wheel plane lies in the brake's frame as it is. The arm plane is turned by half a turn about its own y axis, since
its outlines are seen from the wheel's side: its +x, the way the rod goes out, is the brake's -x, and its +z points back
to the wheel. Nothing here moves of its own: a body's matrix is its row of `geometry.pose_table`, and a spring's follows
from the two places that hold it.
"""

from collections.abc import Mapping

import numpy as np

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.kinematics import Poses
from geometry.outlines.deforming import chamber_spring_seats, shoe_spring_eyes
from geometry.outlines.parking import power_spring_seats
from geometry.pose_table import pose_table
from mechviz.solid.places import Places

WHEEL_BODIES = frozenset({"ground_wheel", "cam", "shoe_left", "shoe_right", "roller_left", "roller_right"})
SPRINGS = ("chamber_return_spring", "shoe_return_spring", "power_spring")


def arm_plane(brake: Brake, where: Places) -> Array:
    """Return the matrix (4, 4) from the arm plane to the brake's frame."""
    return np.array(
        [
            [-1.0, 0.0, 0.0, 0.0],
            [0.0, 1.0, 0.0, brake.shoe.cam_distance],
            [0.0, 0.0, -1.0, where.arm],
            [0.0, 0.0, 0.0, 1.0],
        ]
    )


def frames(brake: Brake, poses: Poses, where: Places, parking_out: float = 0.0) -> Mapping[str, Array]:
    """Return for each body its matrices (states, 4, 4) from its own frame to the brake's.

    ``parking_out`` is how far (mm) the power spring has pushed its plate out. Rows of a state that cannot exist are
    NaN, but for what never moves.
    """
    table = pose_table(brake, poses).matrices
    plane = arm_plane(brake, where)
    found = {body: _spatial(row) if body in WHEEL_BODIES else plane @ _spatial(row) for body, row in table.items()}
    count = poses.stroke.size
    return found | {
        "shoe_return_spring": _stretched(*shoe_spring_eyes(brake, poses), spring_lengths(brake)["shoe_return_spring"]),
        "chamber_return_spring": plane
        @ _stretched(*chamber_spring_seats(brake, poses), spring_lengths(brake)["chamber_return_spring"]),
        "power_spring": plane @ _parked_spring(brake, parking_out, count),
        "parking_plate": plane @ _shifted(parking_out, count),
    }


def spring_lengths(brake: Brake) -> Mapping[str, float]:
    """Return how long (mm) each spring is made: about as long as it is in the released brake."""
    seats = power_spring_seats(brake, 0.0)
    chamber = brake.chamber.rated_stroke
    return {
        "chamber_return_spring": 1.16 * chamber,
        "shoe_return_spring": brake.new_radius,
        "power_spring": float(np.linalg.norm(seats[1] - seats[0])),
    }


def _spatial(rows: Array) -> Array:
    """The rows (n, 6) of the pose table as matrices (n, 4, 4)."""
    matrices = np.zeros((len(rows), 4, 4))
    matrices[:, 0, 0], matrices[:, 1, 0] = rows[:, 0], rows[:, 1]
    matrices[:, 0, 1], matrices[:, 1, 1] = rows[:, 2], rows[:, 3]
    matrices[:, 0, 3], matrices[:, 1, 3] = rows[:, 4], rows[:, 5]
    matrices[:, 2, 2] = matrices[:, 3, 3] = 1.0
    return matrices


def _stretched(start: Array, end: Array, length: float) -> Array:
    """Matrices (n, 4, 4) that carry what lies along x from 0 to ``length`` to between two places (n, 2) of a plane."""
    way = end - start
    reach = np.linalg.norm(way, axis=-1)
    cosine, sine = way[:, 0] / reach, way[:, 1] / reach
    share = reach / length
    matrices = _spatial(np.column_stack([cosine, sine, -sine, cosine, start]))
    matrices[:, :2, 0] *= share[:, np.newaxis]
    return matrices


def _parked_spring(brake: Brake, out: float, count: int) -> Array:
    start, end = (np.tile(place, (count, 1)) for place in power_spring_seats(brake, out))
    return _stretched(start, end, spring_lengths(brake)["power_spring"])


def _shifted(out: float, count: int) -> Array:
    matrices = np.tile(np.eye(4), (count, 1, 1))
    matrices[:, 0, 3] = out
    return matrices
