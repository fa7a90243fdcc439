"""Work in a copy of this process while this one goes on: the other core of the machine has nothing to do."""

from __future__ import annotations

import os
import pickle
import sys
import warnings
from collections.abc import Callable
from typing import NoReturn, TypeVar

Outcome = TypeVar("Outcome")


def beside(work: Callable[[], Outcome]) -> Callable[[], Outcome]:
    """Begin work beside this process and return what waits for its outcome.

    Where the system has no cheap copies of a process, and where the copy fails or dies, the work is done here when its
    outcome is asked for: then it raises here what there is to raise. What the work changes is lost with the copy, so
    it must do nothing but return; the outcome must be of a kind that ``pickle`` takes.
    """
    if not (sys.platform == "linux" and (os.cpu_count() or 1) > 1):
        return work
    reading, writing = os.pipe()
    with warnings.catch_warnings():
        # later Pythons warn of other threads: numpy's stand idle, and this program leaves none running
        warnings.simplefilter("ignore", DeprecationWarning)
        copy = os.fork()
    if copy == 0:
        _answer(work, writing)
    os.close(writing)

    def wait() -> Outcome:
        with os.fdopen(reading, "rb") as pipe:
            answer = pipe.read()
        os.waitpid(copy, 0)
        outcome: Outcome = pickle.loads(answer) if answer else work()
        return outcome

    return wait


def _answer(work: Callable[[], object], writing: int) -> NoReturn:
    """Do the work in the copy, hand over its outcome, and end without a trace: no buffer flushed, no file removed."""
    try:
        answer = pickle.dumps(work(), pickle.HIGHEST_PROTOCOL)
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(answer)
    finally:
        os._exit(0)
