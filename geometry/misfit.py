"""Which of many brakes cannot be put together, and why: `geometry.fit` for arrays, a code in place of a finding."""

import numpy as np
from numpy.typing import NDArray

from geometry.brake import Brake
from geometry.cam_train import follows
from geometry.fit import clears_anchor, fits_new, stays_short
from geometry.linkage import closes
from geometry.reasons import Reason, first_reason


def misfits(brake: Brake) -> NDArray[np.int8]:
    """Return the `Reason` why each brake cannot be put together, in the order of the chain of motion.

    It asks what `geometry.fit.fit_findings` asks of the parts alone. How a brake is worn and set is another matter,
    which the solver tells.
    """
    with np.errstate(all="ignore"):
        tests = [
            (~closes(brake.linkage, 0.0), Reason.LINKAGE_OPEN),
            (~stays_short(brake), Reason.PUSHROD_PAST_CAMSHAFT),
            (~clears_anchor(brake), Reason.LINING_PAST_ANCHOR),
            (~follows(brake.profile, brake.shoe), Reason.CAM_CANNOT_SPREAD),
            (~fits_new(brake), Reason.CAM_OFF_NEW_LINING),
        ]
    return first_reason([(np.asarray(where), code) for where, code in tests])
