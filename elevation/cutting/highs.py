"""The solver: one thread, fixed seed, no word on the screen. Imported by ``master`` only, when it is first needed."""

from __future__ import annotations

import highspy

INFINITE: float = highspy.kHighsInf
INTEGER = highspy.HighsVarType.kInteger
OPTIMAL = highspy.HighsModelStatus.kOptimal


class _Silent(highspy.Highs):  # type: ignore[misc]
    """A solver that says nothing; the making of a plain one prints a banner to standard output once per process."""

    def enableCallbacks(self) -> None:  # noqa: N802 - the solver's own name, called while it is made
        self.silent()
        super().enableCallbacks()


def empty_model() -> highspy.Highs:
    """Return a problem without rows or columns."""
    model = _Silent()
    for name, value in (("output_flag", False), ("threads", 1), ("parallel", "off"), ("random_seed", 1)):
        model.setOptionValue(name, value)
    return model
