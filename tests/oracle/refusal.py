"""The one error of the oracle."""


class RefusedError(Exception):
    """The brake, or the state asked for, does not exist.

    Parameters
    ----------
    part : str
        Short name of what fails: ``linkage``, ``cam``, ``cam.heel``, ``cam.tip``, ``lining``, ``adjuster``, ``shoe``.
    reason : str
        What is wrong, in words.
    """

    def __init__(self, part: str, reason: str):
        super().__init__(f"{part}: {reason}")
        self.part = part
        self.reason = reason
